/** Two people close the day: the manager at this device, and somebody whose own device tells them their code. */

import type { Found } from "../../job/closing.ts";
import {
  foundSince,
  inClosing,
  namedIn,
  type Reasons,
  reasonFor,
  reasonsInOrder,
} from "../../job/closing_reasons.ts";
import { othersHere, peopleHere } from "../../job/day_facts.ts";
import type { ValueAt } from "../../job/fields.ts";
import type { DayRecord, FieldValue } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { NOBODY_YET, readCode, useOtherDevices } from "./closing_code_read.ts";

type CloseOf = {
  day: DayRecord;
  device: ThisDevice;
  named: string[];
  reasons: Reasons;
  /** Let go of the reasons as they were entered: they stand in the closing. */
  letGo: () => void;
};

/** Somebody closed the day who had not heard that it was closed: what they named is kept, too. */
function AlsoClosed({ other }: { other: FieldValue }) {
  const { closed_by, second_by, named } = other.value as ValueAt<"closed">;
  return (
    <>
      {" "}
      {closed_by} and {second_by} closed it as well, {momentWords(other.made_at)}, and named{" "}
      {named.length ? named.join("; ") : "no difference"}. The first closing stands until the manager says on{" "}
      <a href="#/day">Day</a> which holds.
    </>
  );
}

function explainedWords({ named, reasons }: ValueAt<"closed">) {
  const explained = (reasons ?? []).filter(Boolean).length;
  return named.length ? `, ${explained === named.length ? "all" : explained} of them explained` : "";
}

export function ClosedBy({ day, found }: { day: DayRecord; found: Found[] }) {
  const closed = fieldValue(day, "closed");
  if (!closed) return null;
  const others = day.disagreements.filter(({ field, settled }) => field === "closed" && !settled);
  const since = foundSince(found, namedIn(closed)).length;
  return (
    <p class="bar">
      Closed by {closed.closed_by} and {closed.second_by}
      {closed.second_device ? ", whose code was read off another device" : ""},{" "}
      {momentWords(day.fields.closed?.made_at ?? "")}, with {countWords(closed.named.length, "difference")}
      {explainedWords(closed)}.
      {since > 0 && ` ${since === 1 ? "1 difference has" : `${since} differences have`} come since.`}
      {others.map(({ disagreement_id, other }) => (
        <AlsoClosed key={disagreement_id} other={other} />
      ))}
    </p>
  );
}

/** A day is closed once: then there is nothing to fill in. Only the manager's device can do it. */
export function Close(given: CloseOf) {
  const { day, device } = given;
  if (fieldValue(day, "closed")) return null;
  return (
    <section class="on-screen">
      <h2>Close it</h2>
      {device.role === "manager" ? (
        <TwoPeople {...given} />
      ) : (
        <p>The manager closes the day at their own device, with a second person.</p>
      )}
    </section>
  );
}

function TwoPeople({ day, device, named, reasons, letGo }: CloseOf) {
  const people = peopleHere(day);
  const me = people.find(({ person_id }) => person_id === device.person_id);
  const { form, set, drop } = useHeld(`close ${day.record_id}`, { second: "", code: "" });
  const secondPeople = othersHere(day, device.person_id);
  const second = secondPeople.find(({ person_id }) => person_id === form.second);
  const others = useOtherDevices(day, device.device_id);
  const reading = {
    code: form.code.trim(),
    day_id: day.record_id,
    own: device.device_id,
    others: others.ids,
  };
  const { second_device, lacking } = me && second ? readCode(second, reading) : NOBODY_YET;
  const close = () =>
    attempt(async () => {
      if (!me || !second) return;
      await keep("close_day", {
        day_id: day.record_id,
        closed_by: me.name,
        second_by: second.name,
        named: named.map(inClosing),
        second_device,
        reasons: reasonsInOrder(named, reasons),
      });
      drop();
      letGo();
      sayDone("The day is closed with these differences.");
    });
  return (
    <>
      <p>
        {me ? (
          <>
            <strong>{me.name}</strong> closes it at this device.
          </>
        ) : (
          <>
            <a href="#/today">Choose your name on the Today screen</a>: a day is closed by somebody.
          </>
        )}
      </p>
      <div class="pair">
        <Select
          label="Second person"
          options={secondPeople.map(({ person_id, name }) => [person_id, name])}
          value={form.second}
          choose={set("second")}
        />
        <Typed label="Their code" inputmode="numeric" value={form.code} save={set("code")} max={4} />
      </div>
      <p class="hint">
        They have read the differences. Their code stands on Today, under Change, on their own device, where
        they have chosen their name. {others.isWhole ? "" : NOT_ALL_KNOWN}
      </p>
      <p class="hint">
        What is checked: that the code is theirs, and comes off another device of this office. Who holds that
        device nobody can check here: it is for the two of you to be two.
      </p>
      <button type="button" disabled={lacking !== ""} onClick={close}>
        {lacking || closeWords(named, reasons)}
      </button>
    </>
  );
}

/** The key says with how much the day is closed, and of how much of it nobody has said anything. */
function closeWords(named: string[], reasons: Reasons): string {
  const left = named.filter((words) => !reasonFor(reasons, words)).length;
  if (!named.length) return "Close the day";
  return `Close with ${countWords(named.length, "difference")}${left ? `, ${left} of them unexplained` : ""}`;
}

const NOT_ALL_KNOWN =
  "The office is not reached, so a device that has recorded nothing of this day is not known here yet.";
