/** What can be said of a zone, and what happens when it is said. */
import { useState } from "preact/hooks";
import type { ZoneState } from "../../job/fields.ts";
import { isNoneSeen, NONE_SEEN, neverHadIt, type Step, zoneName } from "../../job/progress.ts";
import { keep, takeAllBack } from "../../local/outbox.ts";
import { sayDone } from "../../parts/notices.tsx";
import type { ZoneGiven } from "./zone.tsx";
import { stepAfter } from "./zone_steps.ts";
import { sweeps } from "./zones_sweep.tsx";

/** The light of the last zone stays chosen on the next ones of the same thing; of another thing it is said anew. */
let last = { item_id: "", light: "" };

export const lightInHand = (item_id: string) => (last.item_id === item_id ? last.light : "");

export type Examining = ReturnType<typeof useExamining>;

export function useExamining({ item, steps, step, go }: ZoneGiven) {
  const [chosen, setChosen] = useState(() => lightInHand(item.record_id));
  const light = step.state?.light ?? chosen;
  const item_id = item.record_id;
  const zone = step.key;
  const state = step.state?.state;
  const count = step.state?.count ?? null;
  const next = stepAfter(steps, zone);
  const onward = () => go(next);
  /** On to what comes next, though the screen still has what was said just now as open. */
  const passOver = (done: readonly Step[]) =>
    go(
      stepAfter(
        steps.filter((row) => row === step || !done.includes(row)),
        zone,
      ),
    );
  const examine = (to: ZoneState["state"], reason: string | null = null) =>
    keep("examine_zone", {
      item_id,
      zone,
      state: to,
      reason,
      light: to === "not-examined" ? null : light || null,
      count,
    });
  const useLight = async (chosen: string) => {
    last = { item_id, light: chosen };
    setChosen(chosen);
    if (state === "clear" || state === "finding")
      await keep("examine_zone", { item_id, zone, state, reason: null, light: chosen, count });
  };
  const examineAndGoOn = async (to: "clear" | "not-examined", reason: string | null) => {
    const back = () => go(step);
    const none = neverHadIt({ reason }) && (await sweeps.value?.sayNone({ item, steps, step, back }));
    if (none) return passOver(none);
    const before = step.state;
    const made = await examine(to, reason);
    const never = isNoneSeen(step.zone, { reason }) ? NONE_SEEN : neverHadIt({ reason }) && "it never had it";
    const said = to === "clear" ? "clear" : never || "not examined";
    sayDone(`${zoneName(zone)}: ${said}.`, async () => {
      const [stays] = await takeAllBack([made]);
      if (stays && before) await keep("examine_zone", { item_id, zone, ...before });
      else if (stays?.why === "sent")
        sayDone(`${zoneName(zone)} is with the desk already: say here what is so.`);
      go(step);
    });
    onward();
  };
  const clear = () => examineAndGoOn("clear", null);
  const skip = (reason: string) => examineAndGoOn("not-examined", reason);
  const found = async () => (state === "finding" ? [] : [await examine("finding")]);
  return { state, light, useLight, next, onward, passOver, examine, clear, skip, found };
}
