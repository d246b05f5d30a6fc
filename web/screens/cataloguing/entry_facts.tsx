/** What is known of an item, in the order of reading, each with what puts it right. */

import type { ComponentChildren } from "preact";
import { type Lists, measureWords, sizeWords, testName, testWords } from "../../job/list_words.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { DATE_CERTAINTIES, firstUpper, MAKER_CERTAINTIES, spaced } from "../../job/words.ts";
import { listsOf } from "../../local/plan_book.ts";
import { shortName } from "../../parts/class_drawing.tsx";
import { spanWords } from "../../parts/date_field.tsx";
import {
  CorrectCertainty,
  CorrectClass,
  CorrectEvidence,
  CorrectStatements,
} from "./entry_correct_choices.tsx";
import { CorrectDate, CorrectPieces, listToCorrect } from "./entry_correct_counted.tsx";
import { CorrectTest } from "./entry_correct_looked.tsx";
import { CorrectMark, CorrectSize, CorrectText, type TextFact } from "./entry_corrections.tsx";

/** `correct` is what puts it right. */
type Fact = [name: string, words: ComponentChildren, correct?: ComponentChildren];

/** What stands there before anybody said it, since a lot is hardly described without it. */
const EXPECTED: ReadonlySet<TextFact> = new Set(["short_description", "materials", "maker"]);
const NOT_SAID = <span class="none">not said</span>;

type TextOf = (called: string, field: TextFact) => Fact;
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
  const text: TextOf = (called, field) => [
    called,
    fieldValue(item, field) || (EXPECTED.has(field) && NOT_SAID),
    <CorrectText key={field} item={item} field={field} called={called} />,
  ];
  const lists = listsOf(item);
  const stated = listed(item, "statements/").filter(({ value }) => !value.withdrawn);
  const toState = (plan?.negatives ?? []).some(({ zones }) => !zones.length);
  return [
    [
      "Class",
      plan ? shortName(plan) : NOT_SAID,
      book && <CorrectClass key="class" item={item} plan={plan} book={book} />,
    ],
    text("Short description", "short_description"),
    text("Seen", "seen_words"),
    text("Concluded", "concluded_words"),
    ["Told by the owner, not checked", fieldValue(item, "told_words")],
    [
      "Pieces",
      fieldValue(item, "pieces")?.toString() ?? NOT_SAID,
      <CorrectPieces key="pieces" item={item} />,
    ],
    ["Its pieces, as listed", listToCorrect(item)],
    text("Materials", "materials"),
    text("Colour now", "colour_now"),
    text("Colour where light did not reach", "colour_was"),
    ...attribution(item, book, text),
    ...marksOf(item),
    text("Looked for marks at", "marks_looked"),
    ...measuresOf(item, plan, lists),
    ...testsOf(item, plan, book),
    [
      "Stated",
      stated.map(({ value }) => value.words).join("; ") || (toState && NOT_SAID),
      <CorrectStatements key="stated" item={item} plan={plan} />,
    ],
    text("Packaging", "packaging"),
  ];
}

/** By whom and when, each with how sure and what speaks for it, which are asked for once it is said. */
function attribution(item: ItemRecord, book: PlanBook | null, text: TextOf): Fact[] {
  const date = fieldValue(item, "dates");
  const made = { item, book };
  return [
    text("Maker", "maker"),
    ...howSure({ ...made, of: "maker", isSaid: Boolean(fieldValue(item, "maker")) }),
    ["Date", date?.words || NOT_SAID, book && <CorrectDate key="date" item={item} book={book} />],
    ["Years", date?.words && spanWords(date)],
    ...howSure({ ...made, of: "date", isSaid: Boolean(date?.words) }),
  ];
}

type SureOf = { item: ItemRecord; book: PlanBook | null; of: "maker" | "date"; isSaid: boolean };

function howSure({ item, book, of, isSaid }: SureOf): Fact[] {
  const [certainty, evidence] =
    of === "maker"
      ? (["maker_certainty", "maker_evidence"] as const)
      : (["dates_certainty", "dates_evidence"] as const);
  const [sure, speaks] = [`How sure of the ${of}`, `What speaks for the ${of}`];
  const none = isSaid && NOT_SAID;
  return [
    [
      sure,
      CERTAINTIES.get(fieldValue(item, certainty) ?? "") ?? none,
      <CorrectCertainty key={sure} item={item} field={certainty} called={sure} />,
    ],
    [
      speaks,
      evidenceWords(book, fieldValue(item, evidence)) || none,
      book && <CorrectEvidence key={speaks} item={item} book={book} field={evidence} called={speaks} />,
    ],
  ];
}

const CERTAINTIES = new Map<string, string>([...MAKER_CERTAINTIES, ...DATE_CERTAINTIES]);

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

function testsOf(item: ItemRecord, plan: Plan | null, book: PlanBook | null): Fact[] {
  const lists = { plan, book };
  return listed(item, "tests/").map(({ id, value }) => [
    `Tried: ${testName(lists, id)}`,
    firstUpper(testWords(lists, id, value)),
    book && <CorrectTest key={id} item={item} plan={plan} book={book} test={id} done={value} />,
  ]);
}
