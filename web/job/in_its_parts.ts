/** A thing that came in parts which its list names, as a clock does in case, movement and weights, is one thing. */

import type { FindingValue, ListedPiece } from "./fields.ts";
import { linesListed } from "./listed_pieces.ts";
import { piecesCounted, SET } from "./pieces.ts";
import { nounOf, zoneNameOf } from "./places.ts";
import { isNamedIn } from "./there.ts";
import type { FieldValue, Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { lineOf, ownWords } from "./which_piece.ts";

/** What a line goes on with behind what it is first of all: "case with hood". */
const MORE = /\s(?:with|and|in|of|on|for)\s|[,;(]/;
const FEWEST = 2;

const known = new WeakMap<RecordCopy, RecordCopy>();

/**
 * The record as its condition and answers are made of it: without the count of pieces, and of a fault without the piece
 * that it is on, since its zone says that. A tea service of jug and bowl stays three pieces: these are no parts of one.
 */
export function asOneOfParts(plan: Plan, book: PlanBook, record: RecordCopy): RecordCopy {
  if (!isInParts(plan, book, record)) return record;
  const before = known.get(record);
  if (before) return before;
  const fields: RecordCopy["fields"] = {};
  for (const [name, field] of Object.entries(record.fields)) {
    if (name === "pieces" || name.startsWith("listed/") || !field) continue;
    fields[name] = { ...field, value: asOfOne(name, field.value) };
  }
  const one = { ...record, fields };
  known.set(record, one);
  return one;
}

function asOfOne(name: string, value: FieldValue["value"]): FieldValue["value"] {
  if (name.startsWith("tags/")) return { ...(value as object), piece: 1, of: 1 };
  if (!name.startsWith("findings/")) return value;
  return { ...(value as object), piece: null, piece_count: null, piece_words: null };
}

function isInParts({ zones }: Plan, book: PlanBook, record: RecordCopy) {
  const lines = linesListed(record).map(({ value }) => value);
  const { said, walked } = piecesCounted(record);
  const sum = lines.reduce((all, { count }) => all + count, 0);
  if (lines.length < FEWEST || sum !== said || walked) return false;
  if (listed(record, "tags/").some(({ value }) => value.gone)) return false;
  if (fieldValue(record, `zones/${SET}`)?.state === "finding") return false;
  // Somebody's own words of a piece are no name of a part, and stay.
  const isOfLine = (finding: FindingValue) => !ownWords(finding) || lineOf(record, finding) !== null;
  if (!listed(record, "findings/").every(({ value }) => isOfLine(value))) return false;
  const partOf = ({ words, count }: ListedPiece) => {
    const [first = ""] = words.trim().split(MORE);
    return zones.find(({ zone }) => {
      const name = zoneNameOf(book, zone);
      const isWhole = [1, 2].some((many) => first.toLowerCase().split(" ").at(-1) === nounOf(name, many));
      return isWhole && isNamedIn(first, name) && (count === 1 || name.plural);
    })?.zone;
  };
  const parts = lines.map(partOf);
  return parts.every(Boolean) && new Set(parts).size === parts.length;
}
