/** Who closed the day, and what they left unexplained. */

import type { Changed } from "../../job/changed_since.ts";
import type { Found } from "../../job/closing_found.ts";
import { foundSince, isSameClosing, namedBeside, namedIn, signedBeside } from "../../job/closing_reasons.ts";
import type { ValueAt } from "../../job/fields.ts";
import type { DayRecord, FieldValue } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { momentWords } from "../../parts/moments.ts";

/** Somebody closed the day who had not heard that it was closed: what they named is kept, too. */
function AlsoClosed({ day, other }: { day: DayRecord; other: FieldValue }) {
  const closed = other.value as ValueAt<"closed">;
  const { closed_by, second_by } = closed;
  const first = fieldValue(day, "closed");
  const named = namedBeside(namedIn(day, closed), first ? namedIn(day, first) : []);
  const isSame = first !== undefined && isSameClosing(day, first, closed);
  return (
    <>
      {" "}
      {closed_by} and {second_by} closed it as well, {momentWords(other.made_at)}, and named {named}.{" "}
      {isSame ? (
        "It is the same closing: nothing is to be decided."
      ) : (
        <>
          The first closing stands until the manager says on <a href="#/day">Day</a> which holds.
        </>
      )}
    </>
  );
}

function explainedWords(named: readonly { reason: string }[]) {
  const explained = named.filter(({ reason }) => reason).length;
  return named.length ? `, ${explained === named.length ? "all" : explained} of them explained` : "";
}

/** Whose signature gave way to the one that the day was closed with. */
export function signedAsWell({ by, at, count }: { by: string; at: string; count: number }) {
  return ` ${by} had signed ${countWords(count, "difference")} as well, ${momentWords(at)}.`;
}

type ClosedByOf = { day: DayRecord; found: Found[]; changed: readonly Changed[] };

export function ClosedBy({ day, found, changed }: ClosedByOf) {
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
      {changed.length > 0 && ` ${countWords(changed.length, "record")} changed since.`}
      {signedBeside(day, closed).map(signedAsWell)}
      {others.map(({ disagreement_id, other }) => (
        <AlsoClosed key={disagreement_id} day={day} other={other} />
      ))}
    </p>
  );
}
