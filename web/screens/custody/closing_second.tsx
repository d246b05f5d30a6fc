/** The second person of a closing: they read what was signed with what came up since, and close the day. */

import { heardFrom } from "../../job/changed_since.ts";
import { besideSigned, linesOf, listOf, type SignedFirst, signedText } from "../../job/closing_reasons.ts";
import { namesToChoose } from "../../job/day_facts.ts";
import { othersThan } from "../../job/others_here.ts";
import type { DayRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { records } from "../../local/memory.ts";
import { keep, keepAll, sendAgain } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { NOBODY_YET, readCode, useOtherDevices } from "./closing_code_read.ts";
import { type CloseOf, digestOf, goToClose, idsBehind, useDigest } from "./closing_signed.ts";

const ofDay = (day: DayRecord) => ({
  day,
  visits: records("visit", day.record_id) ?? [],
  items: records("item", day.record_id) ?? [],
  containers: records("container", day.record_id) ?? [],
});

export function SignSecond(given: CloseOf & { first: SignedFirst }) {
  const { day, device, found, reasons, unsaid, lead, closing, second, isAtOwn, turnedBack, first } = given;
  const { form, set, drop } = closing;
  const others = useOtherDevices(day, device.device_id);
  const { code } = form;
  const list = signedText(linesOf(day, found, reasons));
  const digest = useDigest(list);
  const { since, mended } = besideSigned(found, reasons, first);
  const reading = {
    code: code.text.trim(),
    day_id: day.record_id,
    own: device.device_id,
    others: others.ids,
  };
  const read = second ? readCode(second, reading) : NOBODY_YET;
  const { second_device, lacking } = isAtOwn ? AT_OWN : read;
  const changed = !isAtOwn && !lacking && code.of !== digest ? CHANGED_SINCE : "";
  // Once nothing is left to fill in, the gold key is the deed itself.
  const isReady = Boolean(second && digest && !unsaid.length && !lacking && !changed);
  const close = () =>
    attempt(async () => {
      if (!second) return;
      const { reason_ids, again } = listOf(day, found, reasons, idsBehind(day));
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
        first_signing: first.id,
        heard: heardFrom(ofDay(day)),
      };
      if (turnedBack) await sendAgain(turnedBack, body, { saidNow: true });
      else await keep("close_day", body);
      drop();
      sayDone("The day is closed with these differences.");
    });
  // Who is second, and that they have read it, is asked anew of what is signed anew.
  const sendBack = () =>
    attempt(async () => {
      drop();
      const nothing = { reason_ids: [], count: 0, digest: null, withdrawn: true };
      await keep("sign_closing", {
        day_id: day.record_id,
        signing_id: first.id,
        signed_by: first.by,
        ...nothing,
      });
    });
  const beside = new Set(othersThan(day, first.by).map(({ person_id }) => person_id));
  return (
    <>
      <p>
        <strong>{first.by}</strong> has signed {countWords(first.marks.length, "difference")}.{" "}
        {since.length > 0 &&
          `${since.length} came up since or ${since.length === 1 ? "was" : "were"} said anew: `}
        {since.length > 0 && "you say why, or send it back. "}
        {mended > 0 && `${mended} mended since.`}
      </p>
      {isAtOwn ? (
        <p class="hint">
          {second?.name} reads what was said, here, and closes. What is checked: that {first.by} signed at
          another device of this office, under another name. Who was at that device nobody can check.
        </p>
      ) : (
        <>
          <div class="pair">
            <Select
              label="Second person"
              options={namesToChoose(day).filter(([id]) => beside.has(id))}
              value={form.second}
              choose={set("second")}
            />
            <Typed
              label="Their code"
              inputmode="numeric"
              value={code.text}
              save={async (text) => set("code")({ text, of: digest || (await digestOf(list)) })}
              max={4}
            />
          </div>
          <p class="hint">
            They read what was said, here. Their code stands on Today, under Change, on their own device,
            where they have chosen their name. {others.isWhole ? "" : NOT_ALL_KNOWN}
          </p>
          <p class="hint">
            What is checked: that the code is theirs, and comes off another device of this office. Who holds
            that device nobody can check here: it is for the two of you to be two.
          </p>
        </>
      )}
      {second && unsaid.length > 0 && (
        <button type="button" class="main" disabled={lacking !== ""} onClick={lead}>
          {lacking || `${unsaid.length} still unsaid: go to the next`}
        </button>
      )}
      {!(second && unsaid.length) && !isReady && (
        <button type="button" class="main" disabled={true} onClick={close}>
          {lacking || changed || closeWords(found.length)}
        </button>
      )}
      {!unsaid.length && (
        <InDock>
          {isReady ? (
            <TieOn press={close}>{closeWords(found.length)}</TieOn>
          ) : (
            <TieOn press={goToClose} left="reads, and closes">
              Now the second person
            </TieOn>
          )}
        </InDock>
      )}
      <button type="button" class="quiet" onClick={sendBack}>
        Send it back to {first.by}
      </button>
    </>
  );
}

/** The second closes the day where they are, and the first signed elsewhere. */
const AT_OWN = { second_device: null, lacking: "" };
const CHANGED_SINCE = "The list has changed since the code was typed: read it, then type the code again";

function closeWords(count: number): string {
  return count ? `Close the day with ${countWords(count, "difference")}` : "Close the day";
}

const NOT_ALL_KNOWN =
  "The office is not reached, so a device that has recorded nothing of this day is not known here yet.";
