/** What of an examination the desk corrects: how a zone was, what was looked for on it, what came of a trial. */

import type { Families, TestValue, ZoneState } from "../../job/fields.ts";
import { isForbiddenBeside } from "../../job/forbidden_tests.ts";
import { denialWords, testName } from "../../job/list_words.ts";
import { type Step, zoneName } from "../../job/progress.ts";
import { withdrawnBy } from "../../job/stopped.ts";
import { keyOfResult, type ResultKey, resultsOf, saidByKey } from "../../job/test_results.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { TO_LOOK_AT } from "../../job/values.ts";
import { firstUpper, STATE_WORDS, TEST_RESULTS } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Typed, wholeNumber } from "../../parts/controls.tsx";
import { Correct, type Corrected } from "./entry_correct.tsx";

type ZoneOf = { item: ItemRecord; book: PlanBook; step: Step };

/** What nobody spoke of is left again when it is undone: to be looked at. */
const LEFT: ZoneState = { state: "not-examined", reason: TO_LOOK_AT, light: null, count: null };
const NOT_EXAMINED = "not-examined";

export function CorrectZone({ item, book, step }: ZoneOf) {
  const of = { item_id: item.record_id, zone: step.key };
  const before = step.state;
  const put = (said: ZoneState, correction: string) => keep("examine_zone", { ...of, ...said, correction });
  const isCounted = step.zone.members === "counted";
  const states = Object.entries(STATE_WORDS).filter(
    ([state]) => state !== "finding" || step.findings.length > 0 || before?.state === state,
  );
  const wrong = ({ state, reason, count }: Corrected) => {
    if (!state) return "Say how it is";
    if (state === "clear" && step.findings.length) return "Its findings come off the record first";
    if (state === NOT_EXAMINED) return reason ? "" : "Say why nobody looked";
    return count && wholeNumber(count) === null ? "Give a whole number" : "";
  };
  return (
    <Correct
      called={zoneName(step.key)}
      held={`correct ${item.record_id} zone ${step.key}`}
      now={asForm(before)}
      fields={(form, set) => (
        <>
          <Choice
            label={firstUpper(zoneName(step.key))}
            options={states}
            value={form.state}
            choose={set("state")}
          />
          {form.state === NOT_EXAMINED ? (
            <Select
              label="Why nobody looked"
              options={reasonsIn(book)}
              value={form.reason}
              choose={set("reason")}
            />
          ) : (
            <Select
              label="Looked at with"
              options={lightsIn(book)}
              value={form.light}
              choose={set("light")}
            />
          )}
          {isCounted && form.state !== NOT_EXAMINED && (
            <Typed
              label="How many were counted"
              of={`correct ${step.key}`}
              value={form.count}
              save={set("count")}
              inputmode="numeric"
            />
          )}
        </>
      )}
      wrong={wrong}
      put={(form, correction) => put(asSaid(form), correction)}
      back={() => put(before ?? LEFT, "")}
    />
  );
}

function asForm(said: ZoneState | null | undefined): Corrected {
  const { state = "", reason, light, count } = said ?? {};
  return { state, reason: reason ?? "", light: light ?? "", count: `${count ?? ""}` };
}

function asSaid({ state, reason, light, count = "" }: Corrected): ZoneState {
  const counted = wholeNumber(count);
  if (state === NOT_EXAMINED) return { state, reason: reason || null, light: null, count: counted };
  return { state: state as ZoneState["state"], reason: null, light: light || null, count: counted };
}

const reasonsIn = ({ words }: PlanBook) => words.reasons.map((row) => [row.reason, row.words] as const);
const lightsIn = ({ words }: PlanBook) => words.lights.map((row) => [row.light, row.words] as const);

type DenialOf = { item: ItemRecord; plan: Plan; book: PlanBook; denial: Families["denials"] };

export function CorrectDenial({ item, plan, book, denial }: DenialOf) {
  const { zone, term } = denial;
  const put = (change: Partial<typeof denial>, correction: string) =>
    amend("record_denial", { item_id: item.record_id, zone, term, ...change, correction });
  return (
    <Correct
      called={denialWords({ plan, book }, denial)}
      held={`correct ${item.record_id} denial ${zone} ${term}`}
      now={{ light: denial.light }}
      fields={({ light }, set) => (
        <Select label="Looked for with" options={lightsIn(book)} value={light} choose={set("light")} />
      )}
      wrong={({ light }) => (light ? "" : "Say with what")}
      put={({ light = "" }, correction) => put({ light }, correction)}
      strike={{ words: "Nobody looked for it", put: (correction) => put({ withdrawn: true }, correction) }}
      back={() => put({ light: denial.light, withdrawn: false }, "")}
    />
  );
}

type TestOf = { item: ItemRecord; plan: Plan | null; book: PlanBook; test: string; done: TestValue };

/** What may not be tried has no other result than that it was not, as where a table is asked. */
export function CorrectTest({ item, plan, book, test, done }: TestOf) {
  const of = { item_id: item.record_id, test };
  const { result, why, note } = done;
  const put = (said: TestValue, correction: string) => keep("record_test", { ...of, ...said, correction });
  const known = plan?.tests.find((row) => row.test === test);
  const isForbidden =
    plan && known && (withdrawnBy(known, item).length > 0 || isForbiddenBeside(plan, known, item));
  const results = (known ? resultsOf(known, book, result) : TEST_RESULTS).filter(
    ([key]) => !isForbidden || key === "not-done" || key === result,
  );
  const called = testName({ plan, book }, test);
  const isOwn = (words = "") => !reasonsIn(book).some(([reason]) => reason === words);
  return (
    <Correct
      called={`trial, ${called}`}
      held={`correct ${item.record_id} test ${test}`}
      now={{ result: keyOfResult(done), why_not: result === "not-done" ? why : "", note }}
      fields={(form, set) => (
        <>
          <Choice label={firstUpper(called)} options={results} value={form.result} choose={set("result")} />
          {form.result === "not-done" && (
            <>
              <Select
                label="Why it was not tried"
                options={reasonsIn(book).filter(([reason]) => reason !== TO_LOOK_AT)}
                value={form.why_not}
                choose={set("why_not")}
              />
              <Typed
                label="Or in your own words"
                of={`correct ${test}`}
                into="record_test.why"
                value={isOwn(form.why_not) ? form.why_not : ""}
                save={set("why_not")}
              />
            </>
          )}
          <Typed
            label="Note"
            of={`correct ${test}`}
            into="record_test.note"
            value={form.note}
            save={set("note")}
          />
        </>
      )}
      wrong={(form) =>
        form.result === "not-done" && !form.why_not?.trim() ? "Say why it was not tried" : ""
      }
      put={(form, correction) => put(asTried(form), correction)}
      back={() => put({ result, why, note }, "")}
    />
  );
}

function asTried({ result, why_not = "", note = "" }: Corrected): TestValue {
  return { ...saidByKey(result as ResultKey, why_not.trim()), note };
}
