/** Marks in print: what stands there, where and how, and what is held of it. */

import { withArticle } from "./english.ts";
import type { MarkValue } from "./fields.ts";
import { type Sentence, sentence, withoutStop } from "./sentences.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

const LABEL = "label";
/** What nobody wrote with a hand of their own. */
const BY_TOOL = ["printed", "impressed", "struck", "moulded"];

/** Every mark that was not withdrawn; with none, where they were looked for. */
export function markSentences(plan: Plan | null, book: PlanBook, record: RecordCopy): Sentence[] {
  const live = listed(record, "marks/")
    .filter(({ value }) => !value.withdrawn && isThere(value))
    .sort(
      (a, b) =>
        a.value.place.localeCompare(b.value.place) ||
        a.value.text.localeCompare(b.value.text) ||
        a.id.localeCompare(b.id),
    );
  const read = live.map(({ id, value }) =>
    sentence(markInWords(book, value, nounOf(plan, record, value)), [`marks/${id}`]),
  );
  const looked = withoutStop(fieldValue(record, "marks_looked") ?? "");
  return read.length || !looked
    ? read
    : [
        sentence(`no marks found; looked at ${looked.charAt(0).toLowerCase()}${looked.slice(1)}`, [
          "marks_looked",
        ]),
      ];
}

/** A mark nobody has written anything of yet is none. */
function isThere({ text, completeness }: MarkValue) {
  return Boolean(text.trim() || completeness);
}

/** A name that is held for the maker's, written where its class is signed, is a signature, whoever wrote it. */
function nounOf(plan: Plan | null, record: RecordCopy, { technique, text }: MarkValue) {
  if (technique === LABEL) return "label";
  const maker = fieldValue(record, "maker")?.trim().toLowerCase();
  const isSigned = plan?.zones.some(({ zone }) => zone === "signature");
  const isWritten = !BY_TOOL.includes(technique ?? "");
  if (maker && isSigned && isWritten && text.toLowerCase().includes(maker)) return "signature";
  return plan?.mark_noun ?? "mark";
}

/** "Bears a label inside: “…”; it is not relied on": the words stand as they are on the thing, line by line. */
function markInWords(book: PlanBook, mark: MarkValue, what: string) {
  const place = mark.place.trim() || "place not noted";
  const technique =
    mark.technique === LABEL
      ? ""
      : book.words.techniques.find((row) => row.technique === mark.technique)?.words;
  const how = [
    [technique, mark.colour.trim() && `in ${mark.colour.trim()}`].filter(Boolean).join(" "),
    mark.completeness && mark.completeness !== "complete" ? mark.completeness : "",
  ].filter(Boolean);
  const begins = {
    "makers-own": `in our opinion the maker's own ${what}`,
    borne: `bears ${withArticle(what, book.print.english)}`,
    "not-relied-on": `bears ${withArticle(what, book.print.english)}`,
    none: what,
  }[mark.standing ?? "none"];
  const lines = mark.text.trim().split(/\s*\n\s*/);
  const text = mark.text.trim() ? `: “${lines.join(" / ")}”` : "";
  const reading = mark.reading.trim() ? `; read as ${withoutStop(mark.reading)}` : "";
  const standing = mark.standing === "not-relied-on" ? "; it is not relied on" : "";
  return [begins, place, ...how].join(", ") + text + reading + standing;
}
