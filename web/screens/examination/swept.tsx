/**
 * What was said of several zones together, above their list: how many, which, and the way back. It is read off the
 * record, so that it is there after an app was killed, and on every table.
 */

import { zoneName } from "../../job/progress.ts";
import { type Sweep, sweepsOf, zonesOf } from "../../job/sweeps.ts";
import type { ItemRecord } from "../../job/types.ts";
import { TO_LOOK_AT } from "../../job/values.ts";
import { countWords, isOrAre } from "../../job/words.ts";
import { waiting } from "../../local/memory.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { saidInHand, sayOfZones, sweepBack } from "./sweep_said.ts";
import { zoneAddress } from "./zone_steps.ts";

export function Swept({ item }: { item: ItemRecord }) {
  const sweeps = sweepsOf(item);
  if (!sweeps.length) return null;
  return (
    <details open={saidInHand.value === item.record_id}>
      <summary>Said together: {sweeps.map(wordsOf).join("; ")}</summary>
      {sweeps.map((sweep) => (
        <Said key={sweep.made_at} item_id={item.record_id} sweep={sweep} />
      ))}
    </details>
  );
}

function wordsOf({ zones, state }: Sweep) {
  const some = countWords(zones.length, "zone");
  if (state.state === "clear") return `${some} ${isOrAre(zones.length)} clear`;
  return state.reason === "not-applicable" ? `${some} it never had` : `${some} not examined`;
}

function Said({ item_id, sweep }: { item_id: string; sweep: Sweep }) {
  const made = waiting.value.filter(({ operation_id }) => sweep.ids.has(operation_id));
  // What one operation said of all of them stays if something else was said of one since.
  const isWhole = made.flatMap(zonesOf).length === sweep.zones.length;
  const isHere = isWhole && !made.some(({ attempted }) => attempted);
  const takeBack = () =>
    attempt(async () => {
      if (await sweepBack(item_id, made)) sayDone(`Taken back: ${wordsOf(sweep)}.`);
    });
  const sayAnew = () =>
    attempt(async () => {
      const undo = await sayOfZones(item_id, sweep.zones, TO_LOOK_AT);
      sayDone(`To be looked at again: ${sweep.zones.map(zoneName).join(", ")}.`, undo);
    });
  return (
    <section>
      <p>
        {wordsOf(sweep)}. Open the one that is wrong:{" "}
        {sweep.zones.map((key, index) => (
          <span key={key}>
            {index > 0 && ", "}
            <a href={zoneAddress(item_id, key)}>{zoneName(key)}</a>
          </span>
        ))}
      </p>
      {isHere ? (
        <button type="button" onClick={takeBack}>
          Take all {sweep.zones.length} back: nobody was told
        </button>
      ) : (
        <>
          <button type="button" onClick={sayAnew}>
            Say all {sweep.zones.length} as not looked at again
          </button>
          <p class="hint">The desk may have been told: both stand in the history.</p>
        </>
      )}
    </section>
  );
}
