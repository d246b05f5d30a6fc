/** What is still on this device only, and what the office refused, with what to do. */

import { useState } from "preact/hooks";
import { longestText } from "../../job/kinds_read.ts";
import { fieldOf, recordIdOf } from "../../job/operation.ts";
import { operationWords } from "../../job/operation_words.ts";
import { parseTag, shown } from "../../job/tag.ts";
import type { Operation } from "../../job/types.ts";
import { fieldWords } from "../../job/value_words.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import type { Refused } from "../../local/database.ts";
import { record as recordHere, refused, waiting } from "../../local/memory.ts";
import { correct, mayBeSaidBy, sendAgain, setAside } from "../../local/outbox.ts";
import { photosOnlyHere, refusedPhotos } from "../../local/photos.ts";
import { listsOf } from "../../local/plan_book.ts";
import { Typed } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { bytesWords, clockWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDay, useDevice } from "../../parts/use.ts";
import { type Standing, standing, status } from "../../sync/status.ts";
import { syncNow } from "../../sync/sync.ts";
import { KeptHere, WasForgotten } from "./kept_here.tsx";
import { LackingHere } from "./lacking_here.tsx";
import { LeftHere } from "./left_here.tsx";

const LONG_LIST = 30;

export default function Outbox() {
  const device = useDevice();
  if (!device)
    return (
      <Frame title="On this device" place="#/outbox">
        <p>Reading …</p>
      </Frame>
    );
  // What waits for something else is named first: it does not go by itself.
  const held = [...waiting.value].sort((one, other) => Number(!one.waits) - Number(!other.waits));
  const no = refused.value.filter(({ kept }) => !kept);
  const kept = refused.value.filter(({ kept }) => kept);
  const photos = photosOnlyHere();
  const badPhotos = refusedPhotos();
  const { busy, lastContactAt } = status.value;
  const originals = photos.filter((photo) => !photo.is_thumb);
  const nothing = !held.length && !photos.length && !refused.value.length && !badPhotos.length;
  return (
    <Frame
      title="On this device"
      place="#/outbox"
      action={
        <button type="button" class="main" disabled={busy} onClick={() => syncNow()}>
          {busy ? "Sending …" : "Send now"}
        </button>
      }
    >
      <LackingHere />
      <dl class="counts">
        <div>
          <dt>Records on this device only</dt>
          <dd>
            {held.length} <Bytes bytes={held.length && JSON.stringify(held).length} />
          </dd>
        </div>
        <div>
          <dt>Photos on this device only</dt>
          <dd>
            {originals.length} <Bytes bytes={originals.reduce((sum, { size }) => sum + size, 0)} />
          </dd>
        </div>
        <div>
          <dt>Refused</dt>
          <dd>{no.length + badPhotos.length}</dd>
        </div>
      </dl>
      <p class="lead">
        <WhereItIs stands={standing()} nothing={nothing} />
      </p>
      <p class="hint">
        This is {device.name} ({device.role}).{" "}
        {lastContactAt
          ? `Last heard from the office at ${clockWords(lastContactAt)}.`
          : "The office was not heard from since the app was opened."}
      </p>
      <p>
        <a class="button quiet" href="#/check">
          Check this device
        </a>
      </p>
      {no.length > 0 && (
        <section>
          <h2>Refused: a person must look</h2>
          {no.map((one) => (
            <RefusedOne key={asItStands(one)} one={one} />
          ))}
        </section>
      )}
      {kept.length > 0 && (
        <section>
          <h2>Kept, and not as it was last entered: a person must look</h2>
          {kept.map((one) => (
            <KeptOtherwise key={asItStands(one)} one={one} />
          ))}
        </section>
      )}
      {badPhotos.length > 0 && (
        <section>
          <h2>Photos that the office could not take</h2>
          <ul class="rows">
            {badPhotos.map((photo) => (
              <li key={photo.sha256} class="row">
                <span class="what">
                  {photo.problem.detail} <small>{photo.problem.hint} The file stays on this device.</small>
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      {held.length > 0 && (
        <section>
          <h2>
            Waiting to be sent <span class="count">{held.length}</span>
          </h2>
          <ul class="lines">
            {held.slice(0, LONG_LIST).map((op) => (
              <li key={op.operation_id}>
                <a
                  href={addressOf(op)}
                >{`${clockWords(op.made_at)} ${operationWords(op, listsOf(recordHere(recordIdOf(op))))}`}</a>
                {op.waits && <small class="waits">waits for something else: {op.waits.detail}</small>}
              </li>
            ))}
          </ul>
          {held.length > LONG_LIST && <p class="hint">and {held.length - LONG_LIST} more</p>}
        </section>
      )}
      <WasForgotten />
      <KeptHere />
      <LeftHere />
    </Frame>
  );
}

/** So many bytes, where there are any. */
function Bytes({ bytes }: { bytes: number }) {
  return bytes ? <small>({bytesWords(bytes)})</small> : null;
}

const CHARGED = "Keep this device charged and do not clear its storage:";

/**
 * Where that is which was made here, as far as this device knows; `nothing`: none of it waits to be sent or looked at.
 */
function WhereItIs({ stands, nothing }: { stands: Standing; nothing: boolean }) {
  if (stands === "unknown")
    return (
      <>
        The office does not know this device, so what it sent before may be nowhere else. {CHARGED} once it is{" "}
        <a href="#/pair">paired again</a> it sends what it has.
      </>
    );
  if (!nothing) return <>{CHARGED} what is listed here is nowhere else yet.</>;
  switch (stands) {
    case "not reached":
      return (
        <>
          Everything from this device was at the desk when the office was heard last. It is not reached now.
        </>
      );
    case "not heard yet":
      return <>Nothing waits to be sent. The office was not heard yet since the app was opened.</>;
    case "brought again":
      return (
        <>
          The office has lost something, and this device is sending again what it has. {CHARGED} it may be
          nowhere else.
        </>
      );
    case "lacking":
      return <>This device has sent all that it can send. {CHARGED} what the desk lacks is listed here.</>;
    case "at desk":
      return <>Everything from this device is at the desk.</>;
  }
}

function addressOf(op: Operation) {
  if ("item_id" in op) return `#/item/${op.item_id}`;
  return "visit_id" in op ? `#/visit/${op.visit_id}` : "#/day";
}

/** What of a refused operation can be corrected here: its number, or the words of its field. */
function correctable(op: Operation) {
  if (op.kind === "tie_tag") return { member: "tag", label: "Another tag", text: op.tag };
  const label = firstUpper(fieldWords(fieldOf(op)?.[0] ?? ""));
  return "value" in op && typeof op.value === "string" ? { member: "value", label, text: op.value } : null;
}

/** A box goes with what stands in it: where words are erased, what was typed in their place goes as well. */
function asItStands({ operation_id, operation }: Refused) {
  return `${operation_id} ${correctable(operation)?.text ?? ""}`;
}

/**
 * What somebody is putting in the place of what an operation says; it is kept as they type it, and what is typed in
 * another window of this device shows here as well.
 */
function useCorrection(one: Refused, said: string) {
  const [typing, setTyping] = useState<string | null>(null);
  const type = async (now: string) => {
    setTyping(now);
    await correct(one, said, now);
    setTyping(null);
  };
  return { text: typing ?? one.correction ?? said, type };
}

/** The member of an operation that was corrected, as it is to be sent. */
function corrected(editable: ReturnType<typeof correctable>, text: string) {
  return editable ? { [editable.member]: editable.member === "tag" ? parseTag(text) : text } : {};
}

const LONGEST_VALUE = longestText("set_item.value");

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
