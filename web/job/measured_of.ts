/** Of which of several pieces a length can have been taken, as it stands behind that: "of one of the six cups". */

import { linesListed } from "./listed_pieces.ts";
import { countAlike } from "./piece_open.ts";
import type { RecordCopy } from "./types.ts";
import { ofLine } from "./which_piece.ts";

/** Of unlike pieces one of each line of their list; of alike ones that each has it. */
export function measuredOf(item: RecordCopy): string[] {
  if (countAlike(item) < 2) return [];
  const lines = linesListed(item);
  return lines.length ? lines.map(({ value }) => `of ${ofLine(value, 1)}`) : ["each"];
}
