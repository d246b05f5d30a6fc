/** What the office tells a desk: rows of its list, and one entry with all that its screen shows. */
import type { ZoneSaid } from "./edge.ts";
import type { Place } from "./fields.ts";
import type { OfficeStanding, Operation, Problem, RecordCopy, VisitRecord } from "./types.ts";

/** One thing in the desk's list. */
export type QueueRow = {
  entry_seq: number;
  item_id: string;
  visit_id: string;
  ticket: string;
  short_description: string;
  class_id: string;
  state: string;
  tags: string[];
  photo_count: number;
  finding_count: number;
  disagreement_count: number;
  caution: string | null;
  held_apart: number;
  /** Whether something it is described by was said after it was described; offices of before do not say. */
  changed?: boolean;
  /** Whether nobody has signed for it, or it is otherwise than was signed for; offices of before do not say. */
  unsigned?: boolean;
  otherwise?: boolean;
  /** Whether it differed when it was checked in, or its pieces are in several places; offices of before do not say. */
  differs?: boolean;
  apart?: boolean;
  /** That it did not come with its load, or was not there as it was unpacked; offices of before do not say. */
  not_come?: string | null;
  /** The gravest finding's severity; null while there is none. */
  worst: number | null;
  table_id: string;
  /** The date of its day: tickets and tables are of a day; offices of before do not say. */
  held_on?: string;
  arrived_at: string;
  thumb_sha256: string | null;
  /** A sign a zone in the plan's order, as `zonesOfEdge` reads them; empty while no class is chosen. */
  edge: string;
  /** How many zones nobody spoke of; null while no class is chosen. */
  missing: number | null;
};

/** What the list is narrowed to; empty is any. `only` are kinds of trouble with commas between. */
export type Asked = {
  words: string;
  state: string;
  class_id: string;
  table_id: string;
  worst: string;
  day_id: string;
  only: string;
};
export const ASKED_NOTHING: Asked = {
  words: "",
  state: "",
  class_id: "",
  table_id: "",
  worst: "",
  day_id: "",
  only: "",
};

/** How many there would be if that were chosen, by group and choice; what is not named has none. */
export type Counts = Record<Exclude<keyof Asked, "words">, Record<string, number>>;

/** A page of the list; `next` is where the one after it begins, `cursor` where the feed stood as all of it was read. */
export type QueuePage = {
  cursor: number;
  entries: QueueRow[];
  count: number;
  count_capped: boolean;
  counts: Counts | null;
  /** The latest days with their dates, where there are counts; an office of before does not say. */
  days?: Record<string, string> | null;
  /** The things that nobody handles: stopped, and whoever was called has not decided; and from where to keep away. */
  alone: (Pick<QueueRow, "item_id" | "short_description"> & {
    keep_away: string;
  })[];
  /** The words that were asked for, as the office searches them; one of before does not say. */
  words?: string[];
  /** The marks that one of these words is a name of, as "described" is; one of before does not say. */
  called?: string[];
  next: number | null;
  /** Of rows that were asked for: what comes from behind the pages, `after` which, in the place of those that left. */
  filled?: (Pick<QueuePage, "entries" | "next"> & { after: number }) | null;
};

/** An operation as the office's log has it, refused ones too. */
export type Logged = {
  office_seq: number;
  operation: Operation;
  outcome: "kept" | "refused";
  problem: Problem | null;
  received_at: string;
  clock_off_s: number;
};
/** Another thing of the same visit. */
export type OtherItem = Pick<QueueRow, "item_id" | "short_description" | "tags" | "thumb_sha256"> & {
  merged_into: string | null;
  state: string;
  /** Where it was moved to by its last move; null if it was never moved. */
  place: Place | null;
};
/** One entry: the item first among its records, and whatever of the house is needed to read it. */
export type EntryPage = {
  cursor: number;
  records: RecordCopy[];
  operations: Logged[];
  /** Names by id, of whoever said something of it. */
  people: Record<string, string>;
  others: OtherItem[];
  row: QueueRow | null;
  /** What the list says of the rows that were asked for beside it; null if none were. */
  list: QueuePage | null;
  /** The visit with its owner's words, if they were asked for; an office of before does not say. */
  told?: VisitRecord | null;
  /** Where the office stands; one of before does not say. */
  office?: OfficeStanding;
};

/**
 * What changed: the record's id, its kind, an item's place in the list, its day, an item's marks, and what of it is
 * found otherwise. `gave_way` are the disagreements on these in which a value of this device gave way; `alone` is what
 * nobody handles, as it is told now. Null where nobody can say.
 */
export type News = {
  cursor: number;
  changed:
    | [
        record_id: string,
        kind: string,
        entry_seq: number | null,
        day_id: string,
        marks?: string,
        found?: Found,
      ][]
    | null;
  gave_way: string[] | null;
  alone?: QueuePage["alone"] | null;
};

/**
 * What of a thing is otherwise than before: its own words, which are these now, and whether some are gone; the marks by
 * which a list is narrowed and counted, and which they were, where the office knows; that it is listed, or its owner's
 * words, which are in no news; what the entries of its visit's other things say of it, by that visit; that its row is
 * the same as it was, but for what its marks tell.
 */
export type Found = {
  words?: string;
  lost?: true;
  marks?: true;
  was?: string;
  listed?: true;
  beside?: string;
  same?: true;
};

const SIGNS: Record<string, ZoneSaid> = { c: "clear", n: "not-examined", ".": "untouched" };

/** The zones of a row's edge. */
export function zonesOfEdge(edge: string): ZoneSaid[] {
  return [...edge].map((sign) => SIGNS[sign] ?? Number(sign));
}
