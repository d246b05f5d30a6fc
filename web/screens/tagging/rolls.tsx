/** Numbers: rolls given out, what became of each number, labels to print, numbers struck through. */

import { useEffect, useState } from "preact/hooks";
import type { RollCount } from "../../job/custody.ts";
import { rollCounts } from "../../job/custody.ts";
import { codesFrom, parseTag, serialOf, shown } from "../../job/tag.ts";
import type { DayRecord } from "../../job/types.ts";
import { errorWords } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { OfNoRoll } from "../../parts/of_no_roll.tsx";
import { type PairedDevice, usePairedDevices } from "../../parts/paired_devices.tsx";
import { useDay, useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { get } from "../../sync/office.ts";
import { type Holder, HolderChoice } from "./roll_holder.tsx";
import { RollsBefore } from "./rolls_before.tsx";
import { NewRoll } from "./rolls_new.tsx";
import { Print, type Sheet } from "./rolls_print.tsx";

/** What the office says of labels. */
type Known = {
  sheets: Sheet[];
  next_tag: string | null;
  serials: { first: number; last: number };
  warning: string;
};

type Sum = "count" | "used" | "elsewhere" | "spoiled" | "unused";

const SUMS: [Sum, string][] = [
  ["count", "Given out"],
  ["used", "Used"],
  ["elsewhere", "On things of another day"],
  ["spoiled", "Struck through"],
  ["unused", "Unused"],
];

export default function Rolls() {
  const day = useDay();
  const items = useRecords("item");
  const containers = useRecords("container");
  const devices = usePairedDevices();
  const [known, setKnown] = useState<Known | null>(null);
  const [problem, setProblem] = useState("");
  useEffect(() => {
    get<Known>("/labels/sheets").then(setKnown, (error) => setProblem(errorWords(error)));
  }, [day?.record_id]);
  if (!day || !items || !containers)
    return (
      <Frame title="Numbers" place="#/rolls">
        <ChooseDayFirst day={day} on="Day" />
      </Frame>
    );
  const counts = rollCounts(day, items, containers);
  const total = (what: Sum) => counts.reduce((sum, roll) => sum + roll[what], 0);
  return (
    <Frame title="Numbers" place="#/rolls">
      <dl class="counts">
        {SUMS.filter(([what]) => what !== "elsewhere" || total(what)).map(([what, words]) => (
          <div key={what}>
            <dt>{words}</dt>
            <dd>{total(what)}</dd>
          </div>
        ))}
      </dl>
      {known?.warning && <p class="bar">{known.warning}</p>}
      {problem && <p class="bar">Labels are made at the office: {problem}</p>}
      <OfNoRoll day_id={day.record_id} />
      <RollsBefore day={day} />
      <NewRoll
        day_id={day.record_id}
        next={freeFrom(counts, known)}
        asked={known !== null}
        devices={devices}
      />
      {counts.map((roll) => (
        <Roll key={roll.roll_id} roll={roll} day={day} sheets={known?.sheets ?? []} devices={devices} />
      ))}
      <Spoil day_id={day.record_id} />
    </Frame>
  );
}

/**
 * The office's next free number, or the one behind the rolls that wait on this device; "" if the office has not said
 * what is free, or if nothing is.
 */
function freeFrom(counts: RollCount[], known: Known | null) {
  if (!known?.next_tag) return "";
  const free = serialOf(known.next_tag);
  const waiting = counts.map((roll) => serialOf(roll.last_tag)).filter((last) => last >= free);
  const next = Math.max(
    free,
    ...waiting.filter((last) => last <= known.serials.last).map((last) => last + 1),
  );
  return next <= known.serials.last ? (codesFrom(next).next().value ?? "") : "";
}

type RollOf = { roll: RollCount; day: DayRecord; sheets: Sheet[]; devices: PairedDevice[] | null };

function Roll({ roll, day, sheets, devices }: RollOf) {
  const day_id = day.record_id;
  const [printing, setPrinting] = useState(false);
  const give = (holder: Holder) => keep("give_roll", { day_id, roll_id: roll.roll_id, ...holder });
  return (
    <article class="finding">
      <h3>{`${shown(roll.first_tag)} to ${shown(roll.last_tag)}`}</h3>
      <p>
        {roll.count} numbers: <strong>{roll.used}</strong> used,{" "}
        {roll.elsewhere > 0 && (
          <>
            <strong>{roll.elsewhere}</strong> on things of another day,{" "}
          </>
        )}
        <strong>{roll.spoiled}</strong> struck through, <strong>{roll.unused}</strong> unused.
        {roll.next && ` Next: ${shown(roll.next)}.`}
      </p>
      {roll.low && (
        <p class="bar">
          {roll.unused ? "Four fifths are gone: have the next roll at hand." : "All of it is gone."}
        </p>
      )}
      <HolderChoice label="Given to" holder={roll} devices={devices} give={give} />
      {printing ? (
        <Print day={day} roll={roll} sheets={sheets} />
      ) : (
        <button type="button" onClick={() => setPrinting(true)}>
          Print its labels
        </button>
      )}
    </article>
  );
}

function Spoil({ day_id }: { day_id: string }) {
  const {
    form: { typed, why },
    set,
    drop,
  } = useHeld(`spoiled ${day_id}`, { typed: "", why: "" });
  const strike = () =>
    attempt(async () => {
      const tag = parseTag(typed);
      await keep("spoil_tag", { day_id, tag, why });
      drop();
      sayDone(`${shown(tag)} is struck through. Keep the tag.`);
    });
  return (
    <section>
      <h2>Strike a number through</h2>
      <p class="hint">Torn, wet or misprinted before it was tied. Keep the tag: it is counted.</p>
      <div class="pair">
        <Typed label="Number" value={typed} save={set("typed")} />
        <Typed label="What is wrong with it" value={why} save={set("why")} />
      </div>
      <button type="button" disabled={!typed.trim()} onClick={strike}>
        {typed.trim() ? "Strike it through" : "Key in the number first"}
      </button>
    </section>
  );
}
