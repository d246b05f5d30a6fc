/**
 * The lot description and its heading, from the record alone. What the owner told, terms, reserve and price never
 * come in: this module does not read them.
 */

import type { WordsField } from "./fields.ts";
import { centimetresOf, inchesOf } from "./measures.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import type { Sentence } from "./wording.ts";
import { countInWords, listInWords, sentence, withArticle } from "./wording.ts";
import { firstUpper } from "./words.ts";

const LADDER: Record<string, (name: string) => string> = {
  by: (name) => `by ${name}`,
  "attributed-to": (name) => `attributed to ${name}`,
  "workshop-of": (name) => `workshop of ${name}`,
  "circle-of": (name) => `circle of ${name}`,
  "follower-of": (name) => `follower of ${name}`,
  "manner-of": (name) => `in the manner of ${name}`,
  after: (name) => `after ${name}`,
};
const HEDGED = /\b(circa|c\.|ca\.|about|probably|possibly|perhaps|dated|or later|before|after)\b|\?/i;

/** The heading: the thing first, then when and by whom. Null if nobody has named it. */
export function lotHeading(record: RecordCopy): Sentence | null {
  const name = plainName(record);
  if (!name) return null;
  return joined([name, ...dated(record), ...made(record)]);
}

/** The description, sentence by sentence. */
export function lotDescription(plan: Plan | null, book: PlanBook, record: RecordCopy): Sentence[] {
  const name = plainName(record);
  if (!name) return [];
  const { words: what, from: facts } = joined([
    name,
    ...dated(record),
    ...made(record),
    ...said(record, "materials"),
  ]);
  return [
    sentence(what, facts),
    ...said(record, "seen_words").map(({ words, from }) => sentence(words, from)),
    ...colours(record),
    ...(fieldValue(record, "maker_certainty") === "unknown"
      ? [sentence("maker not determined", ["maker_certainty"])]
      : []),
    ...(fieldValue(record, "dates_certainty") === "not-determined"
      ? [sentence("date not determined", ["dates_certainty"])]
      : []),
    ...marks(book, record),
    ...sizes(plan, record),
  ];
}

function joined(parts: Sentence[]): Sentence {
  return { words: parts.map(({ words }) => words).join(", "), from: parts.flatMap(({ from }) => from) };
}

/** What it is, with its article. */
function plainName(record: RecordCopy): Sentence | null {
  const name = fieldValue(record, "short_description")?.trim();
  if (!name) return null;
  const lower = name.charAt(0).toLowerCase() + name.slice(1);
  return {
    words: /^(an?|the|two|three|four|five|six|seven|eight|nine|ten|\d+|pair) /i.test(name)
      ? firstUpper(name)
      : firstUpper(withArticle(lower)),
    from: ["short_description"],
  };
}

/** A field of words, without the stop at its end. */
function said(record: RecordCopy, field: WordsField): Sentence[] {
  const words = fieldValue(record, field)
    ?.trim()
    .replace(/[.\s]+$/, "");
  return words ? [{ words, from: [field] }] : [];
}

/** One hedge to a statement: words that have one get no other. */
function dated(record: RecordCopy): Sentence[] {
  const words = fieldValue(record, "dates")?.words?.trim();
  const certainty = fieldValue(record, "dates_certainty");
  if (!words || certainty === "not-determined") return [];
  const hedge =
    HEDGED.test(words) || certainty === "certain" || !certainty
      ? ""
      : certainty === "probable"
        ? "probably "
        : "possibly ";
  return [{ words: hedge + words, from: ["dates", ...(certainty ? ["dates_certainty"] : [])] }];
}

/** A name is printed only with its rung of the ladder. */
function made(record: RecordCopy): Sentence[] {
  const name = fieldValue(record, "maker")?.trim();
  const rung = LADDER[fieldValue(record, "maker_certainty") ?? ""];
  if (fieldValue(record, "maker_certainty") === "region-period" && name)
    return [{ words: name, from: ["maker", "maker_certainty"] }];
  return name && rung ? [{ words: rung(name), from: ["maker", "maker_certainty"] }] : [];
}

/** Faded "from" is said only where the first colour was seen. */
function colours(record: RecordCopy): Sentence[] {
  const [now] = said(record, "colour_now");
  const [was] = said(record, "colour_was");
  if (now && was)
    return [
      sentence(`colour now ${now.words}; where light did not reach, ${was.words}`, [
        ...now.from,
        ...was.from,
      ]),
    ];
  return now ? [sentence(`colour now ${now.words}; first colour not seen`, now.from)] : [];
}

function marks(book: PlanBook, record: RecordCopy): Sentence[] {
  const live = listed(record, "marks/").filter(({ value }) => !value.withdrawn && value.text.trim());
  const inOrder = live.sort(
    (one, other) =>
      one.value.place.localeCompare(other.value.place) ||
      one.value.text.localeCompare(other.value.text) ||
      one.id.localeCompare(other.id),
  );
  const read = inOrder.map(({ id, value }) => {
    const technique = book.words.techniques.find((one) => one.technique === value.technique)?.words;
    const how = [
      [technique, value.colour.trim() && `in ${value.colour.trim()}`].filter(Boolean).join(" "),
      value.completeness && value.completeness !== "complete" ? value.completeness : "",
    ]
      .filter(Boolean)
      .join(", ");
    const quoted = `“${value.text
      .trim()
      .split(/\s*\n\s*/)
      .join(" / ")}”`;
    return sentence(`mark, ${value.place.trim() || "place not noted"}${how ? `, ${how}` : ""}: ${quoted}`, [
      `marks/${id}`,
    ]);
  });
  const [looked] = said(record, "marks_looked");
  return read.length || !looked
    ? read
    : [
        sentence(
          `no marks found; looked at ${looked.words.charAt(0).toLowerCase()}${looked.words.slice(1)}`,
          looked.from,
        ),
      ];
}

/** In the plan's order, which is the trade's. */
function sizes(plan: Plan | null, record: RecordCopy): Sentence[] {
  const measured = (plan?.measures ?? []).flatMap((one) => {
    const size = fieldValue(record, `measures/${one.measure}`);
    return size?.value
      ? [
          {
            words: `${measureName(one)} ${sizeInWords({ ...size, value: size.value })}`,
            from: [`measures/${one.measure}`],
          },
        ]
      : [];
  });
  return measured.length
    ? [
        sentence(
          listInWords(measured.map(({ words }) => words)),
          measured.flatMap(({ from }) => from),
        ),
      ]
    : [];
}

/** What is measured, without the advice to whoever measures. */
export function measureName({ words }: { words: string }) {
  return (words.split(/[;,]/)[0] ?? "").replace(" in grams", "");
}

/** Centimetres with inches beside them; below 5 cm millimetres. */
export function sizeInWords({ value, unit }: { value: number; unit: string }) {
  if (unit === "n") return countInWords(value);
  if (unit === "g") return `${value} g`;
  return `${value < 50 ? `${value} mm` : centimetresOf(value)} (${inchesOf(value, 16, true)})`;
}
