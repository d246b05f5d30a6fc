/** Papers that are with a thing: a certificate of a watch, the discharge of whoever wore a medal. */
import { type Described, seenFindings } from "./families.ts";
import { MISSING } from "./gone.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isClearedAlone, isKnownToHave, isThere } from "./there.ts";
import type { RecordCopy } from "./types.ts";
import { fieldValue } from "./values.ts";

export const PAPERS = ["papers", "documents"];
const PAPER_NOUNS = [
  ..."paper document certificate letter receipt invoice bill label card booklet book".split(" "),
  ..."manual instruction leaflet slip sheet photograph envelope".split(" "),
];
/** Words of a note by which what was noted beside a thing is paper. */
export const PAPER_WORDS = new RegExp(`\\b(?:${PAPER_NOUNS.join("|")})s?\\b`, "i");

/** Papers that speak for the maker or the date, and those that were examined as a zone of the thing. */
export function papers({ record }: Described): Sentence[] {
  const there = PAPERS.filter((zone) => isThere(record, zone));
  const isKnown = (zone: string) => isKnownToHave(record, zone, PAPERS) || isClearedAlone(record, zone);
  const zones = there.filter(isKnown).map((zone) => `zones/${zone}` as const);
  const evidence = (["maker_evidence", "dates_evidence"] as const).filter((field) =>
    fieldValue(record, field)?.includes("provenance-paper"),
  );
  // That two are missing says nothing of whether any is left: only those that were counted do.
  const isInPart = isMissingPapers(record);
  const counted = zones.filter((field) => fieldValue(record, field)?.count);
  const fields = [...evidence, ...(isInPart ? counted : zones)];
  if (fields.length) return [sentence(`there are ${isInPart ? "other " : ""}papers with it`, fields)];
  if (!there.length) return [];
  return [
    sentence(
      `whether there are ${isInPart ? "other " : ""}papers with it was not noted`,
      there.map((zone) => `zones/${zone}`),
      there.map((zone) => `there/${zone}`),
    ),
  ];
}

/** Where some are missing nobody knows whether others are left, unless that was noted. */
export function otherPapersOpen(described: Described): Sentence[] {
  if (!isMissingPapers(described.record)) return [];
  return papers(described).filter(({ keys }) => keys.some((key) => key.startsWith("there/")));
}

/** Whether the answer says that there are papers: what it is called says no more. */
export function isWithPapers(record: RecordCopy) {
  return !isMissingPapers(record) && PAPERS.some((zone) => isThere(record, zone));
}

export function isMissingPapers(record: RecordCopy) {
  return seenFindings(record).some(({ value }) => value.term === MISSING && PAPERS.includes(value.zone));
}
