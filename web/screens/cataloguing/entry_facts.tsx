/** What is known of an item, in the order of reading. */

import { type Lists, measureWords, sizeWords, testName, testWords } from "../../job/list_words.ts";
import { listedInWords } from "../../job/listed_pieces.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { DATE_CERTAINTIES, firstUpper, MAKER_CERTAINTIES, spaced } from "../../job/words.ts";
import { listsOf } from "../../local/plan_book.ts";
import { spanWords } from "../../parts/date_field.tsx";

type Fact = [name: string, words: string | undefined];

export function Facts({ item, book }: { item: ItemRecord; book: PlanBook | null }) {
  const known = factsOf(item, book).filter(([, words]) => words);
  if (!known.length) return <p class="none">Nothing was said beyond its short description.</p>;
  return (
    <dl class="facts">
      {known.map(([name, words]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{words}</dd>
        </div>
      ))}
    </dl>
  );
}

function factsOf(item: ItemRecord, book: PlanBook | null): Fact[] {
  const lists = listsOf(item);
  const stated = listed(item, "statements/").filter(({ value }) => !value.withdrawn);
  return [
    ["Seen", fieldValue(item, "seen_words")],
    ["Concluded", fieldValue(item, "concluded_words")],
    ["Told by the owner, not checked", fieldValue(item, "told_words")],
    ["Pieces", fieldValue(item, "pieces")?.toString()],
    ["Its pieces, as listed", listedInWords(item)],
    ["Materials", fieldValue(item, "materials")],
    ["Colour now", fieldValue(item, "colour_now")],
    ["Colour where light did not reach", fieldValue(item, "colour_was")],
    ...attribution(item, book),
    ...marksOf(item),
    ["Looked for marks at", fieldValue(item, "marks_looked")],
    ...measuresOf(item, lists),
    ...testsOf(item, lists),
    ["Stated", stated.map(({ value }) => value.words).join("; ")],
    ["Packaging", fieldValue(item, "packaging")],
  ];
}

/** By whom and when, each with how sure and what speaks for it. */
function attribution(item: ItemRecord, book: PlanBook | null): Fact[] {
  const date = fieldValue(item, "dates");
  const maker_certainty = MAKER_CERTAINTIES.find(([key]) => key === fieldValue(item, "maker_certainty"));
  const dates_certainty = DATE_CERTAINTIES.find(([key]) => key === fieldValue(item, "dates_certainty"));
  return [
    ["Maker", sure(fieldValue(item, "maker"), maker_certainty?.[1])],
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
  return live.map(({ value }) => {
    const made = [value.technique, value.colour, value.completeness, spaced(value.standing)]
      .filter(Boolean)
      .join(", ");
    const lines = [value.text, made, value.reading && `Read as: ${value.reading}`];
    return [`Mark, ${value.place || "place not noted"}`, lines.filter(Boolean).join("\n")];
  });
}

function measuresOf(item: ItemRecord, lists: Lists): Fact[] {
  return listed(item, "measures/").flatMap(({ id, value: size }): Fact[] => {
    if (!size.value) return [];
    return [[firstUpper(measureWords(lists, id)), sizeWords(lists, size)]];
  });
}

function testsOf(item: ItemRecord, lists: Lists): Fact[] {
  return listed(item, "tests/").map(({ id, value }) => [
    `Tried: ${testName(lists, id)}`,
    firstUpper(testWords(lists, id, value)),
  ]);
}
