/** Two people close the day: the manager at this device, and somebody whose own device tells them their code. */

import { closingCode } from "../../job/closing_code.ts";
import { peopleHere } from "../../job/day_facts.ts";
import { beginning, longestText } from "../../job/kinds_read.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

type CloseOf = { day: DayRecord; device: ThisDevice; named: string[] };

/** What a difference is called in the operation that closes the day. */
function inClosing(words: string) {
  return beginning(words, longestText("close_day.named"));
}

export function ClosedBy({ day, named }: Pick<CloseOf, "day" | "named">) {
  const closed = fieldValue(day, "closed");
  if (!closed) return null;
  const since = named.filter((words) => !closed.named.includes(inClosing(words))).length;
  return (
    <p class="bar">
      Closed by {closed.closed_by} and {closed.second_by}, {momentWords(day.fields.closed?.made_at ?? "")},
      with {countWords(closed.named.length, "named difference")}.
      {since > 0 && ` ${since === 1 ? "1 difference has" : `${since} differences have`} come since.`}
    </p>
  );
}

/** A day is closed once: then there is nothing to fill in. Only the manager's device can do it. */
export function Close({ day, device, named }: CloseOf) {
  if (fieldValue(day, "closed")) return null;
  return (
    <section class="on-screen">
      <h2>Close it</h2>
      {device.role === "manager" ? (
        <TwoPeople day={day} device={device} named={named} />
      ) : (
        <p>The manager closes the day at their own device, with a second person.</p>
      )}
    </section>
  );
}

function TwoPeople({ day, device, named }: CloseOf) {
  const people = peopleHere(day);
  const me = people.find(({ person_id }) => person_id === device.person_id);
  const { form, set, drop } = useHeld(`close ${day.record_id}`, { second: "", code: "" });
  const second = people.find(({ person_id }) => person_id === form.second && person_id !== me?.person_id);
  const lacking = whatIsLacking(day, me?.name, second, form.code);
  const close = () =>
    attempt(async () => {
      if (!me || !second) return;
      await keep("close_day", {
        day_id: day.record_id,
        closed_by: me.name,
        second_by: second.name,
        named: named.map(inClosing),
      });
      drop();
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
          options={people.filter((one) => one !== me).map(({ person_id, name }) => [person_id, name])}
          value={form.second}
          choose={set("second")}
        />
        <Typed label="Their code" inputmode="numeric" value={form.code} save={set("code")} max={4} />
      </div>
      <p class="hint">
        They have read the differences above. Their code stands on Today, under Change, on a device where they
        have chosen their own name.
      </p>
      <button type="button" disabled={lacking !== ""} onClick={close}>
        {lacking ||
          (named.length ? `Close with ${countWords(named.length, "named difference")}` : "Close the day")}
      </button>
    </>
  );
}

/** What the key says until two people are there; "" once they are. */
function whatIsLacking(
  day: DayRecord,
  me: string | undefined,
  second: { person_id: string; name: string } | undefined,
  code: string,
) {
  if (!me || !second) return "Two people close a day";
  if (code.trim().length < 4) return `${second.name} gives their code`;
  return code.trim() === closingCode(day.record_id, second.person_id)
    ? ""
    : `This is not the code of ${second.name}`;
}
