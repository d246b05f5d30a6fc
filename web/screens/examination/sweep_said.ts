/** What is said of several zones at once, and the way back from it. */

import { signal } from "@preact/signals-core";
import { zoneName } from "../../job/progress.ts";
import { zonesOf, zonesStillSaid } from "../../job/sweeps.ts";
import type { Operation } from "../../job/types.ts";
import { fieldValue, TO_LOOK_AT } from "../../job/values.ts";
import { record } from "../../local/memory.ts";
import { keepAll, takeAllBack } from "../../local/outbox.ts";
import { sayDone, sayUntilRead } from "../../parts/notices.tsx";

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
