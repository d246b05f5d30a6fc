/** What went back to its owner is not offered: that is said of it whatever else is on its record. */
import type { Described } from "./families.ts";
import { itOrThem } from "./looked.ts";
import { type Sentence, sentence } from "./sentences.ts";
import { isBackWithOwner } from "./with_owner.ts";

const GONE = "gone-home";

/** Of what has gone home the house holds nothing back. */
export function goneHome(described: Described) {
  return `returned to ${itOrThem(described) === "them" ? "their" : "its"} owner, and not offered`;
}

/** That it went home, unless a caution among what is `said` tells it: that one names what it was. */
export function goneHomeSentences(described: Described, said: readonly Sentence[]): Sentence[] {
  const { record } = described;
  const isTold = said.some(({ keys }) => keys.some((key) => key.startsWith("held/")));
  if (isTold || !isBackWithOwner(record)) return [];
  return [sentence(goneHome(described), record.fields.whereabouts ? ["whereabouts"] : [], [GONE])];
}
