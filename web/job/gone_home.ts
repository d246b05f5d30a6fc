/** What went back to its owner, or was never here, is not offered: that is said of it before anything else. */
import { standingCautions } from "./cautions.ts";
import type { Described } from "./families.ts";
import { itOrThem, SEEN_IN_PICTURES } from "./looked.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isOfPicturesAlone } from "./there.ts";
import type { RecordCopy } from "./types.ts";
import { isBackWithOwner } from "./with_owner.ts";

const GONE = "gone-home";

/** Of what has gone home the house holds nothing back. */
export function goneHome(described: Described) {
  const its = itOrThem(described) === "them" ? "their" : "its";
  return `returned to ${its} ${holderOf(described)}`;
}

/** Whose a find is may be the very question: then whoever brought it is called by what he is known to be. */
function holderOf({ book, record }: Described) {
  const [hazards, rows] = [standingCautions(record).map(({ value }) => value.hazard), book.cautions.cautions];
  return rows.find(({ hazard, holder }) => holder && hazards.includes(hazard))?.holder ?? "owner";
}

/** Whether all that is told of it is that it went back: what was seen in pictures alone stayed where it was. */
export function isGoneHome(record: RecordCopy) {
  return isBackWithOwner(record) && !isOfPicturesAlone(record);
}

/** That it went home, unless a caution among what is `said` tells it: that one names what it was. */
export function goneHomeSentences(described: Described, said: readonly Sentence[]): Sentence[] {
  const { record } = described;
  const isTold = said.some(({ keys }) => keys.some((key) => key.startsWith("held/")));
  if (isTold || !isGoneHome(record)) return [];
  const words = `${goneHome(described)}, and not offered`;
  return [sentence(words, record.fields.whereabouts ? ["whereabouts"] : [], [GONE])];
}

/** That what never came here is no lot. */
export function neverHereSentences(record: RecordCopy): Sentence[] {
  if (!isOfPicturesAlone(record)) return [];
  return [sentence(`not offered: ${SEEN_IN_PICTURES}`, ["short_description"], [GONE])];
}
