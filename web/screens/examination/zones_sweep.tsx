/** What is said of several zones at once, and the way back from it; the screens that ask for it come with a pack. */

import { signal } from "@preact/signals-core";
import type { ComponentChildren, FunctionComponent } from "preact";
import { isOfOtherKind, type Step, zoneName } from "../../job/progress.ts";
import { zonesOf, zonesStillSaid } from "../../job/sweeps.ts";
import type { ItemRecord, Operation, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, TO_LOOK_AT } from "../../job/values.ts";
import { record } from "../../local/memory.ts";
import { keepAll, takeAllBack } from "../../local/outbox.ts";
import { attempt, sayDone, sayUntilRead } from "../../parts/notices.tsx";

export type SweepOf = {
  item: ItemRecord;
  rest: Step[];
  steps: readonly Step[];
  book: PlanBook;
  close: () => void;
};

/**
 * The screens of a sweep, and what stands above the list of zones for what was said together: null until the pack is
 * loaded, a moment after the first screen, with no network too.
 */
export const sweeps = signal<{
  NeverHad: FunctionComponent<SweepOf>;
  RestClear: FunctionComponent<SweepOf>;
  /** How many zones are called clear with the rest in the light in hand. */
  covered: (steps: readonly Step[], item: ItemRecord) => number;
  /** As `alongWith` in `job/sweeps.ts`. */
  along: (steps: readonly Step[], keys: readonly string[]) => string[];
  Swept: FunctionComponent<{ item: ItemRecord }>;
  /** What is told beside a denial of whose light it is said that it was not used. */
  against: (plan: Plan, item: ItemRecord, light: string) => ComponentChildren;
} | null>(null);

/** That several zones were not examined, and why, kept as one; the way back from it. */
export async function sayOfZones(item_id: string, zones: readonly string[], reason: string) {
  const said = { state: "not-examined", reason, light: null, count: null } as const;
  const made = await keepAll(
    "examine_zone",
    zones.map((zone) => ({ item_id, zone, ...said })),
  );
  return () => sweepBack(item_id, made, reason === TO_LOOK_AT);
}

export const sayNeverHad = (item_id: string, zones: readonly string[]) =>
  sayOfZones(item_id, zones, "not-applicable");

/** The thing whose sweeps are open to be said otherwise, since one could not be taken back. */
export const saidInHand = signal("");

/**
 * The way back from a sweep. What the office may have is said to be looked at again, where it stands so; of what was
 * said otherwise since it is said which zones it is, until that is read, and its list of zones has the keys that say it
 * anew. What is to be looked at again is left on that list itself, so that nothing has to be read later. True if
 * nothing stays.
 */
export async function sweepBack(item_id: string, made: readonly Operation[], isToLook = false) {
  const stays = await takeAllBack(made);
  if (!stays.length) return true;
  const item = record(item_id);
  const sent = stays.filter(({ why }) => why === "sent").map(({ made }) => made);
  const again = isToLook ? [] : zonesStillSaid(item, sent);
  if (again.length) await sayOfZones(item_id, again, TO_LOOK_AT);
  const name = fieldValue(item, "short_description") || "This thing";
  const anew = again.length
    ? [`the desk may have been told, so to be looked at again: ${again.map(zoneName).join("; ")}`]
    : [];
  const parts = (["sent", "changed"] as const).flatMap((why) => {
    const zones = stays
      .filter((stay) => stay.why === why)
      .flatMap(({ made }) => zonesOf(made))
      .filter((zone) => !again.includes(zone));
    return zones.length ? `${STAYS[why]} ${zones.map(zoneName).join("; ")}` : [];
  });
  if (!parts.length) {
    sayDone(`${name}: ${anew}.`);
    return false;
  }
  const nothing = again.length ? [] : ["nothing is taken back"];
  const rest = stays.length < made.length ? ["the rest is taken back"] : nothing;
  const words = `${name}: ${[...anew, ...parts, ...rest].join("; ")}.`;
  saidInHand.value = item_id;
  location.hash = `#/item/${item_id}/zones`;
  if (isToLook) sayDone(`${words} They are left on its list of zones: open each.`);
  else sayUntilRead(`${words} Say it anew on its list of zones.`);
  return false;
}

const STAYS = { sent: "the desk may have been told of", changed: "said anew since and left so:" };

/** On an optional zone that nobody spoke of: it has none, nor the other optional ones that follow, by one press. */
export function HasNone({ item, steps, step, onward }: HasNoneOf) {
  const item_id = item.record_id;
  const isOpen = ({ state, findings }: Step) => !state && !findings.length;
  // What such a thing never has, and what it may have or not, are each said together.
  const isOther = ({ zone }: Step) => isOfOtherKind(item, zone);
  const isAlike = (row: Step) => (isOther(step) ? isOther(row) : row.zone.optional);
  if (!isAlike(step) || !isOpen(step)) return null;
  const open = steps.filter((row) => isAlike(row) && isOpen(row));
  const say = (zones: Step[]) =>
    attempt(async () => {
      const keys = zones.map(({ key }) => key);
      const all = [...keys, ...(sweeps.value?.along(steps, keys) ?? [])];
      const undo = await sayNeverHad(item_id, all);
      sayDone(`It never had ${all.map(zoneName).join(", ")}.`, undo);
      onward(steps.filter(({ key }) => all.includes(key)));
    });
  return (
    <div class="chips">
      <button type="button" class="chip" onClick={() => say([step])}>
        It never had this
      </button>
      {open.length > 1 && (
        <button type="button" class="chip" onClick={() => say(open)}>
          Nor{" "}
          {open
            .filter((row) => row !== step)
            .map(({ key }) => zoneName(key))
            .join(", ")}
        </button>
      )}
    </div>
  );
}

type HasNoneOf = { item: ItemRecord; steps: Step[]; step: Step; onward: (done: Step[]) => void };
