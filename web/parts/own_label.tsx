/** One label of a thing's own, with the mark of the cautions that stand on it; never its owner's name. */

import { cautionMark } from "../job/cautions.ts";
import type { RecordCopy } from "../job/types.ts";

/** The stock that a single label is printed on: string tags, and labels for a lid. */
const STOCK = { tag: "tag-85x45", bag: "roll-57x32", box: "roll-102x152", crate: "roll-102x152" };

/** `items` is what the label is tied to or what lies in it */
export function OwnLabel({
  tag,
  kind,
  items,
  piece = 1,
  pieces = 1,
  part = "",
  words,
}: {
  tag: string;
  kind: "tag" | "bag" | "box" | "crate";
  items: RecordCopy[];
  piece?: number;
  pieces?: number;
  /** The part that its number is on, by name. */
  part?: string;
  words: string;
}) {
  const asked = new URLSearchParams({
    sheet: STOCK[kind],
    kind,
    first: tag,
    count: "1",
    piece: String(piece),
    pieces: String(pieces),
    caution: cautionMark(items),
    part,
  });
  return (
    <a class="button" href={`/labels.pdf?${asked}`} target="_blank" rel="noreferrer">
      {words}
    </a>
  );
}
