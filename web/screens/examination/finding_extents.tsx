/** How large a finding is, or how many, in the ways that its term allows. */

import { useLayoutEffect, useRef } from "preact/hooks";
import type { FindingValue, Size } from "../../job/fields.ts";
import type { PlanBook, Term } from "../../job/types.ts";
import { Choice } from "../../parts/choices.tsx";
import { Counted } from "../../parts/controls.tsx";
import { SizeField } from "../../parts/sizes.tsx";
import type { Change } from "./finding_severity.tsx";

const EVERY_WAY = ["mm", "n", "%", "txt"];
const MOST_MM = 5000;

type ExtentsOf = {
  id: string;
  value: FindingValue;
  term: Term | undefined;
  book: PlanBook;
  change: Change;
};

export function Extents({ id, value, term, book, change }: ExtentsOf) {
  const allowed = new Set(term?.extents ?? EVERY_WAY);
  const sizes = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => sizes.current?.querySelector("input")?.focus(), []); // it was opened to type a size
  return (
    <>
      <div class="pair" ref={sizes}>
        {(allowed.has("mm") || allowed.has("mm2")) && (
          <Length
            id={id}
            label={allowed.has("mm2") ? "Longest" : "Length"}
            mm={value.extent_mm}
            save={(extent_mm) => change({ extent_mm })}
          />
        )}
        {allowed.has("mm2") && (
          <Length
            id={id}
            label="Across"
            mm={value.extent_mm_across}
            save={(extent_mm_across) => change({ extent_mm_across })}
          />
        )}
        {allowed.has("n") && (
          <Counted
            of={id}
            label="How many"
            value={value.extent_count}
            save={async (count) => count > 0 && change({ extent_count: count })}
          />
        )}
        {allowed.has("%") && (
          <Counted
            of={id}
            label="Share of the zone"
            unit="%"
            value={value.extent_percent}
            save={async (share) => share > 0 && share <= 100 && change({ extent_percent: share })}
          />
        )}
      </div>
      {allowed.has("%") && !value.extent_percent && (
        <Choice
          label="or in words"
          options={book.words.extents.map(({ words, share }) => [words, `${words}, ${share}`] as const)}
          value={value.extent_words}
          choose={(extent_words) => change({ extent_words })}
        />
      )}
    </>
  );
}

type LengthOf = {
  id: string;
  label: string;
  mm: number | null;
  save: (mm: number | null) => Promise<unknown>;
};

function Length({ id, label, mm, save }: LengthOf) {
  const size: Size | null = mm === null ? null : { value: mm, unit: "mm", typed: "" };
  return (
    <SizeField of={id} label={label} unit="mm" most={MOST_MM} size={size} save={({ value }) => save(value)} />
  );
}
