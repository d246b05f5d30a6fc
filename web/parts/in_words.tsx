/** What the record says in words: heading, description, condition paragraph and the five answers. Nothing is added. */

import { answerInWords } from "../job/answer_words.ts";
import { fiveAnswers } from "../job/answers.ts";
import { SECOND, saidBehind } from "../job/behind.ts";
import { isStopped } from "../job/cautions.ts";
import { lotDescription, lotHeading } from "../job/lot.ts";
import { conditionParagraph } from "../job/paragraph.ts";
import { asText } from "../job/sentences.ts";
import type { Plan, PlanBook, RecordCopy } from "../job/types.ts";
import { firstUpper } from "../job/words.ts";
import { Below } from "./below.tsx";

export function InWords({
  plan,
  item,
  book,
  heading: Level = "h2",
}: {
  plan: Plan | null;
  item: RecordCopy;
  book: PlanBook;
  heading?: "h2" | "h4";
}) {
  const heading = lotHeading(book, item);
  const description = lotDescription(plan, book, item);
  const paragraph = plan ? conditionParagraph(plan, book, item) : [];
  const behind = saidBehind(item);
  return (
    <>
      <section>
        <Level>Lot description</Level>
        {heading ? (
          <>
            <p class="lead">
              <strong>{heading.words}</strong>
            </p>
            <p class="read">{asText(description)}</p>
          </>
        ) : (
          <p class="none">Nobody has said what it is.</p>
        )}
      </section>
      <section>
        <Level>Condition</Level>
        {behind.length > 0 && <p class="read">{`${firstUpper(SECOND)} ${behind.join("; ")}.`}</p>}
        {paragraph.length ? (
          <>
            <p class="read">{asText(paragraph)}</p>
            <p class="hint">{book.words.caveat}</p>
          </>
        ) : (
          <p class="none">No zone was spoken of yet.</p>
        )}
      </section>
      {plan && plan.questions.length > 0 && !isStopped(item) && (
        <section>
          <Level>What bidders ask</Level>
          <Below>
            <Answers plan={plan} item={item} book={book} />
          </Below>
        </section>
      )}
    </>
  );
}

function Answers({ plan, item, book }: { plan: Plan; item: RecordCopy; book: PlanBook }) {
  return (
    <dl class="answers">
      {fiveAnswers(plan, book, item).map(({ question, answer }) => (
        <div key={question}>
          <dt>{question}</dt>
          <dd class="read">{answerInWords(answer)}</dd>
        </div>
      ))}
    </dl>
  );
}
