/** The next step as a tie-on label: where it leads, and under that what is left. It is never disabled. */

import type { ComponentChildren } from "preact";
import { attempt } from "./notices.tsx";

type TieOnOf = {
  /** Where it leads, in words. */
  children: ComponentChildren;
  /** What is left, or what comes after. */
  left?: ComponentChildren;
  /** The address that it leads to, or what a press does. */
} & ({ href: string; press?: undefined } | { press: () => unknown; href?: undefined });

export function TieOn({ children, left, href, press }: TieOnOf) {
  const words = (
    <>
      <span class="leads-to">{children}</span>
      {left && <small>{left}</small>}
    </>
  );
  if (href !== undefined)
    return (
      <a class="tie-on" href={href}>
        {words}
      </a>
    );
  return (
    <button type="button" class="tie-on" onClick={() => attempt(async () => press())}>
      {words}
    </button>
  );
}
