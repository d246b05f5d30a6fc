/** The foot of an item's screen: on to what is still missing, in the order of the work; back to the item. */

import { type Gap, walk, zoneName } from "../job/progress.ts";
import type { ItemRecord } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { recordOf } from "../local/memory.ts";
import { planOf } from "../local/plan_book.ts";
import { gapsOf } from "./gaps.ts";
import { TieOn } from "./tie_on.tsx";
import { useSelected } from "./use.ts";

/** The screens of an item in the order of the work, and what each step is called. */
const STEPS: readonly (readonly [at: string, words: string])[] = [
  ["/zones", "look it over"],
  ["/marks", "marks"],
  ["/works", "what works"],
  ["/measures", "measure"],
  ["/photos", "photos"],
  ["/tag", "tie a tag"],
];

const BACK = "Back to the item";

/** `here` is this screen's address within the item. */
export function NextStep({ item, here }: { item: ItemRecord; here: string }) {
  const address = `#/item/${item.record_id}`;
  const next = useNext(item.record_id, here);
  if (!next) return <TieOn href={address}>{BACK}</TieOn>;
  return (
    <>
      <a class="button" href={address} aria-label={BACK}>
        Item
      </a>
      <TieOn {...next} />
    </>
  );
}

/** The label that leads on from a screen of an item; null if nothing is missing, or only what is done there. */
export function useNext(item_id: string, here: string) {
  return useSelected(() => {
    const item = recordOf("item", item_id);
    const gap = item && nextGap(gapsOf(item), here);
    return gap ? labelOf(item, gap) : null;
  }, [item_id, here]);
}

/** So much of a thing's name tells which one a label leads on with. */
const NAME_FITS = 40;

/** Under a label that names the marks already; the item's own list says it whole. */
const MARKS_LEFT = "nothing is said of them yet";

/** The walk is gone on with where it stopped; from outside the item its name stands in front. */
export function labelOf(item: ItemRecord, gap: Gap, goOn = "") {
  const address = `#/item/${item.record_id}`;
  const left = gap.words;
  const name = fieldValue(item, "short_description") || "the thing";
  const short = name.length > NAME_FITS ? `${name.slice(0, NAME_FITS).trimEnd()} …` : name;
  const named = goOn && `${goOn}: ${short}, `;
  const zone = gap.at === "/zones" && firstOpenZone(item);
  if (zone) {
    const href = `${address}/zone/${encodeURIComponent(zone)}`;
    return { href, children: `${named || "Look: "}${zoneName(zone)}`, left };
  }
  const step = STEPS.find(([at]) => at === gap.at)?.[1] ?? gap.words;
  const small = gap.what === "marks" ? MARKS_LEFT : left;
  const at = gap.what === "views" ? "/photos/camera" : gap.at; // whoever goes on to the views is to take them
  return { href: address + at, children: `${named || "Next: "}${step}`, left: small };
}

function firstOpenZone(item: ItemRecord) {
  const plan = planOf(item);
  return plan && walk(plan, item).find(({ state }) => !state)?.key;
}

/** What is missing after this screen, and then from the start. */
export function nextGap(gaps: readonly Gap[], here: string): Gap | undefined {
  const order = STEPS.map(([at]) => at);
  const from = order.indexOf(here) + 1;
  const isHere = (at: string) => at === "/works" && here === "/measures"; // both are one screen
  return [...order.slice(from), ...order.slice(0, Math.max(from - 1, 0))]
    .map((at) => gaps.find((gap) => gap.at === at && !isHere(at)))
    .find((gap) => gap !== undefined);
}
