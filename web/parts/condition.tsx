/** The overall condition of an item, with what it rests on and what it cannot say; stability beside it, never mixed. */

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { isStopped } from "../job/cautions.ts";
import { type Grade, gradeOf, lookedWords, looksLeft, stabilityOf, stepsFrom } from "../job/condition.ts";
import { notBetterWords, riskWords } from "../job/condition_words.ts";
import { listInWords } from "../job/english.ts";
import { photosOf } from "../job/progress.ts";
import type { Plan, RecordCopy } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { firstUpper } from "../job/words.ts";
import { keep } from "../local/outbox.ts";
import { listsOf } from "../local/plan_book.ts";
import { Choice } from "./choices.tsx";
import { Typed } from "./controls.tsx";
import { attempt } from "./notices.tsx";
import { StabilityWords } from "./stability.tsx";
import { useHeld } from "./use_held.ts";

const NOT_GRADED = {
  held: "Not graded: held",
  "too little examined": "Not graded: too little examined",
  "differed since":
    "Not graded: it differed when it was checked in, and what is on it was not recorded since",
};

/** `change` lets the valuer change the word; what is said of the figures behind it stands inside. */
export function Condition({
  plan,
  item,
  change = false,
  children,
}: {
  plan: Plan | null;
  item: RecordCopy;
  change?: boolean;
  children?: ComponentChildren;
}) {
  if (!plan || plan.refer_only)
    return <p class="none">{plan ? "Not graded: it is referred, not examined." : "Choose a class first."}</p>;
  if (isStopped(item))
    return (
      <p class="lead">
        <strong>Stopped.</strong> Nothing is said of its condition until whoever decides has cleared it.
      </p>
    );
  const { word, computed, moved, reason, stale, coverage, so_far, not_graded, because } = gradeOf(plan, item);
  const stability = stabilityOf(item);
  const lists = { ...listsOf(item), plan };
  const looks = coverage ? looksLeft(plan, item) : [];
  return (
    <>
      <p class="lead">
        <strong>{not_graded ? NOT_GRADED[not_graded] : firstUpper(word as string)}</strong>
        {word && so_far ? ", so far as examined" : ""}
      </p>
      {moved && (
        <p>
          The valuer's word: {reason}. Computed: {computed}.
        </p>
      )}
      {stale && (
        <p class="bar">
          The record has changed since a valuer moved the word, so the computed one stands. Look again.
        </p>
      )}
      <p class="hint">
        {lookedWords(coverage)}
        {looks.length > 0 && `, without ${listInWords(looks, "or")}`}.
        {word && !photosOf(item).length ? " No photograph shows it." : ""}
      </p>
      {children}
      {because.length > 0 && <p class="hint">{notBetterWords(lists, item, because)}</p>}
      <p class="hint">
        To keep and to move: <StabilityWords {...stability} isSeen={coverage > 0} />.{" "}
        {riskWords(lists, item, stability)}
      </p>
      {plan.scale.length > 0 && <OwnScale plan={plan} item={item} change={change} />}
      {change && computed && (
        <Move key={computed} item={item} computed={computed} word={word} moved={moved} reason={reason} />
      )}
      {word && (
        <details>
          <summary>What this word cannot say</summary>
          <ul>
            <li>It compares within {plan.name.toLowerCase()} only, by what the house thinks counts most.</li>
            <li>
              Where the class has a scale of its own, as coins and books do, that scale is printed and this
              word is not.
            </li>
            <li>
              It is no price and no insurance figure, and it is never published without the findings
              themselves.
            </li>
            <li>Two careful people will differ by one word.</li>
          </ul>
        </details>
      )}
    </>
  );
}

/** The trade's scale of the class, which is what is printed. */
function OwnScale({ plan, item, change }: { plan: Plan; item: RecordCopy; change: boolean }) {
  const own = fieldValue(item, "class_grade");
  if (!change)
    return (
      <p>
        On the scale of its class: <strong>{own || "not graded yet"}</strong>. This is the one that is
        printed.
      </p>
    );
  return (
    <Choice
      label="On the scale of its class, which is the one printed"
      options={plan.scale.map((word) => [word, word] as const)}
      value={own}
      choose={(value: string) => keep("set_item", { item_id: item.record_id, field: "class_grade", value })}
    />
  );
}

/** The valuer may move the word by one step and says why. */
function Move({
  item,
  computed,
  word,
  moved,
  reason,
}: {
  item: RecordCopy;
  computed: Grade;
  word: Grade | null;
  moved: boolean;
  reason: string;
}) {
  const [open, setOpen] = useState(false);
  const {
    form: { to, why },
    set,
    drop,
  } = useHeld(`grade ${item.record_id}`, {
    to: moved ? word : null,
    why: reason,
  });
  const record = (chosen: Grade | null) =>
    attempt(async () => {
      await keep("record_grade", {
        item_id: item.record_id,
        word: chosen,
        computed,
        reason: chosen ? why : "",
      });
      drop();
      setOpen(false);
    });
  if (!open)
    return (
      <button type="button" onClick={() => setOpen(true)}>
        {moved ? "Change the valuer's word" : "Change this word by one step"}
      </button>
    );
  const ready = to && to !== computed && why.trim();
  return (
    <>
      <Choice
        label="The valuer's word"
        options={[computed, ...stepsFrom(computed)].map((step) => [
          step,
          step === computed ? `${step}, as computed` : step,
        ])}
        value={to ?? computed}
        choose={set("to")}
      />
      <Typed of={computed} label="Why" value={why} save={set("why")} />
      <p class="inline">
        {to === null || to === computed ? (
          <button type="button" onClick={() => record(null)}>
            Leave it as computed
          </button>
        ) : (
          <button type="button" class="main" disabled={!ready} onClick={() => record(to)}>
            {ready ? "Keep this word" : "Say why first"}
          </button>
        )}
      </p>
    </>
  );
}
