/** What is known of an item, in the order of reading, each with what puts it right. */

import type { ComponentChildren } from "preact";
import { type Lists, measureWords, sizeWords, testName, testWords } from "../../job/list_words.ts";
import { listedInWords } from "../../job/listed_pieces.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { DATE_CERTAINTIES, firstUpper, MAKER_CERTAINTIES, spaced } from "../../job/words.ts";
import { listsOf } from "../../local/plan_book.ts";
import { spanWords } from "../../parts/date_field.tsx";
import { CorrectMark, CorrectSize, CorrectText, type TextFact } from "./entry_corrections.tsx";

/** `correct` is what puts it right. */
type Fact = [name: string, words: ComponentChildren, correct?: ComponentChildren];

/** What stands there before anybody said it, since a lot is hardly described without it. */
const EXPECTED: ReadonlySet<TextFact> = new Set(["short_description", "materials"]);

type FactsOf = { item: ItemRecord; plan: Plan | null; book: PlanBook | null };

export function Facts({ item, plan, book }: FactsOf) {
  const known = factsOf({ item, plan, book }).filter(([, words]) => words);
  return (
    <dl class="facts">
      {known.map(([name, words, correct], index) => (
        <div key={`${name} ${index}`}>
          <dt>{name}</dt>
          <dd>
            {words} {correct}
          </dd>
        </div>
      ))}
    </dl>
  );
}

function factsOf({ item, plan, book }: FactsOf): Fact[] {
  const text = (called: string, field: TextFact): Fact => [
    called,
    fieldValue(item, field) || (EXPECTED.has(field) && <span class="none">not said</span>),
    <CorrectText key={field} item={item} field={field} called={called} />,
  ];
  const lists = listsOf(item);
  const stated = listed(item, "statements/").filter(({ value }) => !value.withdrawn);
  return [
    text("Short description", "short_description"),
    text("Seen", "seen_words"),
    text("Concluded", "concluded_words"),
    ["Told by the owner, not checked", fieldValue(item, "told_words")],
    ["Pieces", fieldValue(item, "pieces")?.toString()],
    ["Its pieces, as listed", listedInWords(item)],
    text("Materials", "materials"),
    text("Colour now", "colour_now"),
    text("Colour where light did not reach", "colour_was"),
    ...attribution(item, book),
    ...marksOf(item),
    text("Looked for marks at", "marks_looked"),
    ...measuresOf(item, plan, lists),
    ...testsOf(item, lists),
    ["Stated", stated.map(({ value }) => value.words).join("; ")],
    text("Packaging", "packaging"),
  ];
}

/** By whom and when, each with how sure and what speaks for it. */
function attribution(item: ItemRecord, book: PlanBook | null): Fact[] {
  const date = fieldValue(item, "dates");
  const maker_certainty = MAKER_CERTAINTIES.find(([key]) => key === fieldValue(item, "maker_certainty"));
  const dates_certainty = DATE_CERTAINTIES.find(([key]) => key === fieldValue(item, "dates_certainty"));
  return [
    [
      "Maker",
      sure(fieldValue(item, "maker"), maker_certainty?.[1]),
      <CorrectText key="maker" item={item} field="maker" called="Maker" />,
    ],
    ["What speaks for the maker", evidenceWords(book, fieldValue(item, "maker_evidence"))],
    ["Date", sure(date?.words, dates_certainty?.[1])],
    ["Years", date?.words && spanWords(date)],
    ["What speaks for the date", evidenceWords(book, fieldValue(item, "dates_evidence"))],
  ];
}

function sure(words: string | undefined, how: string | undefined) {
  return [words, how && `(${how.toLowerCase()})`].filter(Boolean).join(" ");
}

function evidenceWords(book: PlanBook | null, chosen: string[] | undefined) {
  return chosen
    ?.map((name) => book?.words.evidences.find(({ evidence }) => evidence === name)?.words ?? name)
    .join(", ");
}

function marksOf(item: ItemRecord): Fact[] {
  const live = listed(item, "marks/").filter(({ value }) => !value.withdrawn);
  return live.map(({ id, value }) => {
    const made = [value.technique, value.colour, value.completeness, spaced(value.standing)]
      .filter(Boolean)
      .join(", ");
    const lines = [value.text, made, value.reading && `Read as: ${value.reading}`];
    const called = `Mark, ${value.place || "place not noted"}`;
    return [
      called,
      lines.filter(Boolean).join("\n"),
      <CorrectMark key={id} item={item} mark_id={id} mark={value} called={called} />,
    ];
  });
}

function measuresOf(item: ItemRecord, plan: Plan | null, lists: Lists): Fact[] {
  return listed(item, "measures/").flatMap(({ id, value: size }): Fact[] => {
    if (!size.value) return [];
    const called = firstUpper(measureWords(lists, id));
    const correct = <CorrectSize key={id} item={item} plan={plan} measure={id} called={called} />;
    return [[called, sizeWords(lists, size), correct]];
  });
}

function testsOf(item: ItemRecord, lists: Lists): Fact[] {
  return listed(item, "tests/").map(({ id, value }) => [
    `Tried: ${testName(lists, id)}`,
    firstUpper(testWords(lists, id, value)),
  ]);
}
