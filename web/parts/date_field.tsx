/** A date in the trade's words, with the years they cover beside them; years and two switches where words do not do. */

import { useState } from "preact/hooks";
import type { Conventions } from "../job/dates.ts";
import { dateOf, readDate } from "../job/dates.ts";
import { Choice } from "./choices.tsx";
import { Typed } from "./controls.tsx";
import { attempt } from "./notices.tsx";

export type DateValue = {
  words: string;
  earliest: number | null;
  latest: number | null;
  edtf: string | null;
};

/** astronomical */
function yearWords(year: number) {
  return year < 1 ? `${1 - year} BC` : String(year);
}

/** The years of a date; its notation stays in exports, since nobody at a table reads it. */
export function spanWords({ earliest, latest, edtf }: DateValue) {
  if (earliest === null && latest === null) return edtf === "XXXX" ? "No year is known" : "No years yet";
  if (earliest === null) return `up to ${yearWords(latest as number)}`;
  if (latest === null) return `from ${yearWords(earliest)}`;
  return earliest === latest ? yearWords(earliest) : `${yearWords(earliest)} to ${yearWords(latest)}`;
}

/** `conventions` are the house's */
export function DateField({
  date,
  conventions,
  save,
}: {
  date: DateValue | null | undefined;
  conventions: Conventions | undefined;
  save: (date: DateValue) => Promise<unknown>;
}) {
  const [problem, setProblem] = useState("");
  const [open, setOpen] = useState(false);
  const typed = async (words: string) => {
    const read = readDate(words, conventions);
    setProblem(words.trim() ? (read.problem ?? "") : "");
    // Words that are not understood are kept as words.
    await save(read.date ?? { words, earliest: null, latest: null, edtf: null });
  };
  return (
    <>
      <div class={problem ? "is-far" : ""}>
        <Typed
          label="Date"
          hint={
            problem
              ? `${problem} The words are kept.`
              : date?.words
                ? spanWords(date)
                : "Such as 1931, circa 1880, late 19th century, before 1840"
          }
          value={date?.words}
          save={typed}
          max={200}
        />
      </div>
      {open ? (
        <Years
          date={date}
          conventions={conventions}
          save={async (chosen: DateValue) => {
            setProblem("");
            await save(chosen);
          }}
          close={() => setOpen(false)}
        />
      ) : (
        <p>
          <button type="button" class="chip" onClick={() => setOpen(true)}>
            Give the years instead
          </button>
        </p>
      )}
    </>
  );
}

function Years({
  date,
  conventions,
  save,
  close,
}: {
  date: DateValue | null | undefined;
  conventions: Conventions | undefined;
  save: (date: DateValue) => Promise<unknown>;
  close: () => void;
}) {
  const [years, setYears] = useState({
    from: String(date?.earliest ?? ""),
    to: String(date?.latest ?? ""),
    how: "",
  });
  const year = (text: string) => (/^-?\d{1,5}$/.test(text.trim()) ? Number(text.trim()) : null);
  const set = (name: string) => async (text: string) => setYears((before) => ({ ...before, [name]: text }));
  const read = dateOf(
    {
      from: year(years.from),
      to: year(years.to),
      about: years.how === "about",
      probably: years.how === "probably",
    },
    conventions,
  );
  return (
    <>
      <div class="pair">
        <Typed label="From the year" value={years.from} save={set("from")} inputmode="numeric" />
        <Typed label="To the year" value={years.to} save={set("to")} inputmode="numeric" />
      </div>
      <Choice
        label="Are these years"
        options={[
          ["", "as they are"],
          ["about", "about"],
          ["probably", "probable"],
        ]}
        value={years.how}
        choose={set("how")}
      />
      <p class="inline">
        <button
          type="button"
          class="main"
          disabled={!read.date}
          onClick={() =>
            attempt(async () => {
              if (read.date) await save(read.date);
              close();
            })
          }
        >
          {read.date ? `Use “${read.date.words}”` : read.problem}
        </button>
        <button type="button" class="quiet" onClick={close}>
          Not now
        </button>
      </p>
    </>
  );
}
