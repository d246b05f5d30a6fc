/** A closed day is corrected by another manager's word, with why: both are kept before anything can be typed. */

import { useState } from "preact/hooks";
import { mayAllow } from "../../job/may_allow.ts";
import type { DayRecord } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";

type AllowsOf = { day: DayRecord; allow: () => void; leave: () => void };

export function AllowsCorrection({ day, allow, leave }: AllowsOf) {
  const [who, setWho] = useState("");
  const [why, setWhy] = useState("");
  const may = mayAllow(day, useDevice()?.person_id ?? "");
  const isSaid = Boolean(who && why.trim());
  const say = async () => {
    await keep("correct_day", {
      day_id: day.record_id,
      field: "allowed_by",
      value: `${who}: ${why.trim()}`,
    });
    allow();
  };
  return (
    <section class="card in-hand" role="alert">
      <h2>This day is closed</h2>
      <p>Two people have signed its closing as it stands, and receipts name its date and place.</p>
      <Select
        label="Which manager allows the correction?"
        empty="Nobody yet"
        options={may.map(({ name }) => [name, name])}
        value={who}
        choose={setWho}
      />
      {!may.length && (
        <p class="hint">Nobody allows their own: put another manager on the day’s list first.</p>
      )}
      <label>
        Why is it corrected?
        <input value={why} maxLength={200} onInput={(event) => setWhy(event.currentTarget.value)} />
      </label>
      <div class="pair">
        <button type="button" onClick={leave}>
          Correct nothing
        </button>
        <button type="button" disabled={!isSaid} onClick={() => attempt(say)}>
          {isSaid ? `Correct it, ${who} allows it` : "Who allows it and why is open"}
        </button>
      </div>
    </section>
  );
}
