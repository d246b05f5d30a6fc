/** What stands between an entry and its being described: what must not be, and what is open and needs a reason. */

import { saidBehindAlone } from "./behind.ts";
import { bothWays } from "./both_ways.ts";
import { holdingCautions, isHeldApart, isStopped } from "./cautions.ts";
import { STILL } from "./closing_places.ts";
import { checkOf, HAS_COME, notCompared, numbersInWords } from "./compared.ts";
import { whereIs } from "./custody.ts";
import { DESCRIBED_BY } from "./described_by.ts";
import type { Logged } from "./desk.ts";
import { countDiffering, type DeskText } from "./desk_words.ts";
import { listInWords } from "./english.ts";
import { isNotCome } from "./not_come.ts";
import { isForNobody, openWords, type Unsigned } from "./not_signed_for.ts";
import { onMoreWords } from "./on_more.ts";
import { partsLost } from "./parts_lost.ts";
import { missing, tagsOf, viewsLeft, zoneName, zonesLeft } from "./progress.ts";
import { putOff } from "./put_off.ts";
import type { DayRecord, ItemRecord, Plan, ThingRecord } from "./types.ts";
import { unlikelySizes } from "./unlikely_sizes.ts";
import { fieldValue, listed } from "./values.ts";
import { isBackWithOwner } from "./with_owner.ts";
import { countWords } from "./words.ts";

/**
 * Why an entry cannot be described now, in words with what to do; empty if nothing forbids it. `byId` has the
 * containers that it or its pieces are in, `day` is its own. The office refuses the same.
 */
export function whyNotDescribed(
  item: ItemRecord,
  byId: Map<string, ThingRecord>,
  day: DayRecord | null | undefined,
): string {
  if (isStopped(item)) return "It is stopped. Nothing is said of it until whoever decides has cleared it.";
  if (fieldValue(item, "merged")?.into_id)
    return "It was recorded twice, and stands behind the other record: describe that one.";
  if (isBackWithOwner(item))
    return (
      "It is back with its owner, and what went back is not described for sale. " +
      "If it was brought again, record that move first."
    );
  if (holdingCautions(item).length)
    return (
      `It is ${heldOn(item)}. Until the safety lead or the valuer has, nothing is described for sale: ` +
      "record who cleared it and for what."
    );
  const lost = partsLost(item, byId, day);
  if (!lost.length) return "";
  return (
    `Not all of it is in the house's keeping: ${lost.join("; ")}. ` +
    "Find it and record the move, or take the tag off the part that it does not have."
  );
}

const OF_ENTRY: ReadonlySet<string> = new Set(DESCRIBED_BY.split(" "));

/** The fields that came to be otherwise after an entry was described, by the log that `past` is of. */
export function changedSinceDescribed(item: ItemRecord, past: readonly Logged[]): string[] {
  const { entry } = item.fields;
  const seqs = new Map(past.map(({ operation, office_seq }) => [operation.operation_id, office_seq]));
  if (fieldValue(item, "entry")?.state !== "described" || !entry) return [];
  // It may have been described again in the same words; where that is not sent yet, nobody knows what came before it.
  const all = [entry.operation_id, ...Object.values(entry.agreed ?? {})].map(
    (id) => seqs.get(id) ?? Infinity,
  );
  const described = Math.max(...all);
  return Object.entries(item.fields)
    .filter(([name, set]) => {
      const isOwn = set.made_by === entry.made_by && set.device_id === entry.device_id;
      const key = name.slice(0, name.indexOf("/") + 1) || name;
      return OF_ENTRY.has(key) && !isOwn && (seqs.get(set.operation_id) ?? 0) > described;
    })
    .map(([name]) => name);
}

/** What nobody said of an entry, as the desk's list of what is open has it; by the gap's name. */
const NOT_SAID: Record<string, string> = {
  maker: "maker: nobody said how sure",
  dates: "date: nobody said how sure",
  marks: "no mark, nor where one was looked for",
  measures: "nothing measured",
};

/** What it is held apart for, by the words of whoever raised it, and that nobody has cleared it; "" if nothing. */
export function heldOn(item: ItemRecord): string {
  const named = holdingCautions(item).map(({ value }) => value.sign.trim() || value.hazard);
  if (named.length) return `held apart for ${listInWords(named)}, and nobody has cleared it`;
  return isHeldApart(item) ? "held apart, and nobody has cleared it" : "";
}

/**
 * What is open on an entry: first what may be the matter with the thing, then in the order in which a reader of the
 * catalogue would miss it. `byId` has the containers, `unsigned` is what its owner has yet to sign.
 */
