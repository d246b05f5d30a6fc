/** Differences that people raise and settle, each on record with who was there. */

import { useState } from "preact/hooks";
import { itemNamed } from "../../job/closing_found.ts";
import { DIFFERENCES, ENDS, OF_NO_OWNER } from "../../job/closing_kinds.ts";
import type { DifferenceValue } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import type { RaiseDifference, SettleDifference } from "../../job/operations.ts";
import { ticketWords } from "../../job/tickets.ts";
import type { DayRecord, ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { NO_NAME } from "../../parts/no_name.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { RecordPhotos } from "../../parts/record_photos.tsx";
import { useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { usePrivateName, WITH_THE_NAME } from "./closing_private_name.tsx";

/** The differences that somebody raised, and how each ended. */
export function Raised({ day }: { day: DayRecord }) {
  const raised = listed(day, "differences/");
  if (!raised.length) return null;
  return (
    <section>
      <h2>Raised today</h2>
      {raised.map(({ id, value }) => (
        <OneRaised key={id} day={day} id={id} raised={value} />
      ))}
    </section>
  );
}

function OneRaised({ day, id, raised }: { day: DayRecord; id: string; raised: DifferenceValue }) {
  const end = fieldValue(day, `difference-ends/${id}`);
  return (
    <article class="finding">
      <h3>{DIFFERENCES.find(([key]) => key === raised.difference)?.[1]}</h3>
      <p>
        {raised.words ? `${raised.words.replace(/[.\s]+$/, "")}.` : "Nothing written."}{" "}
        {!OF_NO_OWNER.has(raised.difference) &&
          (raised.owner_told ? "The owner is told." : "The owner is not told.")}
        {raised.told ? ` Told as well: ${raised.told}.` : ""}
      </p>
      <RecordPhotos record={day} difference_id={id} words="the difference" />
      {end ? (
        <p>
          <strong>{ENDS.find(([key]) => key === end.ended)?.[1]}</strong>, with {end.second_by}. {end.words}
        </p>
      ) : (
        <Settle day_id={day.record_id} difference_id={id} />
      )}
    </article>
  );
}

const ENDED = "How it ended";

type Ending = { ended: SettleDifference["ended"] | null; words: string; second_by: string };
const NOT_ENDED: Ending = { ended: null, words: "", second_by: "" };

function Settle({ day_id, difference_id }: { day_id: string; difference_id: string }) {
  const { form, set, drop, isOld } = useHeld(`settle ${difference_id}`, NOT_ENDED);
  const { ended } = form;
  const [isOpen, setOpen] = useState(isOld);
  const putAway = () => {
    drop();
    setOpen(false);
  };
  const ready = ended && form.second_by.trim();
  const named = usePrivateName(day_id, `${form.words} ${form.second_by}`.trim());
  const settle = () =>
    attempt(async () => {
      if (named.asksFirst()) return;
      if (ended) await keep("settle_difference", { day_id, difference_id, ...form, ended });
      drop();
    });
  if (!isOpen)
    return (
      <p>
        <button type="button" onClick={() => setOpen(true)}>
          {ENDED}
        </button>{" "}
        <small>Press it once it has ended. Until then say in the list what is known of it.</small>
      </p>
    );
  return (
    <>
      <Choice label={ENDED} options={ENDS} value={form.ended} choose={set("ended")} />
      <div class="pair">
        <Typed
          of={difference_id}
          label="What was done"
          hint={NO_NAME}
          into="settle_difference.words"
          value={form.words}
          save={set("words")}
        />
        <Typed of={difference_id} label="Second person" value={form.second_by} save={set("second_by")} />
      </div>
      {named.warning}
      <button type="button" disabled={!ready} onClick={settle}>
        {!ready ? "Say how it ended and who was there" : named.isAsked ? WITH_THE_NAME : "Settle it"}
      </button>
      <button type="button" class="quiet" onClick={putAway}>
        Not ended yet: put this away
      </button>
    </>
  );
}

type Difference = {
  difference: RaiseDifference["difference"] | null;
  words: string;
  thing_id: string;
  owner_told: "yes" | "no";
  told: string;
};

export function Raise({ day_id, items }: { day_id: string; items: ItemRecord[] }) {
  const { form, set, drop, isOld } = useHeld<Difference>(`difference ${day_id}`, {
    difference: null,
    words: "",
    thing_id: "",
    owner_told: "no",
    told: "",
  });
  const [open, setOpen] = useState(isOld);
  const tickets = new Map(useRecords("visit", day_id)?.map((visit) => [visit.record_id, ticketWords(visit)]));
  const { difference } = form;
  const named = usePrivateName(day_id, `${form.words} ${form.told}`.trim());
  const raise = () =>
    attempt(async () => {
      if (!difference || named.asksFirst()) return;
      await keep("raise_difference", {
        day_id,
        difference_id: newId(),
        difference,
        words: form.words,
        thing_id: form.thing_id || null,
        owner_told: form.owner_told === "yes",
        told: form.told,
      });
      drop();
      setOpen(false);
      sayDone("The difference is on record until it is settled. Photograph what there is to see.");
    });
  if (!open)
    return (
      <p>
        <button type="button" onClick={() => setOpen(true)}>
          Note a difference
        </button>
      </p>
    );
  return (
    <section>
      <h2>Note a difference</h2>
      <Choice
        label="What does not agree?"
        options={DIFFERENCES.filter(([key]) => !OF_NO_OWNER.has(key))}
        value={form.difference}
        choose={set("difference")}
      />
      <Select
        label="Which item"
        options={items.map((item) => [item.record_id, itemNamed(item, tickets.get(item.visit_id) ?? "")])}
        value={form.thing_id}
        empty="None, or not known"
        choose={set("thing_id")}
      />
      <Typed
        label="What was seen and done first"
        hint={NO_NAME}
        into="raise_difference.words"
        value={form.words}
        save={set("words")}
        lines={2}
      />
      <Choice
        label="Is the owner told?"
        options={[
          ["yes", "Yes"],
          ["no", "Not yet"],
        ]}
        value={form.owner_told}
        choose={set("owner_told")}
      />
      <Typed label="Who else is told" value={form.told} save={set("told")} max={200} />
      {named.warning}
      <button type="button" class="main" disabled={!difference} onClick={raise}>
        {!difference ? "Say what does not agree first" : named.isAsked ? WITH_THE_NAME : "Put it on record"}
      </button>
    </section>
  );
}
