/** Enter in a line of a form goes on to its next field; in a box of several lines it begins a new line. */
import type { JSX } from "preact";

export function enterGoesOn(event: JSX.TargetedKeyboardEvent<HTMLElement>) {
  const field = event.target;
  if (event.key !== "Enter" || !(field instanceof HTMLInputElement)) return;
  const fields = [...event.currentTarget.querySelectorAll<HTMLElement>("input, textarea")];
  const next = fields[fields.indexOf(field) + 1];
  if (next) next.focus();
  else field.blur();
}
