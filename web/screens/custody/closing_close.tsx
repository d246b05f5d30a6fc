/**
 * Two people close the day: the manager signs the list at this device, then somebody reads it here whose own device tells
 * them their code.
 */

import { useEffect, useState } from "preact/hooks";
import type { Found } from "../../job/closing.ts";
import {
  besideSigned,
  foundSince,
  linesOf,
  listOf,
  markOf,
  namedIn,
  type Reasons,
  type SignedFirst,
  signedText,
} from "../../job/closing_reasons.ts";
import { othersHere, peopleHere } from "../../job/day_facts.ts";
import type { ValueAt } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import type { Person } from "../../job/operations.ts";
import type { DayRecord, FieldValue } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import type { Refused } from "../../local/database.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep, keepAll, sendAgain } from "../../local/outbox.ts";
import { sha256Of } from "../../local/photos.ts";
import { Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import type { Held } from "../../parts/use_held.ts";
import { NOBODY_YET, readCode, useOtherDevices } from "./closing_code_read.ts";

/** The second person, and their code with the digest of the list for which it was typed: it is none for another. */
export type SecondSigns = { second: string; code: { text: string; of: string } };
export const NOT_CLOSING: SecondSigns = { second: "", code: { text: "", of: "" } };

type CloseOf = {
  day: DayRecord;
  device: ThisDevice;
  found: readonly Found[];
  reasons: Reasons;
  /** Those of the found of which nobody has said anything; `lead` goes to the first of them. */
  unsaid: readonly Found[];
  lead: () => void;
  signed: Held<{ list: SignedFirst | null }>;
  closing: Held<SecondSigns>;
  second: Person | undefined;
  turnedBack: Refused | undefined;
};

/** Somebody closed the day who had not heard that it was closed: what they named is kept, too. */
function AlsoClosed({ day, other }: { day: DayRecord; other: FieldValue }) {
  const closed = other.value as ValueAt<"closed">;
  const { closed_by, second_by } = closed;
  const named = namedIn(day, closed).map(({ words }) => words);
  return (
    <>
      {" "}
      {closed_by} and {second_by} closed it as well, {momentWords(other.made_at)}, and named{" "}
      {named.length ? named.join("; ") : "no difference"}. The first closing stands until the manager says on{" "}
      <a href="#/day">Day</a> which holds.
    </>
  );
}

function explainedWords(named: readonly { reason: string }[]) {
  const explained = named.filter(({ reason }) => reason).length;
  return named.length ? `, ${explained === named.length ? "all" : explained} of them explained` : "";
}

export function ClosedBy({ day, found }: { day: DayRecord; found: Found[] }) {
  const closed = fieldValue(day, "closed");
  if (!closed) return null;
  const others = day.disagreements.filter(({ field, settled }) => field === "closed" && !settled);
  const named = namedIn(day, closed);
  const since = foundSince(found, named).length;
  return (
    <p class="bar">
      Closed by {closed.closed_by} and {closed.second_by}
      {closed.second_device ? ", whose code was read off another device" : ""},{" "}
      {momentWords(day.fields.closed?.made_at ?? "")}, with {countWords(named.length, "difference")}
      {explainedWords(named)}.
      {since > 0 && ` ${since === 1 ? "1 difference has" : `${since} differences have`} come since.`}
      {others.map(({ disagreement_id, other }) => (
        <AlsoClosed key={disagreement_id} day={day} other={other} />
      ))}
    </p>
  );
}

/** A day is closed once: then there is nothing to fill in. Only the manager's device can do it. */
export function Close(given: CloseOf) {
  const { day, device } = given;
  if (fieldValue(day, "closed")) return null;
  return (
    <section class="on-screen">
      <h2>Close it</h2>
      {device.role === "manager" ? (
        <TwoPeople {...given} />
      ) : (
        <p>The manager closes the day at their own device, with a second person.</p>
      )}
    </section>
  );
}

function TwoPeople(given: CloseOf) {
  const { day, device, turnedBack, signed } = given;
  const me = peopleHere(day).find(({ person_id }) => person_id === device.person_id);
  const first = signed.form.list;
  return (
    <>
      {turnedBack && (
        <p class="bar wrong" role="alert">
          The office did not take the closing. {turnedBack.problem.detail} All that was said is kept.
        </p>
      )}
      {!me && (
        <p>
          <a href="#/today">Choose your name on the Today screen</a>: a day is closed by somebody.
        </p>
      )}
      {me && !first && <SignFirst {...given} me={me} />}
      {me && first && <SignSecond {...given} first={first} />}
    </>
  );
}

/** The digest of a list as it stands; "" while it is made. */
function useDigest(text: string) {
  const [made, setMade] = useState({ text: "", digest: "" });
  useEffect(() => {
    sha256Of(new TextEncoder().encode(text).buffer).then((digest) => setMade({ text, digest }));
  }, [text]);
  return made.text === text ? made.digest : "";
}

function SignFirst({ day, found, reasons, unsaid, lead, signed, me }: CloseOf & { me: Person }) {
  const lines = linesOf(day, found, reasons);
  const digest = useDigest(signedText(lines));
  const sign = () => attempt(() => signed.set("list")({ by: me.name, digest, marks: lines.map(markOf) }));
  return (
    <>
      <p>
        <strong>{me.name}</strong> signs first, at this device. A second person reads what was said, and
        closes.
      </p>
      {unsaid.length ? (
        <button type="button" class="main" onClick={lead}>
          {unsaid.length} still unsaid: go to the next
        </button>
      ) : (
        <button type="button" class="main" disabled={!digest} onClick={sign}>
          Sign {found.length ? countWords(found.length, "difference") : "that everything agrees"}
        </button>
      )}
    </>
  );
}

function SignSecond(given: CloseOf & { first: SignedFirst }) {
  const { day, device, found, reasons, unsaid, lead, signed, closing, second, turnedBack, first } = given;
  const { form, set, drop } = closing;
  const others = useOtherDevices(day, device.device_id);
  const { code } = form;
  const digest = useDigest(signedText(linesOf(day, found, reasons)));
  const { since, mended } = besideSigned(found, reasons, first);
  const reading = {
    code: code.text.trim(),
    day_id: day.record_id,
    own: device.device_id,
    others: others.ids,
  };
  const { second_device, lacking } = second ? readCode(second, reading) : NOBODY_YET;
  const changed = !lacking && code.of !== digest ? CHANGED_SINCE : "";
  const close = () =>
    attempt(async () => {
      if (!second) return;
      const { reason_ids, again } = listOf(day, found, reasons, newId);
      if (again.length) await keepAll("explain_differences", again);
      const body = {
        day_id: day.record_id,
        closed_by: first.by,
        second_by: second.name,
        second_device,
        named: [],
        reasons: [],
        reason_ids,
        count: found.length,
        digest,
        first_digest: first.digest,
      };
      if (turnedBack) await sendAgain(turnedBack, body, { saidNow: true });
      else await keep("close_day", body);
      drop();
      signed.drop();
      sayDone("The day is closed with these differences.");
    });
  return (
    <>
      <p>
        <strong>{first.by}</strong> has signed {countWords(first.marks.length, "difference")}.{" "}
        {since.length > 0 &&
          `${since.length} came up since or ${since.length === 1 ? "was" : "were"} said anew: `}
        {since.length > 0 && "you say why, or send it back. "}
        {mended > 0 && `${mended} mended since.`}
      </p>
      <div class="pair">
        <Select
          label="Second person"
          options={othersHere(day, device.person_id).map(({ person_id, name }) => [person_id, name])}
          value={form.second}
          choose={set("second")}
        />
        <Typed
          label="Their code"
          inputmode="numeric"
          value={code.text}
          save={(text) => set("code")({ text, of: digest })}
          max={4}
        />
      </div>
      <p class="hint">
        They read what was said, here. Their code stands on Today, under Change, on their own device, where
        they have chosen their name. {others.isWhole ? "" : NOT_ALL_KNOWN}
      </p>
      <p class="hint">
        What is checked: that the code is theirs, and comes off another device of this office. Who holds that
        device nobody can check here: it is for the two of you to be two.
      </p>
      {second && unsaid.length ? (
        <button type="button" class="main" onClick={lead}>
          {unsaid.length} still unsaid: go to the next
        </button>
      ) : (
        <button type="button" class="main" disabled={Boolean(lacking || changed || !digest)} onClick={close}>
          {lacking || changed || closeWords(found.length)}
        </button>
      )}
      <button type="button" class="quiet" onClick={() => signed.drop()}>
        Send it back to {first.by}
      </button>
    </>
  );
}

const CHANGED_SINCE = "The list has changed since the code was typed: read it, then type the code again";

function closeWords(count: number): string {
  return count ? `Close the day with ${countWords(count, "difference")}` : "Close the day";
}

const NOT_ALL_KNOWN =
  "The office is not reached, so a device that has recorded nothing of this day is not known here yet.";
