/** A day's closing as the office tells it to a device that does not hold the day. */
import type { Changed } from "./changed_since.ts";
import type { Found } from "./closing_found.ts";
import type { DifferenceKind } from "./closing_kinds.ts";
import type { Named } from "./closing_reasons.ts";
import { countWords } from "./words.ts";

/** One day of the list; `closed_at` null if nobody has closed it. */
export type DayListed = {
  day_id: string;
  house: string;
  place: string;
  held_on: string;
  closed_at: string | null;
  /** It was closed too long ago for a manager's device to work on it; not told by an office of before. */
  is_over?: boolean;
  /** Not told by an office of before. `let_go`: which day goes on in its place; "" of one that stands. */
  set_up_by?: string;
  set_up_at?: string;
  visits?: number;
  let_go?: string;
};
export type DaysPage = { days: DayListed[]; next: number | null };

/** A visit's receipts, the oldest first, and of how many things nobody has signed for what became of them. */
export type VisitSigned = {
  visit_id: string;
  ticket: string;
  here: number;
  here_unsigned: number;
  back_unsigned: number;
  receipts: {
    receipt_id: string;
    number: string;
    what: "left" | "taken-back";
    things: number;
    is_on_paper: boolean;
    made_at: string;
  }[];
};

/** What a closing named, with where to look for it now; `is_found` is false of what is found no more. */
export type NamedThen = Named & {
  at: string;
  is_found: boolean;
  /** What others had said last of it, where that is another word; not told by an office of before. */
  beside?: { by: string; reason: string }[];
};

/** A part of a closing: all that it counts, and as many of its lines as were read. */
type SectionOf<Name extends string, Line> = { section: Name; count: number; lines: Line[] };
type NamedSection = SectionOf<"named", NamedThen>;
type ChangedSection = SectionOf<"changed", Changed>;
type ReceiptsSection = SectionOf<"receipts", VisitSigned>;
export type KindSection = SectionOf<DifferenceKind, Found>;
export type ClosingSection = NamedSection | ChangedSection | ReceiptsSection | KindSection;

/**
 * `cursor` is where the feed stood as it was told; all lines are of the one `state`. Of a day that was closed the kinds
 * hold what has come since.
 */
export type DayClosing = Omit<DayListed, "closed_at" | "visits"> & {
  cursor: number;
  state: string;
  visits: number;
  items: number;
  containers: number;
  /** Who closed it with how many differences; null while it is open. */
  closed: {
    closed_by: string;
    second_by: string;
    closed_at: string;
    named: number;
    /** Who had signed first beside the one with whose signature it was closed; not told by an office of before. */
    signed_beside?: { by: string; at: string; count: number }[];
  } | null;
  differences: number;
  /** How many records were changed after it was closed; not told by an office of before. */
  changed?: number;
  receipts: number;
  sections: ClosingSection[];
};
export type LinesPage = { state: string; next: number | null; lines: ClosingSection["lines"] };

export const namedSection = ({ sections }: DayClosing) =>
  sections.find((one): one is NamedSection => one.section === "named");
export const changedSection = ({ sections }: DayClosing) =>
  sections.find((one): one is ChangedSection => one.section === "changed");
export const receiptsSection = ({ sections }: DayClosing) =>
  sections.find((one): one is ReceiptsSection => one.section === "receipts");
export const kindSections = ({ sections }: DayClosing) =>
  sections.filter((one): one is KindSection => !BESIDE_KINDS.has(one.section));
const BESIDE_KINDS: ReadonlySet<string> = new Set(["named", "changed", "receipts"]);

/** What was signed of a visit, and what was not, in one line. */
export function receiptsWords({ receipts, here, here_unsigned, back_unsigned }: VisitSigned): string {
  const signed = receipts.map(({ number, what, things, is_on_paper }) => {
    const back = what === "left" ? "left" : "taken back";
    return `${number} for ${countWords(things, "thing")} ${back}${is_on_paper ? " (on paper)" : ""}`;
  });
  const owed = [
    here_unsigned ? `${here_unsigned} of ${here} left here and not signed for` : "",
    back_unsigned ? `${back_unsigned} taken back and not signed for` : "",
  ];
  return [signed.join(", "), ...owed].filter(Boolean).join("; ") || "nothing was left";
}
