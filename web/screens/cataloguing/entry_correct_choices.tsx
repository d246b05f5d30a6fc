/** What of an item the desk corrects as one or several of a list: its class, how sure somebody is and of what. */

import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { DATE_CERTAINTIES, firstUpper, MAKER_CERTAINTIES } from "../../job/words.ts";
import { keep, keepAll } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { shortName } from "../../parts/class_drawing.tsx";
import { inOrder } from "../../parts/classes_in_order.ts";
import { Correct } from "./entry_correct.tsx";
import { chosenIn, chosenText, SeveralInText } from "./entry_several.tsx";

type ClassOf = { item: ItemRecord; plan: Plan | null; book: PlanBook };

/** Its plan comes with it, as where a table chooses; what was said of zones stays on record. */
export function CorrectClass({ item, plan, book }: ClassOf) {
  const item_id = item.record_id;
  const before = fieldValue(item, "class_id") ?? "";
  const version = fieldValue(item, "plan_version") ?? "";
  const put = (class_id: string, plan_version: string, correction: string) =>
    keepAll("set_item", [
      { item_id, field: "class_id", value: class_id, correction },
      { item_id, field: "plan_version", value: plan_version },
    ]);
  return (
    <Correct
      called="Class"
      held={`correct ${item_id} class_id`}
      now={{ class_id: before }}
      fields={({ class_id }, set) => (
        <>
          <Select
            label="Class"
            options={inOrder(book).map((known) => [known.class_id, shortName(known)] as const)}
            value={class_id}
            choose={set("class_id")}
          />
          {plan && <p class="hint">What was said about zones stays in the record when the class changes.</p>}
        </>
      )}
      wrong={({ class_id }) => (class_id ? "" : "Choose a class")}
      put={({ class_id = "" }, correction) => put(class_id, book.plans[class_id]?.version ?? "", correction)}
      back={before ? () => put(before, version, "") : undefined}
    />
  );
}

const CERTAINTIES = { maker_certainty: MAKER_CERTAINTIES, dates_certainty: DATE_CERTAINTIES };

type SureOf = { item: ItemRecord; field: keyof typeof CERTAINTIES; called: string };

export function CorrectCertainty({ item, field, called }: SureOf) {
  const item_id = item.record_id;
  const before = fieldValue(item, field) ?? "";
  const put = (value: string, correction: string) => keep("set_item", { item_id, field, value, correction });
  return (
    <Correct
      called={called}
      held={`correct ${item_id} ${field}`}
      now={{ value: before }}
      fields={({ value }, set) => (
        <Choice label={called} options={CERTAINTIES[field]} value={value} choose={set("value")} />
      )}
      put={({ value = "" }, correction) => put(value, correction)}
      back={before ? () => put(before, "") : undefined}
    />
  );
}

type EvidenceOf = {
  item: ItemRecord;
  book: PlanBook;
  field: "maker_evidence" | "dates_evidence";
  called: string;
};

export function CorrectEvidence({ item, book, field, called }: EvidenceOf) {
  const item_id = item.record_id;
  const options = book.words.evidences.map(({ evidence, words }) => [evidence, words] as const);
  const before = chosenText(options, fieldValue(item, field) ?? []);
  const put = (chosen: string, correction: string) =>
    keep("set_item", { item_id, field, value: chosenIn(chosen), correction });
  return (
    <Correct
      called={called}
      held={`correct ${item_id} ${field}`}
      now={{ chosen: before }}
      fields={({ chosen = "" }, set) => (
        <SeveralInText label={called} options={options} text={chosen} set={set("chosen")} />
      )}
      put={({ chosen = "" }, correction) => put(chosen, correction)}
      back={() => put(before, "")}
    />
  );
}

/** What may be stated of the examination, and what is. */
export function CorrectStatements({ item, plan }: { item: ItemRecord; plan: Plan | null }) {
  const item_id = item.record_id;
  const stated = listed(item, "statements/");
  const of_plan = (plan?.negatives ?? []).filter(({ zones }) => !zones.length);
  const words = new Map([
    ...stated.map(({ id, value }) => [id, value.words] as const),
    ...of_plan.map((row) => [row.negative, row.words] as const),
  ]);
  const options = [...words].map(([id, said]) => [id, firstUpper(said)] as const);
  const before = chosenText(
    options,
    stated.filter(({ value }) => !value.withdrawn).map(({ id }) => id),
  );
  if (!options.length) return null;
  const put = (chosen: string, from: string, correction: string) => {
    const [now, then] = [chosenIn(chosen), chosenIn(from)];
    const changed = [...words].filter(([id]) => now.includes(id) !== then.includes(id));
    return keepAll(
      "record_statement",
      changed.map(([statement, said]) => ({
        item_id,
        statement,
        words: said,
        withdrawn: !now.includes(statement),
        correction,
      })),
    );
  };
  return (
    <Correct
      called="Stated"
      held={`correct ${item_id} statements`}
      now={{ chosen: before }}
      fields={({ chosen = "" }, set) => (
        <SeveralInText label="State what is true" options={options} text={chosen} set={set("chosen")} />
      )}
      put={({ chosen = "" }, correction) => put(chosen, before, correction)}
      back={({ chosen = "" }) => put(before, chosen, "")}
    />
  );
}
