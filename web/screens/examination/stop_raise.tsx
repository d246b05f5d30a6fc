/** Raising a caution: the first minute stands first, and what is asked for depends on the row. */

import { newId } from "../../job/ids.ts";
import type { Caution, ItemRecord, PlanBook } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { FirstMinute, Rules } from "../../parts/caution_card.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

/** Beside some things nobody types: then nothing is asked for but that Stop was pressed, and one tap is that. */
export function isAtOnce({ level, still_allowed }: Caution) {
  return level === "red" && !still_allowed?.length;
}

/** Put a caution on an item, with what somebody has told of it. */
export function putOn(
  item_id: string,
  caution: Caution,
  details: { sign: string; called: string; place: string },
) {
  const { hazard, level, still_allowed } = caution;
  const row = { hazard, level, zone: null, still_allowed: still_allowed ?? null };
  return keep("raise_caution", { item_id, caution_id: newId(), ...row, ...details });
}

/** `sign` is what the sign is on, where that is one of its pieces: whoever sees it types on from there. */
type RaiseOf = { item: ItemRecord; sign: string; book: PlanBook; caution: Caution; close: () => void };

/** The chosen sign: what staff may do, and what was seen of it. */
export function Raise({ item, sign, book, caution, close }: RaiseOf) {
  const { form, set, drop } = useHeld(`caution ${caution.hazard} ${item.record_id}`, {
    sign,
    called: "",
    place: "",
  });
  const raise = () =>
    attempt(async () => {
      await putOn(item.record_id, caution, form);
      drop();
      sayDone(caution.level === "red" ? "The item is stopped." : "The caution stands on the item.");
      close();
    });
  return (
    <Frame
      title="Stop"
      back={`#/item/${item.record_id}`}
      item_id={item.record_id}
      stoppedToo={true}
      action={
        <>
          <button type="button" onClick={close}>
            Another sign
          </button>
          <button type="button" class="main" onClick={raise}>
            {caution.level === "red" ? "Stop this item" : "Put the caution on it"}
          </button>
        </>
      }
    >
      <FirstMinute caution={caution} pack={book.cautions} />
      {!isAtOnce(caution) && (
        <section>
          <Typed
            of={caution.hazard}
            label="What was seen"
            into="raise_caution.sign"
            hint="What it looks like, not what it is"
            value={form.sign}
            save={set("sign")}
            lines={2}
          />
          <Typed
            of={caution.hazard}
            label="Who was called, and when they came"
            value={form.called}
            save={set("called")}
          />
          <Typed of={caution.hazard} label="Where it is now" value={form.place} save={set("place")} />
        </section>
      )}
      <Rules caution={caution} />
      <p class="hint">
        {book.cautions.country}. {book.cautions.notice}
      </p>
    </Frame>
  );
}
