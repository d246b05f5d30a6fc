/** The words of a lot: made from the record, then the desk's, sentence by sentence. What is printed stands here. */

import { useRef, useState } from "preact/hooks";
import { answerInWords } from "../../job/answer_words.ts";
import { isStopped } from "../../job/cautions.ts";
import { deskAnswers } from "../../job/desk_answers.ts";
import { countDiffering, type DeskText } from "../../job/desk_words.ts";
import { gradedWords } from "../../job/graded.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { Below } from "../../parts/below.tsx";
import { copyWords } from "../../parts/copy_words.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Sign } from "../../parts/sign.tsx";
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
          made from the record, then yours: press a sentence to see what it rests on <kbd>E</kbd>
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
      <p class="hint on-screen">
        Each answer is made of the sentences above and of the record: strike or rewrite the sentence there{" "}
        <kbd>E</kbd>, or press Correct beside the fact or the finding that it rests on, and the answer
        follows.
      </p>
      <dl class="answers">
        {deskAnswers(plan, book, item, texts).map(({ question, answer }) => (
          <Answer
            key={question}
            question={question}
            words={answerInWords(answer)}
            graded={gradedWords({ plan, book }, item, answer)}
          />
        ))}
      </dl>
    </section>
  );
}

/** One of them, to be copied by itself into the letter that answers it; how grave its faults are stands below. */
function Answer({ question, words, graded }: { question: string; words: string; graded: string }) {
  const shown = useRef<HTMLSpanElement>(null);
  const [copied, setCopied] = useState(""); // which words: once they are others, these were not copied
  const copy = () =>
    attempt(async () => {
      const isCopied = shown.current && (await copyWords(shown.current));
      setCopied(isCopied ? words : "");
      sayDone(isCopied ? "The answer is copied." : "The answer is marked: copy it with the keyboard.");
    });
  return (
    <div>
      <dt>{question}</dt>
      <dd>
        <span ref={shown}>{words}</span>{" "}
        <button
          type="button"
          class="quiet on-screen"
          aria-label={`Copy the answer: ${question}`}
          onClick={copy}
        >
          {copied === words ? (
            <>
              <Sign of="check" /> Copied
            </>
          ) : (
            "Copy"
          )}
        </button>
        {graded && <small class="graded">On record as {graded}.</small>}
      </dd>
    </div>
  );
}
