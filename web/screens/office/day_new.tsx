/** The form in which a valuation day is set up. */

import { newId } from "../../job/ids.ts";
import { rememberDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

/** Setting up a day: the house, the place, the date and its tables; people are added afterwards. */
export function NewDay({ close }: { close: () => void }) {
  const {
    form: draft,
    set,
    drop,
  } = useHeld("new day", {
    house: "",
    place: "",
    held_on: new Date().toISOString().slice(0, 10),
    currency: "GBP",
    tables: "3",
  });
  const field = (name: keyof typeof draft, label: string, type = "text") => (
    <div class="field">
      <label for={`day-${name}`}>{label}</label>
      <input
        id={`day-${name}`}
        type={type}
        required
        value={draft[name]}
        onInput={(event) => set(name)(event.currentTarget.value)}
      />
    </div>
  );
  const save = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      const day_id = newId();
      const tables = Array.from({ length: Math.min(30, Number(draft.tables) || 1) }, (_, index) => ({
        table_id: newId(),
        name: `Table ${index + 1}`,
      }));
      await keep("open_day", {
        day_id,
        house: draft.house,
        place: draft.place,
        held_on: draft.held_on,
        currency: draft.currency.toUpperCase(),
        tables,
        people: [],
      });
      await rememberDevice({ day_id });
      drop();
      close();
      sayDone("The day is set up. Add the people who work on it.");
    });
  };
  return (
    <Frame
      title="Set up a day"
      back="#/day"
      action={
        <>
          <button type="button" onClick={close}>
            Not now
          </button>
          <button type="submit" form="new-day" class="main">
            Set it up
          </button>
        </>
      }
    >
      <form id="new-day" onSubmit={save}>
        {field("house", "House")}
        {field("place", "Place")}
        <div class="pair">
          {field("held_on", "Date", "date")}
          {field("currency", "Currency (three letters)")}
        </div>
        {field("tables", "How many tables", "number")}
      </form>
    </Frame>
  );
}
