/** The words of a lot: made from the record, then the desk's, sentence by sentence. What is printed stands here. */

import { isStopped } from "../../job/cautions.ts";
import { deskAnswers } from "../../job/desk_answers.ts";
import { countDiffering, type DeskText } from "../../job/desk_words.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { Below } from "../../parts/below.tsx";
import { useShortcuts } from "./shortcuts.ts";
import { Text } from "./words_text.tsx";

type WordsOf = { item: ItemRecord; plan: Plan | null; book: PlanBook; texts: DeskText[] };

export function Words({ item, plan, book, texts }: WordsOf) {
  useShortcuts({ e: () => firstSentence()?.focus() });
  return (
    <section class="words">
      <div class="words-head">
        <h3>Words</h3>
        <p class="hint on-screen">
          made from the record, then yours: <kbd>E</kbd> and the arrows show what a sentence rests on
        </p>
      </div>
      <Differences texts={texts} />
      {texts.map((text) => (
        <Text key={text.name} item={item} book={book} text={text} />
      ))}
      <p class="hint">{book.words.caveat}</p>
      <Below>
        {plan && plan.questions.length > 0 && !isStopped(item) && (
          <Answers item={item} plan={plan} book={book} texts={texts} />
        )}
      </Below>
    </section>
  );
}

function firstSentence() {
  return document.querySelector<HTMLElement>(".words [role=option][tabindex='0']");
}

function Differences({ texts }: { texts: DeskText[] }) {
  const count = countDiffering(texts);
  if (!count) return null;
  return (
    <p class="bar on-screen">
      {countWords(count, "sentence")}, marked ≠: the record says something else now than when it was written.
      Keep yours, or take the record's.
    </p>
  );
}

function Answers({ item, plan, book, texts }: WordsOf & { plan: Plan }) {
  return (
    <section>
      <h4>What bidders ask</h4>
      <dl class="answers">
        {deskAnswers(plan, book, item, texts).map(({ question, answer }) => (
          <div key={question}>
            <dt>{question}</dt>
            <dd>{answer.map(({ words }) => words).join(" ")}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
