/** What went back to its owner is not offered: that is said of it whatever else is on its record. */
import { standingCautions } from "./cautions.ts";
import type { Described } from "./families.ts";
import { itOrThem } from "./looked.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isOfPictures } from "./there.ts";
import type { RecordCopy } from "./types.ts";
import { isBackWithOwner } from "./with_owner.ts";

const GONE = "gone-home";

/** Of what has gone home the house holds nothing back. */
export function goneHome(described: Described) {
  const its = itOrThem(described) === "them" ? "their" : "its";
  return `returned to ${its} ${holderOf(described)}, and not offered`;
}

/** Whose a find is may be the very question: then whoever brought it is called by what he is known to be. */
function holderOf({ book, record }: Described) {
  const [hazards, rows] = [standingCautions(record).map(({ value }) => value.hazard), book.cautions.cautions];
  return rows.find(({ hazard, holder }) => holder && hazards.includes(hazard))?.holder ?? "owner";
}

/** Whether all that is told of it is that it went back: what was seen in pictures alone stayed where it was. */
export function isGoneHome(record: RecordCopy) {
  return isBackWithOwner(record) && !isOfPictures(record);
}

/** That it went home, unless a caution among what is `said` tells it: that one names what it was. */
export function goneHomeSentences(described: Described, said: readonly Sentence[]): Sentence[] {
  const { record } = described;
  const isTold = said.some(({ keys }) => keys.some((key) => key.startsWith("held/")));
  if (isTold || !isGoneHome(record)) return [];
  return [sentence(goneHome(described), record.fields.whereabouts ? ["whereabouts"] : [], [GONE])];
}
