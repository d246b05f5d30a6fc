/** A closed day is corrected by another manager's word, with why: both are kept before anything can be typed. */

import { useState } from "preact/hooks";
import { longestText } from "../../job/kinds_read.ts";
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
  const word = `${who}: ${why.trim()}`;
  const room = longestText("correct_day.value") - word.length;
  const isSaid = Boolean(who && why.trim()) && room >= 0;
  const say = async () => {
    await keep("correct_day", { day_id: day.record_id, field: "allowed_by", value: word });
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
        <input
          value={why}
          maxLength={longestText("correct_day.value")}
          onInput={(event) => setWhy(event.currentTarget.value)}
        />
      </label>
      {room < 0 && <p class="hint">Say it in fewer words: the name and why are kept together.</p>}
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
