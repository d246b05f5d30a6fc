/** Tried and measured: what works, and how large it is, on one screen. */

import { useEffect } from "preact/hooks";
import type { ItemRecord } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { attempt } from "../../parts/notices.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { Measures } from "./measures.tsx";
import { untried, Works } from "./works.tsx";

const TITLE = "Tried and measured";

export default function Tried({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const back = `#/item/${item_id}`;
  const isReady = Boolean(item && plan && book);
  useEffect(() => {
    if (isReady && location.hash.endsWith("/measures")) beginMeasuring();
  }, [isReady]);
  if (!item || plan === undefined || !book)
    return (
      <Frame title={TITLE} back={back}>
        <p>Reading …</p>
      </Frame>
    );
  const left = plan ? untried(plan, item).map(({ test }) => test) : [];
  return (
    <Frame
      title={TITLE}
      back={back}
      item_id={item_id}
      isAsking // what is said here is pressed again to take it back: an undo would be of what was said of a zone
      action={<NextStep item={item} here="/measures" />}
    >
      {plan ? (
        <>
          <Works item={item} plan={plan} book={book} />
          {left.length > 0 && <RestNotDone item={item} tests={left} />}
          <Measures item={item} plan={plan} />
        </>
      ) : (
        <p class="lead">The class decides what is tried and measured.</p>
      )}
    </Frame>
  );
}

/** Whoever comes to measure begins with the first size that nobody took. */
function beginMeasuring() {
  document.getElementById("measures")?.scrollIntoView();
  const fields = document.querySelectorAll<HTMLInputElement>("#measures input");
  [...fields].find(({ value }) => !value)?.focus();
}

function RestNotDone({ item, tests }: { item: ItemRecord; tests: string[] }) {
  const skip = async () => {
    const item_id = item.record_id;
    for (const test of tests)
      await keep("record_test", { item_id, test, result: "not-done", why: "no-time", note: "" });
  };
  return (
    <button type="button" onClick={() => attempt(skip)}>
      Rest not done: no time ({tests.length})
    </button>
  );
}
