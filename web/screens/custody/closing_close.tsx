/** Two people close the day: a manager signs the list, then somebody else reads it, there or at their own device. */

import { linesOf, listOf, signedText } from "../../job/closing_reasons.ts";
import { peopleHere } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import type { Person } from "../../job/operations.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { keep, keepAll } from "../../local/outbox.ts";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { SignSecond } from "./closing_second.tsx";
import { CLOSE, type CloseOf, goToClose, idsBehind, useDigest } from "./closing_signed.ts";

/** A day is closed once: then there is nothing to fill in. Only the manager's device can do it. */
export function Close(given: CloseOf) {
  const { day, device } = given;
  if (fieldValue(day, "closed")) return null;
  return (
    <section class="on-screen" id={CLOSE}>
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
  const { day, device, turnedBack, first, unsaid } = given;
  const me = peopleHere(day).find(({ person_id }) => person_id === device.person_id);
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
      {!unsaid.length && !(me && first) && (
        <InDock>
          <TieOn press={goToClose} left={first ? "reads, and closes" : "all is explained"}>
            {first ? "Now the second person" : "Go on to sign"}
          </TieOn>
        </InDock>
      )}
      {me && !first && <SignFirst {...given} me={me} />}
      {me && first && <SignSecond {...given} first={first} />}
    </>
  );
}

function SignFirst({ day, found, reasons, unsaid, lead, me }: CloseOf & { me: Person }) {
  const digest = useDigest(signedText(linesOf(day, found, reasons)));
  const sign = () =>
    attempt(async () => {
      const { reason_ids, again } = listOf(day, found, reasons, idsBehind(day));
      if (again.length) await keepAll("explain_differences", again);
      const list = { reason_ids, count: found.length, digest };
      await keep("sign_closing", {
        day_id: day.record_id,
        signing_id: newId(),
        signed_by: me.name,
        ...list,
      });
    });
  return (
    <>
      <p>
        <strong>{me.name}</strong> signs first. A second person reads what was said, here or at another
        manager's device, and closes.
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
