/** What of an item the desk corrects, each in its own form: words, a size, a mark, a finding. */

import { apartFromBasis, sizeOf, unitLastTyped, unitOfBare, withUnit } from "../../job/bare_sizes.ts";
import type { FindingValue, MarkValue } from "../../job/fields.ts";
import type { SetItem } from "../../job/operations.ts";
import { sizeInWords } from "../../job/size_words.ts";
import type { ItemRecord, Measure, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Correct, type Corrected } from "./entry_correct.tsx";

const LONG = 3; // lines

/** Facts that are a text and nobody's words but the house's. */
export type TextFact = Extract<
  SetItem["field"],
  | "short_description"
  | "seen_words"
  | "concluded_words"
  | "materials"
  | "colour_now"
  | "colour_was"
  | "maker"
  | "marks_looked"
  | "packaging"
>;

export function CorrectText({ item, field, called }: { item: ItemRecord; field: TextFact; called: string }) {
  const item_id = item.record_id;
  const before = fieldValue(item, field) ?? "";
  const put = (value: string, correction: string) => keep("set_item", { item_id, field, value, correction });
  return (
    <Correct
      called={called}
      held={`correct ${item_id} ${field}`}
      now={{ value: before }}
      fields={({ value }, set) => (
        <Typed
          label={called}
          of={`correct ${field}`}
          into="set_item.value"
          value={value}
          save={set("value")}
          lines={LONG}
        />
      )}
      put={({ value = "" }, correction) => put(value.trim(), correction)}
      back={() => put(before, "")}
    />
  );
}

type SizeOf = { item: ItemRecord; plan: Plan | null; measure: string; called: string };

/** A size is read as it is at a table; what it is taken for stands below it before it is kept. */
export function CorrectSize({ item, plan, measure, called }: SizeOf) {
  const item_id = item.record_id;
  const before = fieldValue(item, `measures/${measure}`);
  if (!before) return null;
  const { unit, basis = "" } = before;
  const row = plan?.measures.find((known) => known.measure === measure) ?? ONE_OF_BEFORE;
  const read = (text: string) => readAs(text, { item, plan, row: { ...row, unit } });
  const put = (value: typeof before, correction: string) =>
    keep("record_measure", { item_id, measure, ...value, basis: value.basis ?? "", correction });
  return (
    <Correct
      called={called}
      held={`correct ${item_id} ${measure}`}
      now={{ size: before.typed }}
      fields={({ size }, set) => (
        <Typed
          label={called}
          of={`correct ${measure}`}
          into="record_measure.typed"
          value={size}
          save={set("size")}
          below={(text) => <Understood value={read(text).value} unit={unit} />}
        />
      )}
      wrong={({ size = "" }) => (read(size).value === null ? WRONG[unit] : "")}
      put={({ size = "" }, correction) => {
        const { value, typed, basis: said } = read(size);
        return put({ value, unit, typed, basis: said || basis }, correction);
      }}
      strike={{
        words: "It was not measured",
        put: (correction) => put({ value: null, unit, typed: "", basis: "" }, correction),
      }}
      back={() => put(before, "")}
    />
  );
}

const WRONG = {
  mm: "Give a length such as 12.5 cm",
  g: "Give a weight such as 518 g",
  n: "Give a whole number",
};
/** Of a class that it had before, whose plan asks for none. */
const ONE_OF_BEFORE = { least: null, most: Infinity, bases: [] as string[] };

type Row = Pick<Measure, "unit" | "bases" | "most"> & { least?: number | null | undefined };

function readAs(text: string, { item, plan, row }: { item: ItemRecord; plan: Plan | null; row: Row }) {
  const { size, basis } = apartFromBasis(text, row.bases);
  const usual = row.unit === "mm" ? plan?.sizes_in : undefined;
  const bare = unitLastTyped(item, plan?.measures ?? [], row.unit, usual);
  const typed = withUnit(size, unitOfBare(size, bare, row));
  return { typed, basis, value: sizeOf(typed, row.unit) };
}

function Understood({ value, unit }: { value: number | null; unit: string }) {
  return value === null ? null : <p class="hint">That is {sizeInWords({ value, unit })}.</p>;
}

type MarkOf = { item: ItemRecord; mark_id: string; mark: MarkValue; called: string };

export function CorrectMark({ item, mark_id, mark, called }: MarkOf) {
  const put = (change: Partial<MarkValue>, correction: string) =>
    amend("record_mark", { item_id: item.record_id, mark_id, ...change, correction });
  const { text, place, reading } = mark;
  const words = { text: "As it stands", place: "Where", reading: "Read as" } as const;
  return (
    <Correct
      called={called}
      held={`correct ${item.record_id} ${mark_id}`}
      now={{ text, place, reading }}
      fields={(form, set) =>
        (["text", "place", "reading"] as const).map((name) => (
          <Typed
            key={name}
            label={words[name]}
            of={`correct ${mark_id}`}
            into={`record_mark.${name}`}
            value={form[name]}
            save={set(name)}
            lines={name === "text" ? LONG : 1}
          />
        ))
      }
      put={(form, correction) =>
        put({ text: form.text, place: form.place, reading: form.reading }, correction)
      }
      strike={{ words: "There is no such mark", put: (correction) => put({ withdrawn: true }, correction) }}
      back={() => put({ text, place, reading, withdrawn: false }, "")}
    />
  );
}

type FindingOf = { item: ItemRecord; book: PlanBook; id: string; finding: FindingValue; called: string };

/** What its owner told of one is theirs, and is not rewritten here. */
export function CorrectFinding({ item, book, id, finding, called }: FindingOf) {
  const put = (change: Partial<FindingValue>, correction: string) =>
    amend("record_finding", { item_id: item.record_id, finding_id: id, ...change, correction });
  const isTold = finding.certainty === "told";
  const severity = `${finding.severity ?? ""}`;
  const before: Corrected = isTold ? { severity } : { severity, note: finding.note };
  return (
    <Correct
      called={called}
      held={`correct ${item.record_id} ${id}`}
      now={before}
      fields={(form, set) => (
        <>
          <Choice
            label="Severity"
            options={book.words.severities.map((row) => [`${row.severity}`, firstUpper(row.words)] as const)}
            value={form.severity || null}
            choose={set("severity")}
          />
          {!isTold && (
            <Typed
              label="Note"
              of={`correct ${id}`}
              into="record_finding.note"
              value={form.note}
              save={set("note")}
              lines={LONG}
            />
          )}
        </>
      )}
      put={(form, correction) => put(changeOf(form), correction)}
      strike={{ words: "It is not so", put: (correction) => put({ withdrawn: true }, correction) }}
      back={() => put({ ...changeOf(before), withdrawn: false }, "")}
    />
  );
}

function changeOf({ severity, note }: Corrected): Partial<FindingValue> {
  return { severity: Number(severity), ...(note === undefined ? {} : { note }) };
}
