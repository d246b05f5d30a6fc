/**
 * The day is closed: a visit that is opened all the same, or an item that goes onto one, is taken in by a manager's
 * word, which stays on record with it; so is another word on where an owner is.
 */

import { useState } from "preact/hooks";
import { mayAllow } from "../../job/may_allow.ts";
import { fieldValue } from "../../job/values.ts";
import type { AfterClosingOf } from "../../parts/after_closing.tsx";
import { Select } from "../../parts/choices.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";

/** What is at stake, and the two ways on from here. */
const WORDS = {
  visit: {
    why: "Whatever is taken in now is in no closing that two people have read.",
    no: "Open no visit",
    yes: "Open the visit",
  },
  item: {
    why: "What comes onto the table now is in no closing that two people have read.",
    no: "Open no item",
    yes: "Open the item",
  },
  stage: {
    why: "The closing that two people have read says where its owner was.",
    no: "Leave it as it is",
    yes: "Say it all the same",
  },
};

export function AsksManager({ day, what, open, leave }: AfterClosingOf) {
  const [allowed_by, setAllowedBy] = useState("");
  const person_id = useDevice()?.person_id ?? "";
  const may = mayAllow(day, person_id);
  const { why, no, yes } = WORDS[what];
  if (!fieldValue(day, "closed")) return null;
  return (
    <section class="card in-hand" role="alert">
      <h2>After the closing</h2>
      <p>{why} Ask the manager first.</p>
      <Select
        label="Which manager allows it?"
        empty="Nobody yet"
        options={may.map(({ name }) => [name, name])}
        value={allowed_by}
        choose={setAllowedBy}
      />
      {!may.length && (
        <p class="hint">
          Nobody allows their own, and nobody else is on the day’s list: a manager puts one there.
        </p>
      )}
      <div class="pair">
        <button type="button" onClick={leave}>
          {no}
        </button>
        <button type="button" disabled={!allowed_by} onClick={() => attempt(() => open(allowed_by))}>
          {allowed_by ? `${yes}, ${allowed_by} allows it` : "Nobody has allowed it yet"}
        </button>
      </div>
    </section>
  );
}
