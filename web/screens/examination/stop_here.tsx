/** Stop where there is no item: at the door, on a visit, with the porter. What to do first, found within a tap. */

import { useState } from "preact/hooks";
import type { Caution } from "../../job/types.ts";
import { FirstMinute, Rules } from "../../parts/caution_card.tsx";
import { Signs } from "../../parts/caution_signs.tsx";
import { Frame } from "../../parts/frame.tsx";
import { usePlanBook } from "../../parts/use.ts";

export default function StopHere() {
  const book = usePlanBook();
  const [chosen, setChosen] = useState<Caution | null>(null);
  if (!book?.cautions)
    return (
      <Frame title="Stop">
        <p class="lead">
          <strong>Hands off, people away, call the safety lead.</strong>
        </p>
        <p>The cautions are not on this device yet.</p>
      </Frame>
    );
  const pack = book.cautions;
  const choose = (caution: Caution) => {
    setChosen(caution);
    scrollTo(0, 0);
  };
  const action = (
    <>
      {chosen && (
        <button type="button" onClick={() => setChosen(null)}>
          Another sign
        </button>
      )}
      <button type="button" class="main" onClick={() => history.back()}>
        Go back
      </button>
    </>
  );
  return (
    <Frame title="Stop" action={action}>
      {chosen ? (
        <>
          <FirstMinute caution={chosen} pack={pack} />
          <p class="bar">
            Nothing is recorded by this page. When people are away, tell the safety lead ticket, time, place
            and what was seen; if it is on an item's record, press Stop there too.
          </p>
          <Rules caution={chosen} />
        </>
      ) : (
        <section>
          <h2>Hands off. What was noticed?</h2>
          <Signs pack={pack} choose={choose} />
        </section>
      )}
      <p class="hint">
        {pack.country}. {pack.notice}
      </p>
      <p>
        <a class="button" href="#/cards">
          Cards to print
        </a>
      </p>
    </Frame>
  );
}
