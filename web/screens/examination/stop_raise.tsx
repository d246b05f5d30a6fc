/** Raising a caution: what staff may and may not do is read before the item is stopped. */

import { newId } from "../../job/ids.ts";
import type { Caution, ItemRecord, PlanBook } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use.ts";

export function Rules({ caution }: { caution: Caution }) {
  return (
    <>
      <p class="lead">
        <strong>{caution.caution}</strong>
      </p>
      <dl class="facts">
        <div>
          <dt>Staff may</dt>
          <dd>{caution.may}</dd>
        </div>
        <div>
          <dt>Staff may not</dt>
          <dd>{caution.may_not}</dd>
        </div>
        <div>
          <dt>Who decides</dt>
          <dd>{caution.who}; local law and licensed practice</dd>
        </div>
        <div>
          <dt>Rests on</dt>
          <dd>{caution.basis}</dd>
        </div>
      </dl>
    </>
  );
}

type RaiseOf = { item: ItemRecord; book: PlanBook; caution: Caution; close: () => void };

/** The chosen sign: what staff may do, and what was seen of it. */
export function Raise({ item, book, caution, close }: RaiseOf) {
  const { said, set, drop } = useHeld(`caution ${caution.hazard} ${item.record_id}`, {
    sign: "",
    called: "",
    place: "",
  });
  const raise = () =>
    attempt(async () => {
      await keep("raise_caution", {
        item_id: item.record_id,
        caution_id: newId(),
        hazard: caution.hazard,
        level: caution.level,
        zone: null,
        ...said,
        sign: said.sign || caution.sign,
      });
      drop();
      sayDone(caution.level === "red" ? "The item is stopped." : "The caution stands on the item.");
      close();
    });
  return (
    <Frame
      title="Stop"
      back={`#/item/${item.record_id}`}
      item={item}
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
      <section class="caution">
        <h2>{LEVEL_WORDS[caution.level]}</h2>
        <p>{caution.subject}</p>
      </section>
      <Rules caution={caution} />
      <section>
        <Typed
          of={caution.hazard}
          label="What was seen"
          hint="What it looks like, not what it is"
          value={said.sign}
          save={set("sign")}
          lines={2}
        />
        <Typed
          of={caution.hazard}
          label="Who was called, and when they came"
          value={said.called}
          save={set("called")}
        />
        <Typed of={caution.hazard} label="Where it is now" value={said.place} save={set("place")} />
      </section>
      <p class="hint">
        {book.cautions.country}. {book.cautions.notice}
      </p>
    </Frame>
  );
}
