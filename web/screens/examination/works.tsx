/** What works: the class's function tests. When a test must not be made is read before its result can be given. */

import type { TestValue } from "../../job/fields.ts";
import { isForbiddenBeside } from "../../job/forbidden_tests.ts";
import { asked, isTest } from "../../job/progress.ts";
import { withdrawnBy } from "../../job/stopped.ts";
import { keyOfResult, type ResultKey, resultsOf, saidByKey } from "../../job/test_results.ts";
import type { FunctionTest, ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, TO_LOOK_AT } from "../../job/values.ts";
import { worded } from "../../job/worded.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { amend } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { sayWrong } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";
import { Against } from "./both_ways.tsx";
import { Statements } from "./statements.tsx";

type WorksOf = { item: ItemRecord; plan: Plan; book: PlanBook };

/** What is never done at the table, then each trial of the class, then what may be stated of the examination. */
export function Works({ item, plan, book }: WorksOf) {
  const never = plan.tests.filter((test) => !isTest(test));
  const wanted = asked(plan, item, plan.tests);
  // What was said already can be said otherwise.
  const shown = plan.tests.filter((test) => wanted.includes(test) || fieldValue(item, `tests/${test.test}`));
  return (
    <>
      {never.length > 0 && (
        <section class="caution">
          <h2>Never at the table</h2>
          <ul>
            {never.map((test) => (
              <li key={test.test}>{test.how}</li>
            ))}
          </ul>
        </section>
      )}
      {shown.filter(isTest).map((test) => (
        <Test key={test.test} test={worded(plan, item, test)} item={item} book={book} plan={plan} />
      ))}
      <Statements item={item} plan={plan} />
    </>
  );
}

/** As plans say of a trial that it is made of anything: nobody needs to read that. */
const NOTHING_FORBIDS = "nothing forbids it";
const NONE_OF_IT = "not-applicable";

type TestOf = WorksOf & { test: FunctionTest };

function Test({ test, item, plan, book }: TestOf) {
  const done = fieldValue(item, `tests/${test.test}`);
  const held = useHeld(`why not ${item.record_id} ${test.test}`, { asking: false });
  const { asking } = held.form;
  const ask = () => held.set("asking")(true);
  const withdrawn = withdrawnBy(test, item);
  const isForbidden = withdrawn.length > 0 || isForbiddenBeside(plan, test, item);
  const name = test.name?.replace(/^(the|its) /, "") ?? spaced(test.test);
  const made = resultsOf(test, book, done?.result);
  const results = isReasonFor(test, NONE_OF_IT) ? [...made, [NONE_OF_IT, "Does not apply"] as const] : made;
  const isNone = done?.result === "not-done" && done.why === NONE_OF_IT;
  const record = (patch: Partial<TestValue>) =>
    amend("record_test", {
      item_id: item.record_id,
      test: test.test,
      ...(done ? {} : { why: "", note: "" }),
      ...patch,
    });
  const choose = async (result: ResultKey | typeof NONE_OF_IT) => {
    if (result === NONE_OF_IT) await record({ result: "not-done", why: NONE_OF_IT });
    else if (result === "not-done" && (isNone || !done?.why)) return ask();
    else await record(saidByKey(result, done?.why ?? ""));
    held.drop();
  };
  return (
    <article class="finding trial">
      <h3>{name}</h3>
      <p class="hint">
        {firstUpper(test.how)}.
        {test.never_when !== NOTHING_FORBIDS && (
          <>
            {" "}
            <strong>Not when:</strong> {test.never_when}.
          </>
        )}
      </p>
      {withdrawn.length > 0 && (
        <p class="bar wrong">Not to be tried: caution {withdrawn.join(", ")} stands on this item.</p>
      )}
      {isForbidden && !withdrawn.length && (
        <p class="bar wrong">Not to be tried: what is on record of this item forbids it.</p>
      )}
      <Choice
        label={`Result of ${name}`}
        hideLabel={true}
        options={isForbidden ? results.filter(([key]) => key === "not-done" || key === NONE_OF_IT) : results}
        value={asking ? "not-done" : isNone ? NONE_OF_IT : done && keyOfResult(done)}
        choose={choose}
      />
      {asking && (
        <WhyNot
          test={test}
          book={book}
          why={done?.why ?? ""}
          choose={async (why) => {
            await record({ result: "not-done", why });
            held.drop();
          }}
          type={(why) => record({ result: "not-done", why })}
          close={held.drop}
        />
      )}
      {done?.result === "not-done" && !isNone && !asking && (
        <p>
          {book.words.reasons.find(({ reason }) => reason === done.why)?.words ?? done.why}{" "}
          <button type="button" class="quiet" onClick={() => ask().catch(sayWrong)}>
            Another reason
          </button>
        </p>
      )}
      <Against item={item} plan={plan} test={test} />
      {done && <Typed of={test.test} label="Note" value={done.note} save={(note) => record({ note })} />}
    </article>
  );
}

/** Only a zone can be one that the item never had, and only what needs light is hindered by the dark. */
function isReasonFor({ of = [], shows = [], looks, lights }: FunctionTest, reason: string) {
  if (reason === NONE_OF_IT) return of.length + shows.length > 0;
  if (reason === "too-dark") return Boolean(looks || lights.length);
  return reason !== "absent" && reason !== TO_LOOK_AT;
}

type WhyNotOf = {
  test: FunctionTest;
  book: PlanBook;
  why: string;
  choose: (why: string) => unknown;
  type: (why: string) => Promise<unknown>;
  close: () => void;
};

/** One of the house's reasons, or the examiner's own. */
function WhyNot({ test, book, why, choose, type, close }: WhyNotOf) {
  const reasons = book.words.reasons.filter(({ reason }) => reason === why || isReasonFor(test, reason));
  const isOwn = !reasons.some(({ reason }) => reason === why);
  return (
    <>
      <Choice
        label="Why not?"
        options={reasons.map(({ reason, words }) => [reason, words] as const)}
        value={why}
        choose={choose}
      />
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (event.currentTarget.querySelector("input")?.value.trim()) close();
        }}
      >
        <Typed
          of={test.test}
          label="Or in your own words"
          into="record_test.why"
          value={isOwn ? why : ""}
          save={async (words) => (words.trim() ? type(words) : undefined)}
        />
      </form>
    </>
  );
}
