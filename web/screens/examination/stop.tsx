/**
 * Stop, on an item: a sign of hazard or restriction was noticed. Which sign it is, what to do in the first minute, who
 * decides; and later what they decided. The tool never says what a thing is, nor that it is safe.
 */

import { useState } from "preact/hooks";
import type { Caution } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { Signs } from "../../parts/caution_signs.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { isAtOnce, putOn, Raise } from "./stop_raise.tsx";
import { Raised } from "./stop_raised.tsx";

export default function Stop({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [chosen, setChosen] = useState<Caution | null>(null);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book?.cautions)
    return (
      <Frame title="Stop" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  if (chosen) return <Raise item={item} book={book} caution={chosen} close={() => setChosen(null)} />;
  const raised = listed(item, "cautions/");
  const choose = (caution: Caution) => {
    scrollTo(0, 0);
    if (!isAtOnce(caution)) return setChosen(caution);
    attempt(async () => {
      await putOn(item_id, caution);
      sayDone("The item is stopped. If it was the wrong sign, say so by name under “What was decided”.");
    });
  };
  const to_item = (
    <a class="button main" href={back}>
      Back to the item
    </a>
  );
  return (
    <Frame title="Stop" back={back} item_id={item.record_id} stoppedToo={true} action={to_item}>
      {raised.map(({ id, value }) => (
        <Raised key={id} id={id} value={value} item={item} book={book} />
      ))}
      <section>
        <h2>{raised.length ? "Another sign" : "Hands off. What was noticed?"}</h2>
        <Signs pack={book.cautions} plan={plan} choose={choose} />
      </section>
      <p class="hint">
        {book.cautions.country}. {book.cautions.notice}
      </p>
      <p>
        <a class="button" href="#/cards">
          Cards to print
        </a>
      </p>
    </Frame>
  );
}
