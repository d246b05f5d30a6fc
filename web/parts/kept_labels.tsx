/** Labels that were made: opened, or fetched while there is a network and printed when there is none. */

import type { RollCount } from "../job/custody.ts";
import { newId } from "../job/ids.ts";
import type { LabelKind, Print } from "../job/labels_asked.ts";
import { printsOf, rowsOf, toPrint } from "../job/labels_asked.ts";
import { shown } from "../job/tag.ts";
import type { DayRecord } from "../job/types.ts";
import { keepLabels, labelsOf } from "../local/labels.ts";
import { keptLabels, waiting } from "../local/memory.ts";
import { keep } from "../local/outbox.ts";
import { ask } from "../sync/office.ts";
import { attempt, sayDone } from "./notices.tsx";

const FETCH_MS = 120_000; // a long roll on a slow line

const LABELS: Readonly<Record<LabelKind, readonly [string, string]>> = {
  tag: ["string tag", "string tags"],
  bag: ["bag label", "bag labels"],
  box: ["box label", "box labels"],
  crate: ["crate label", "crate labels"],
};

function labelsIn(count: number, label: LabelKind) {
  return `${count} ${LABELS[label][count === 1 ? 0 : 1]}`;
}

type LabelsOf = {
  day: DayRecord;
  roll: RollCount;
  /** How they are to lie on the sheets, as the office is asked. */
  how: Readonly<Record<string, string>>;
};

/** The numbers of a roll that are to get labels: said first, so that no other file has them. */
export function MakeLabels({
  day,
  roll,
  label,
  count,
}: Pick<LabelsOf, "day" | "roll"> & { label: LabelKind; count: number }) {
  const numbers = toPrint(day, roll).slice(0, count);
  const [first] = numbers;
  if (!first) return null;
  const make = () =>
    attempt(async () => {
      const { roll_id } = roll;
      const rows = rowsOf(numbers, roll);
      await keep("print_labels", { day_id: day.record_id, print_id: newId(), roll_id, label, rows });
    });
  return (
    <button type="button" class="main" onClick={make}>
      Make {labelsIn(numbers.length, label)} from {shown(first)} on
    </button>
  );
}

/** The labels that were made of a roll; each has its own numbers, also when it is printed once more. */
export function MadeLabels({ day, roll, how }: LabelsOf) {
  const prints = printsOf(day, roll.roll_id);
  return (
    <>
      {keptLabels.value.has(roll.roll_id) && <OpenKept id={roll.roll_id} />}
      {prints.map((print) => (
        <Made key={print.print_id} print={print} day_id={day.record_id} how={how} />
      ))}
      {prints.length > 0 && (
        <p class="hint">Printed once more they have the same numbers: throw away those of before.</p>
      )}
    </>
  );
}

function Made({ print, day_id, how }: { print: Print; day_id: string; how: LabelsOf["how"] }) {
  const { print_id, label, count, rows, by } = print;
  const kept = keptLabels.value.has(print_id);
  const address = `/labels.pdf?${new URLSearchParams({ ...how, day_id, print_id })}`;
  const isHeard = !waiting.value.some(({ operation_id }) => operation_id === by);
  const fetchThem = () =>
    attempt(async () => {
      const response = await ask(address, { limitMs: FETCH_MS });
      await keepLabels(print_id, await response.arrayBuffer());
      sayDone("The labels are on this device; they print with no network.");
    });
  return (
    <div class="made-labels">
      <p>
        {labelsIn(count, label)} from {shown(rows[0]?.first_tag ?? "")} on
        {!isHeard && ". The office has not heard of them yet: they open once it has"}
      </p>
      <p class="inline">
        {isHeard && (
          <a class="button" href={address} target="_blank" rel="noreferrer">
            Open the labels
          </a>
        )}
        {kept && <OpenKept id={print_id} />}
        {isHeard && (
          <button type="button" class={kept ? "quiet" : ""} onClick={fetchThem}>
            {kept ? "Fetch them anew" : "Keep labels here, to print with no network"}
          </button>
        )}
      </p>
    </div>
  );
}

function OpenKept({ id }: { id: string }) {
  const open = () =>
    attempt(async () => {
      const pdf = await labelsOf(id);
      if (pdf) window.open(URL.createObjectURL(new Blob([pdf], { type: "application/pdf" })), "_blank");
    });
  return (
    <button type="button" onClick={open}>
      Open the kept labels
    </button>
  );
}
