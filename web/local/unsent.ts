/**
 * Words that were typed into a form which had to leave this device before it became an operation: nobody else has them.
 * They stay until somebody here has read them. A signature that was begun does not: it signs nothing, and no owner
 * gave it for keeping.
 */
import { thingName } from "../job/custody.ts";
import { enteredWords } from "../job/entered_words.ts";
import { fieldValue } from "../job/values.ts";
import { type Writing, write } from "./changes.ts";
import type { HeldForm } from "./database.ts";
import { record, recordOf } from "./memory.ts";

/** Of which form, and of whose ticket if that was known; what was typed, whether somebody had signed; when it left. */
export type Unsent = { of: string; ticket: string; words: string[]; was_signed: boolean; at: string };

const ID = /[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}/;
/**
 * What is no word that is nowhere else: a signature, a code, who helped, zones by their keys; and what a porter does is
 * done at once.
 */
const NO_WORDS: ReadonlySet<string> = new Set([
  ...["strokes", "signed_by"],
  ...["from", "label", "code", "second"],
  ...["aim", "scanned", "zones"],
]);

/** A first signature under a day's closing, and a closing that was begun: nobody enters those elsewhere. */
export const isOfClosing = (name: string) => /^(signed|close) /.test(name);

/** Keep what was typed into a form that leaves, with what an earlier one of the same name had. */
export async function keepUnsent(tx: Writing, { name, entered }: HeldForm) {
  if (isOfClosing(name)) return;
  const { strokes, label } = (entered ?? {}) as { strokes?: string; label?: string };
  const words = wordsIn(entered);
  if (!words.length && !strokes) return;
  const all = (await tx.setting("unsent")) ?? {};
  const before = all[name];
  const earlier = (before?.words ?? []).filter((word) => !words.some((now) => now.includes(word)));
  const unsent: Unsent = {
    of: label ?? calledBy(name),
    ticket: ticketOf(name) || (before?.ticket ?? ""),
    words: [...earlier, ...words],
    was_signed: Boolean(strokes || before?.was_signed),
    at: new Date().toISOString(),
  };
  await tx.remember("unsent", { ...all, [name]: unsent });
}

/** Let go of those that have any of these in their names. */
export async function dropUnsentOf(tx: Writing, ids: readonly string[]) {
  const all = Object.entries((await tx.setting("unsent")) ?? {});
  const stay = all.filter(([name]) => !ids.some((id) => name.includes(id)));
  if (stay.length < all.length) await tx.remember("unsent", Object.fromEntries(stay));
}

/** Somebody has read it. */
export function setUnsentAside(name: string) {
  return write(["setting"], (tx) => dropUnsentOf(tx, [name]));
}

function wordsIn(entered: unknown, member = ""): string[] {
  if (typeof entered === "string")
    return entered.trim() && !isMade(entered) ? [enteredWords(member, entered)] : [];
  if (typeof entered !== "object" || entered === null) return [];
  return Object.entries(entered).flatMap(([name, value]) =>
    NO_WORDS.has(name) ? [] : wordsIn(value, Array.isArray(entered) ? member : name),
  );
}

/** An id or a digest, which nobody typed. */
const isMade = (text: string) => ID.test(text) || /^[0-9a-f]{32,}$/.test(text);

function withoutIds(name: string): string {
  return name
    .split(" ")
    .filter((word) => !ID.test(word))
    .join(" ");
}

/** What a form is called, with the container that it is of. */
function calledBy(name: string): string {
  const of = record(ID.exec(name)?.[0] ?? "");
  return of?.kind === "container" ? `${withoutIds(name)} of ${thingName(of)}` : withoutIds(name);
}

/** The ticket of the visit that a form is of, by the id in its name. */
function ticketOf(name: string): string {
  const id = ID.exec(name)?.[0] ?? "";
  const of = record(id);
  const visit = of?.kind === "item" ? recordOf("visit", of.visit_id) : of;
  return visit?.kind === "visit" ? (fieldValue(visit, "ticket") ?? "") : "";
}
