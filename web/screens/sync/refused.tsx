/** An operation that a person must look at: what the office says of it, and what can be done about it. */

import { recordIdOf } from "../../job/operation.ts";
import { operationWords } from "../../job/operation_words.ts";
import { shown } from "../../job/tag.ts";
import { fieldValue } from "../../job/values.ts";
import type { Refused } from "../../local/database.ts";
import { record as recordHere, refused } from "../../local/memory.ts";
import { mayBeSaidBy, sendAgain, setAside } from "../../local/outbox.ts";
import { listsOf } from "../../local/plan_book.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDay, useDevice } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";
import { asItStands, correctable, corrected, LONGEST_VALUE, useCorrection } from "./correction.ts";
import { addressOf } from "./waiting_here.tsx";

/** What the office could not take; what it has kept, and not as it was last entered, stands apart. */
export function refusedHere() {
  return refused.value.filter(({ kept }) => !kept);
}

export function RefusedHere() {
  const operations = refusedHere();
  if (!operations.length) return null;
  return (
    <section>
      <h2>Refused: a person must look</h2>
      {operations.map((one) => (
        <RefusedOne key={asItStands(one)} one={one} />
      ))}
    </section>
  );
}

export function KeptOtherwiseHere() {
  const operations = refused.value.filter(({ kept }) => kept);
  if (!operations.length) return null;
  return (
    <section>
      <h2>Kept, and not as it was last entered: a person must look</h2>
      {operations.map((one) => (
        <KeptOtherwise key={asItStands(one)} one={one} />
      ))}
    </section>
  );
}

function RefusedOne({ one }: { one: Refused }) {
  const { operation } = one;
  const record = recordHere(recordIdOf(operation));
  const between =
    operation.kind === "tie_tag"
      ? record?.disagreements.find(({ field }) => field === `tags/${operation.tag}`)
      : undefined;
  const editable = correctable(operation);
  const isTag = editable?.member === "tag";
  const { text, type } = useCorrection(one, editable?.text ?? "");
  const here = useDevice();
  const day = useDay();
  const other = mayBeSaidBy(here?.person_id, one) ? here : undefined;
  const name = other && (other.person_name ?? fieldValue(day, `people/${other.person_id}`)?.name);
  const again = (how?: { saidNow: true }) =>
    attempt(async () => {
      await sendAgain(one, corrected(editable, text), how);
      sayDone("It waits to be sent again.");
      syncNow();
    });
  return (
    <article class="finding">
      <WhatIsWrong one={one} />
      {between && (
        <p>
          {between.settled
            ? between.settled.choose === "other"
              ? "The desk has settled it: the tag is on this item. Send it again."
              : "The desk has settled it: the tag is on the other item. This one needs a fresh tag."
            : "The desk sees both items as well, and can settle it."}
        </p>
      )}
      {editable && (
        <Typed
          of={one.operation_id}
          max={isTag ? undefined : LONGEST_VALUE}
          label={editable.label}
          value={isTag && text.length === 6 ? shown(text) : text}
          save={type}
        />
      )}
      <p class="buttons">
        <button type="button" onClick={() => again()}>
          {editable ? "Send it corrected" : "Send it again"}
        </button>
        {name && (
          <button type="button" class="quiet" onClick={() => again({ saidNow: true })}>
            {name} says it now
          </button>
        )}
      </p>
    </article>
  );
}

/**
 * An operation whose words the office had erased before they came, entered once more if they were said since then; or
 * one that was taken while somebody put something in its place.
 */
function KeptOtherwise({ one }: { one: Refused }) {
  const editable = correctable(one.operation);
  const { text, type } = useCorrection(one, "");
  const again = () =>
    attempt(async () => {
      await sendAgain(one, corrected(editable, text));
      sayDone("It waits to be sent.");
      syncNow();
    });
  return (
    <article class="finding">
      <WhatIsWrong one={one} />
      {editable && (
        <Typed of={one.operation_id} max={LONGEST_VALUE} label={editable.label} value={text} save={type} />
      )}
      <p class="buttons">
        {editable && (
          <button type="button" disabled={!text.trim()} onClick={again}>
            Send it as said now
          </button>
        )}
        <button type="button" class="quiet" onClick={() => attempt(() => setAside(one))}>
          Nothing to add
        </button>
      </p>
    </article>
  );
}

/** What the office says of an operation, and which one that is. */
function WhatIsWrong({ one: { operation, problem } }: { one: Refused }) {
  const record = recordHere(recordIdOf(operation));
  return (
    <>
      <h3>{problem.title}</h3>
      <p>
        {operationWords(operation, listsOf(record))}
        {record ? (
          <>
            {" "}
            on{" "}
            <a href={addressOf(operation)}>
              {fieldValue(record, "short_description") || fieldValue(record, "ticket") || "this record"}
            </a>
          </>
        ) : null}
      </p>
      <p>
        <strong>{problem.detail}</strong> {problem.hint}
      </p>
    </>
  );
}
