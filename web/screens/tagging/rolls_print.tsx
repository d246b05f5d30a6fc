/** The labels of a roll: on which sheet, how many, from where on; made at the office. */

import { useState } from "preact/hooks";
import type { RollCount } from "../../job/custody.ts";
import { type LabelKind, toPrint, whyNoLabels } from "../../job/labels_asked.ts";
import type { DayRecord } from "../../job/types.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { MadeLabels, MakeLabels } from "../../parts/kept_labels.tsx";

/** A sheet of labels that the office can print on. */
export type Sheet = { sheet: string; words: string; columns: number; rows: number };
type Asked = {
  sheet: string;
  kind: LabelKind;
  start: number;
  pieces: number;
  dots_per_inch: string;
  count: number;
  caution: string;
};

const KINDS = [
  ["tag", "String tags"],
  ["bag", "Bag labels"],
  ["box", "Box labels"],
  ["crate", "Crate labels"],
] as const;
const PRINTERS = [
  ["203", "203 dots an inch"],
  ["300", "300"],
  ["600", "600"],
] as const;

export function Print({ day, roll, sheets }: { day: DayRecord; roll: RollCount; sheets: Sheet[] }) {
  const left = toPrint(day, roll).length;
  const [asked, setAsked] = useState<Asked>({
    sheet: sheets[0]?.sheet ?? "",
    kind: "tag",
    start: 1,
    pieces: 1,
    dots_per_inch: "300",
    count: Math.max(1, left),
    caution: "",
  });
  const sheet = sheets.find((known) => known.sheet === asked.sheet);
  if (!sheet) return <p class="none">The office has not told its label sheets yet.</p>;
  const set = (patch: Partial<Asked>) => setAsked((before) => ({ ...before, ...patch }));
  const { kind, count, ...how } = asked;
  const words = Object.entries(how).map(([name, value]) => [name, String(value)]);
  const why = whyNoLabels(asked, left, sheet.columns * sheet.rows);
  return (
    <div class="roll-print">
      <AskedFields asked={asked} set={set} of={roll.roll_id} sheet={sheet} sheets={sheets} />
      {why.length > 0 && (
        <p class="bar wrong" role="alert">
          {why.join(" ")}
        </p>
      )}
      <p class="inline">
        {why.length === 0 && <MakeLabels {...{ day, roll, count }} label={kind} />}
        <a
          class="button"
          href={`/labels/calibration.pdf?sheet=${asked.sheet}`}
          target="_blank"
          rel="noreferrer"
        >
          Calibration page
        </a>
      </p>
      <MadeLabels {...{ day, roll }} how={Object.fromEntries(words)} />
      <p class="hint">
        Print at full size (100 %), without “fit to page”. Lay the calibration page over your stock first.
      </p>
    </div>
  );
}

type AskedFieldsOf = {
  asked: Asked;
  set: (patch: Partial<Asked>) => void;
  of: string;
  sheet: Sheet;
  sheets: Sheet[];
};

function AskedFields({ asked, set, of, sheet, sheets }: AskedFieldsOf) {
  return (
    <>
      <Choice label="Labels" options={KINDS} value={asked.kind} choose={(kind) => set({ kind })} />
      <Select
        label="On"
        options={sheets.map((known) => [known.sheet, known.words] as const)}
        value={asked.sheet}
        choose={(name) => set({ sheet: name, start: 1 })}
      />
      <div class="pair">
        <Counted
          of={`${of} n`}
          label="How many"
          value={asked.count}
          save={async (count: number) => set({ count: Math.max(1, count) })}
        />
        <Counted
          of={`${of} p`}
          label="Pieces to a thing"
          hint="Each piece gets a number: “piece 2 of 3”"
          value={asked.pieces}
          save={async (pieces: number) => set({ pieces: Math.max(1, pieces) })}
        />
        <Counted
          of={`${of} s`}
          label="Begin at label"
          hint={`1 to ${sheet.columns * sheet.rows}, for a half-used sheet`}
          value={asked.start}
          save={async (start: number) => set({ start: Math.max(1, start) })}
        />
        <Typed
          of={of}
          label="Caution mark"
          hint="Printed on each, such as “held apart”; empty for none"
          value={asked.caution}
          max={40}
          save={async (caution: string) => set({ caution })}
        />
        <Choice
          label="Printer"
          options={PRINTERS}
          value={asked.dots_per_inch}
          choose={(dots_per_inch) => set({ dots_per_inch })}
        />
      </div>
    </>
  );
}
