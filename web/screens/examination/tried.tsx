/** Tried and measured: what works, and how large it is, on one screen. */

import { useEffect } from "preact/hooks";
import { NO_TIME, restUntried } from "../../job/rest_untried.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { attempt } from "../../parts/notices.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { Measures } from "./measures.tsx";
import { Works } from "./works.tsx";

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
          <RestNotDone item={item} plan={plan} />
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

/** What was not tried and could have been: what a finding or a caution forbids was left for that, and not for time. */
function RestNotDone({ item, plan }: { item: ItemRecord; plan: Plan }) {
  const left = restUntried(plan, item);
  const forbidden = left.filter(({ why }) => why !== NO_TIME).length;
  if (!left.length) return null;
  const skip = async () => {
    for (const { test, why } of left)
      await keep("record_test", { item_id: item.record_id, test, result: "not-done", why, note: "" });
  };
  const counts = [
    forbidden < left.length && `no time (${left.length - forbidden})`,
    forbidden > 0 && `forbidden (${forbidden})`,
  ];
  return (
    <button type="button" onClick={() => attempt(skip)}>
      Rest not done: {counts.filter(Boolean).join(", ")}
    </button>
  );
}
