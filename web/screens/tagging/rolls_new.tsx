/** Giving out a roll of numbers. */

import { useState } from "preact/hooks";
import { newId } from "../../job/ids.ts";
import { run, shown } from "../../job/tag.ts";
import { keep } from "../../local/outbox.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import type { PairedDevice } from "../../parts/paired_devices.tsx";
import { type Holder, HolderChoice } from "./roll_holder.tsx";

type NewRollOf = { day_id: string; next: string; asked: boolean; devices: PairedDevice[] | null };

const GIVE_OUT = "Give out a roll";

export function NewRoll({ day_id, next, asked, devices }: NewRollOf) {
  const [count, setCount] = useState(200);
  const [to, setTo] = useState<Holder>({ given_to: "printed stock", for_device_id: null });
  const [given, setGiven] = useState("");
  const issue = () =>
    attempt(async () => {
      const last_tag = run(next, count).at(-1) ?? next;
      await keep("issue_roll", {
        day_id,
        roll_id: newId(),
        first_tag: next,
        last_tag,
        count,
        ...to,
      });
      const words = `${count} numbers from ${shown(next)} on are given to ${to.given_to}.`;
      setGiven(words); // what is pressed once more by mistake is no second roll
      sayDone(words);
    });
  if (!next)
    return (
      <section>
        <h2>{GIVE_OUT}</h2>
        <p>
          {asked
            ? "All of this office's numbers are given out. Start the office with another share of them (--numbers)."
            : "The office says which numbers are free. Open this again when it is in reach."}
        </p>
      </section>
    );
  if (given)
    return (
      <section>
        <h2>{GIVE_OUT}</h2>
        <p>{given}</p>
        <button type="button" onClick={() => setGiven("")}>
          Give out another roll
        </button>
      </section>
    );
  return (
    <section>
      <h2>{GIVE_OUT}</h2>
      <div class="pair">
        <Counted
          label="How many numbers"
          value={count}
          save={async (number: number) => setCount(Math.min(20000, Math.max(1, number)))}
        />
        <HolderChoice label="To whom" holder={to} devices={devices} give={setTo} />
      </div>
      <button type="button" class="main" onClick={issue}>
        Give out {count} from {shown(next)}
      </button>
    </section>
  );
}
