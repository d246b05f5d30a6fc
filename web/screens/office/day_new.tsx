/** The form in which a valuation day is set up. */
import { useState } from "preact/hooks";
import {
  type DayForm,
  formAfter,
  MOST_TABLES,
  peopleAgain,
  wrongWithCurrency,
  wrongWithDay,
} from "../../job/day_form.ts";
import { newId } from "../../job/ids.ts";
import type { DayRecord } from "../../job/types.ts";
import { checkNoneOwed, workOnDay } from "../../local/day.ts";
import { today } from "../../local/day_over.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { AlreadyThere, type SetUpAlready, setUpAlready } from "./day_twice.tsx";

const OF_BEFORE = "again";

/** Setting up a day: the house, the place, the date and its tables, as on the day `before` until that is changed. */
export function NewDay({ before, close }: { before: DayRecord | undefined; close: () => void }) {
  const again = peopleAgain(before);
  const { form: draft, set, drop } = useHeld<DayForm>("new day", formAfter(before, today.peek()));
  const people = draft.people === OF_BEFORE ? again : [];
  const [tried, setTried] = useState(false);
  const currencyWrong = draft.currency.trim().length > 2 && wrongWithCurrency(draft.currency);
  const [there, setThere] = useState<SetUpAlready | null>(null);
  const isTold = there?.held_on === draft.held_on;
  const goTo = (day_id: string) =>
    attempt(async () => {
      await workOnDay(day_id);
      drop();
      close();
    });
  const save = (event: Event) => {
    event.preventDefault();
    setTried(true);
    if (wrongWithDay(draft)) return;
    attempt(async () => {
      checkNoneOwed();
      const already = isTold ? null : await setUpAlready(draft.held_on);
      if (already) return setThere(already);
      const day_id = newId();
      const tables = Array.from({ length: Number(draft.tables) }, (_, index) => ({
        table_id: newId(),
        name: `Table ${index + 1}`,
      }));
      await keep("open_day", {
        day_id,
        house: draft.house,
        place: draft.place,
        held_on: draft.held_on,
        currency: draft.currency.trim().toUpperCase(),
        tables,
        people,
      });
      await workOnDay(day_id);
      drop();
      close();
      sayDone(
        people.length
          ? "The day is set up. Look through its people on this screen; then comes the check before the doors open."
          : "The day is set up. Add its people on this screen; then comes the check before the doors open.",
      );
    });
  };
  return (
    <Frame
      title="Set up a day"
      back="#/day"
      place="#/day"
      action={
        <>
          <button type="button" onClick={close}>
            Not now
          </button>
          <button type="submit" form="new-day" class="main">
            {isTold ? "Set it up all the same" : "Set it up"}
          </button>
        </>
      }
    >
      <form id="new-day" class="add" onSubmit={save}>
        <Typed label="House" into="open_day.house" value={draft.house} save={set("house")} />
        <Typed label="Place" into="open_day.place" value={draft.place} save={set("place")} />
        <div class="pair">
          <Typed label="Date" type="date" value={draft.held_on} save={set("held_on")} />
          <div class={currencyWrong ? "is-wrong" : ""}>
            <Typed
              label="Currency (three letters)"
              hint={currencyWrong || undefined}
              max={3}
              value={draft.currency}
              save={set("currency")}
            />
          </div>
        </div>
        <Counted
          label="How many tables"
          hint={`1 to ${MOST_TABLES}`}
          value={Number(draft.tables)}
          save={(count) => set("tables")(String(count))}
        />
        {again.length > 0 && (
          <Choice
            label="Its people"
            options={[
              [OF_BEFORE, `The ${again.length} of the day before, each with the same work`],
              ["nobody", "Nobody yet"],
            ]}
            value={draft.people}
            choose={set("people")}
          />
        )}
        <div class="is-wrong" role="alert">
          {tried && <p class="hint">{wrongWithDay(draft)}</p>}
        </div>
        {there && isTold && <AlreadyThere day={there} workOn={goTo} />}
      </form>
    </Frame>
  );
}
