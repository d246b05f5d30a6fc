/** The item in words: what the record says, read aloud and read back before the owner goes. */
import { useState } from "preact/hooks";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { Condition } from "../../parts/condition.tsx";
import { Frame } from "../../parts/frame.tsx";
import { InWords } from "../../parts/in_words.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { OwnerSide } from "../../parts/owner_side.tsx";
import { Sign } from "../../parts/sign.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";

export default function Words({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [turned, setTurned] = useState(false);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book)
    return (
      <Frame title="In words" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  if (turned)
    return (
      <OwnerSide staff="The owner is reading" turnBack={() => setTurned(false)}>
        <h1>{firstUpper(fieldValue(item, "short_description") || "")}</h1>
        <InWords plan={plan} item={item} book={book} />
      </OwnerSide>
    );
  return (
    <Frame
      title="In words"
      back={back}
      item_id={item.record_id}
      action={
        <>
          <button type="button" onClick={() => setTurned(true)}>
            <Sign of="turn" /> To the owner
          </button>
          <NextStep item={item} here="/words" />
        </>
      }
    >
      <section>
        <h2>Overall condition</h2>
        <Condition plan={plan} item={item} change={true} />
      </section>
      <InWords plan={plan} item={item} book={book} />
    </Frame>
  );
}
