/** An operation that a person must look at: what the office says of it, and what can be done about it. */

import { recordIdOf } from "../../job/operation.ts";
import type { TieTag } from "../../job/operations.ts";
import { shown } from "../../job/tag.ts";
import type { Operation } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import type { Refused } from "../../local/database.ts";
import { record as recordHere, refused } from "../../local/memory.ts";
import { mayBeSaidBy, sendAgain, setAside } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDay, useDevice } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";
import {
  againWords,
  asItStands,
  correctable,
  corrected,
  LONGEST_VALUE,
  useCorrection,
} from "./correction.ts";
import { calledHere, refusedWords } from "./refused_words.ts";
import { addressOf } from "./waiting_here.tsx";

/** What the office could not take; what it has kept, and not as it was last entered, stands apart. */
export function ToLookAtHere() {
  const all = refused.value;
  return (
    <>
      <ToLookAt title="Refused" operations={all.filter(({ kept }) => !kept)} />
      <ToLookAt title="Kept, and not as it was last entered" operations={all.filter(({ kept }) => kept)} />
    </>
  );
}

function ToLookAt({ title, operations }: { title: string; operations: Refused[] }) {
  if (!operations.length) return null;
  return (
    <section>
      <h2>{title}: a person must look</h2>
      {operations.map((refusal) => (
        <OneToLookAt key={asItStands(refusal)} refusal={refusal} />
      ))}
    </section>
  );
}

const SAID_NOW = { saidNow: true };

/**
 * An operation that was refused, corrected here or sent as it was; or one whose words were erased, or that was taken
 * while somebody put something in its place: that is said now, if at all.
 */
function OneToLookAt({ refusal }: { refusal: Refused }) {
  const { operation, kept, erased } = refusal;
  const isOver = kept || erased;
  const editable = correctable(operation);
  const isTag = editable?.member === "tag";
  const { text, type } = useCorrection(refusal, (!kept && editable?.text) || "");
  const here = useDevice();
  const day = useDay();
  const other = !isOver && mayBeSaidBy(here?.person_id, refusal) ? here : undefined;
  const name = other && (other.person_name ?? fieldValue(day, `people/${other.person_id}`)?.name);
  const anew = isOver && editable ? SAID_NOW : undefined;
  const again = (how?: typeof SAID_NOW) =>
    attempt(async () => {
      if (!(await sendAgain(refusal, corrected(editable, text), how))) return;
      sayDone("It waits to be sent.");
      syncNow();
    });
  return (
    <article class="finding">
      <WhatIsWrong refusal={refusal} />
      {operation.kind === "tie_tag" && <OfTwoItems tie={operation} />}
      {editable && (
        <Typed
          of={refusal.operation_id}
          max={isTag ? undefined : LONGEST_VALUE}
          label={editable.label}
          value={isTag && text.length === 6 ? shown(text) : text}
          save={type}
        />
      )}
      <p class="buttons">
        {(!kept || editable) && (
          <button type="button" disabled={anew && !text.trim()} onClick={() => again(anew)}>
            {anew ? "Send it as said now" : againWords(editable, text)}
          </button>
        )}
        {name && (
          <button type="button" class="quiet" onClick={() => again(SAID_NOW)}>
            {name} says it now
          </button>
        )}
        {(isOver || isClosedSince(operation)) && (
          <button type="button" class="quiet" onClick={() => attempt(() => setAside(refusal))}>
            Nothing to add
          </button>
        )}
      </p>
    </article>
  );
}

/** Two managers closed the day at one moment: it stands closed by one closing, and the other need not be sent. */
function isClosedSince(operation: Operation) {
  const isOfClosing = operation.kind === "close_day" || operation.kind === "sign_closing";
  return isOfClosing && Boolean(recordHere(recordIdOf(operation))?.fields.closed);
}

/** Which of two items a number is on, where both were tied with it. */
function OfTwoItems({ tie }: { tie: TieTag }) {
  const { disagreements = [] } = recordHere(tie.item_id) ?? {};
  const between = disagreements.find(({ field }) => field === `tags/${tie.tag}`);
  if (!between) return null;
  return (
    <p>
      {between.settled
        ? between.settled.choose === "other"
          ? "The desk has settled it: the tag is on this item. Send it again."
          : "The desk has settled it: the tag is on the other item. This one needs a fresh tag."
        : "The desk sees both items as well, and can settle it."}
    </p>
  );
}

/** What the office says of an operation, and which one that is. */
function WhatIsWrong({ refusal: { operation, problem, erased } }: { refusal: Refused }) {
  const record = recordHere(recordIdOf(operation));
  return (
    <>
      <h3>{problem.title}</h3>
      <p>
        {refusedWords(operation)}
        {record ? (
          <>
            {" "}
            on <a href={addressOf(operation)}>{calledHere(record)}</a>
          </>
        ) : null}
      </p>
      <p>
        <strong>{problem.detail}</strong> {problem.hint}
      </p>
      {erased && <p>The owner's words in it were erased since.</p>}
    </>
  );
}