export function openOn(
  item: ItemRecord,
  plan: Plan | null,
  texts: readonly DeskText[],
  byId: Map<string, ThingRecord>,
  unsigned: readonly Unsigned[],
): string[] {
  const open: string[] = [];
  const held = heldOn(item);
  if (held) open.push(held);
  const { place, inside } = whereIs(item, byId, tagsOf(item)[0]);
  const still = STILL[place]; // what did not come with its load stays in the van by the ledger
  if (still) open.push(`${still}${inside.length ? ", with what it is packed in" : ""}`);
  open.push(...unsigned.map(openWords));
  const compared = checkOf(item)?.value;
  if (isNotCome(item)) open.push("it was not there as it was unpacked");
  const wasPacked = Boolean(item.fields.inside) || listed(item, "inside/").length > 0;
  const left = notCompared(item);
  const which = compared ? numbersInWords(item, left) : "";
  if (left.length && wasPacked && left.some((tag) => HAS_COME.has(whereIs(item, byId, tag).place)))
    open.push(
      `${which && `${which}: `}came packed to the store, and was not compared with what is on record`,
    );
  if (compared?.state === "differs") open.push(`differs from what was recorded: ${compared.words}`);
  open.push(...onMoreWords(item));
  const between = item.disagreements.filter(({ settled }) => !settled).length;
  if (between) open.push(`${countWords(between, "question")} with two values, not settled`);
  for (const behind of item.doubles ?? [])
    for (const words of saidBehindAlone(item, behind)) open.push(`the record behind it says more: ${words}`);
  if (plan)
    for (const { light, said } of bothWays({ plan, record: item })) {
      const zones = [...new Set(said.map(({ value }) => zoneName(value.zone)))].join(", ");
      open.push(`${light.replaceAll("-", " ")} not used, and looked for with it and not found: ${zones}`);
    }
  if (!plan) open.push("no class");
  const later = putOff(item);
  if (later.length)
    open.push(`put off to the store, and not looked at since: ${later.map(zoneName).join(", ")}`);
  const zones = plan && !plan.refer_only ? zonesLeft(plan, item) : 0;
  if (zones) open.push(`${countWords(zones, "zone")} nobody looked at`);
  for (const { name, words } of texts) if (!words) open.push(`no words for the ${name}`);
  const changed = countDiffering(texts);
  if (changed) open.push(`${countWords(changed, "sentence")} of which the record says something else now`);
  if (plan && !plan.refer_only)
    for (const { what, words } of missing(plan, item))
      if (what === "tests") open.push(words);
      else if (NOT_SAID[what]) open.push(NOT_SAID[what]);
  if (plan) open.push(...unlikelySizes(plan, item));
  const views = plan && !plan.refer_only ? viewsLeft(plan, item) : 0;
  if (views) open.push(countWords(views, "missing view"));
  if (!tagsOf(item).length) open.push("no tag");
  return open;
}

/** The reasons that are given most; anything else is typed. Common practice. */
export const REASONS = [
  "Sold as seen",
  "Not worth more time",
  "Could not be opened or reached",
  "Goes into a mixed lot",
] as const;
/** Of what never came to where things are kept, and of what nobody signed for: what was done about it. */
export const WHERE_IT_IS = ["Found since, and seen here", "Known as lost: it is not to be sold"] as const;
export const WHO_AGREED = [
  "Its owner has signed since, on paper",
  "Its owner was reached, and agrees",
] as const;

/**
 * Why it counts as described all the same, by one key. What is sold without being there, or without its owner's word,
 * no ordinary reason covers; of both at once, and of what somebody was called about, one key is no word.
 */
export function reasonsFor(
  item: ItemRecord,
  byId: Map<string, ThingRecord>,
  unsigned: readonly Unsigned[],
): readonly string[] {
  if (heldOn(item)) return [];
  const has = { come: !hasNotCome(item, byId), word: !unsigned.some(isForNobody) };
  if (has.come && has.word) return REASONS;
  return has.word ? WHERE_IT_IS : has.come ? WHO_AGREED : [];
}

/** What to do before it is described at all; none if only ordinary things are open. */
export function doFirst(
  item: ItemRecord,
  byId: Map<string, ThingRecord>,
  unsigned: readonly Unsigned[],
): string[] {
  return [
    hasNotCome(item, byId) &&
      "It has not come to where things are kept. Look for it first, and record the move once it is found.",
    unsigned.some(isForNobody) &&
      "Nobody has signed for it. Ask its owner first: a receipt can still be signed, on its visit.",
  ].filter((words) => words !== false);
}

/** Whether it left and has not come, or was not there as it was unpacked: by the ledger it is in the van still. */
function hasNotCome(item: ItemRecord, byId: Map<string, ThingRecord>): boolean {
  return whereIs(item, byId, tagsOf(item)[0]).place === "van" || isNotCome(item);
}
