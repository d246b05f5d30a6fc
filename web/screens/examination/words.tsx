/** The item in words: what the record says, read aloud and read back before the owner goes. */
import { Condition } from "../../parts/condition.tsx";
import { Frame } from "../../parts/frame.tsx";
import { InWords } from "../../parts/in_words.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";

export default function Words({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book)
    return (
      <Frame title="In words" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  return (
    <Frame
      title="In words"
      back={back}
      item_id={item.record_id}
      action={<NextStep item={item} here="/words" />}
    >
      <section>
        <h2>Overall condition</h2>
        <Condition plan={plan} item={item} change={true} />
      </section>
      <InWords plan={plan} item={item} book={book} />
    </Frame>
  );
}
