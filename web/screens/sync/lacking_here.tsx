/** What the office lost and no device can send again: how much that is, and what a person can do about it. */
import { recordsText, recordTitle } from "../../job/record_text.ts";
import type { DayRecord, RecordCopy } from "../../job/types.ts";
import { lacking, openAgain } from "../../local/lacking.ts";
import { lackingWords } from "../../parts/lacking.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";
import { syncNow } from "../../sync/sync.ts";

const LONG_LIST = 30;

export function LackingHere() {
  const records = lacking();
  const role = useDevice()?.role;
  if (!records.length) return null;
  const days = records.filter((record): record is DayRecord => record.kind === "day");
  const visits = records.filter(({ kind }) => kind === "visit");
  return (
    <section>
      <h2>What the office has not</h2>
      <p>
        This device still shows {lackingWords(records)} that the office had and has not now. What was done to
        make them is on no device any more, so they cannot be sent again.
      </p>
      {days.map((day) => (
        <DayAgain key={day.record_id} day={day} may={role === "manager"} />
      ))}
      {visits.length > 0 && (
        <p>
          First let every other device come into reach: it sends what it still has. Then enter what is listed
          here anew, from this screen or from the text.
        </p>
      )}
      <ul class="lines">
        {visits.slice(0, LONG_LIST).map((visit) => (
          <li key={visit.record_id}>
            <a href={`#/visit/${visit.record_id}`}>{recordTitle(visit)}</a>
          </li>
        ))}
      </ul>
      {visits.length > LONG_LIST && <p class="hint">and {visits.length - LONG_LIST} more in the text</p>}
      <p>
        <button type="button" onClick={() => saveText(records)}>
          Save all of it as text
        </button>
      </p>
    </section>
  );
}

/** The day comes first: what other devices hold of it waits at the office until it is there. */
function DayAgain({ day, may }: { day: DayRecord; may: boolean }) {
  const again = () =>
    attempt(async () => {
      await openAgain(day);
      sayDone("The day is set up again, with its tables and people.");
      syncNow();
    });
  return (
    <>
      <p class="bar wrong">
        The office does not have the day {recordTitle(day)}. New visits wait on the phones until it is there
        again.
        {!may && " The manager sets it up again, on this page of the manager's device."}
      </p>
      {may && (
        <p>
          <button type="button" class="main" onClick={again}>
            Set this day up again
          </button>
        </p>
      )}
    </>
  );
}

function saveText(records: RecordCopy[]) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([recordsText(records)], { type: "text/plain" }));
  link.download = "what-the-office-lacks.txt";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 0);
}
