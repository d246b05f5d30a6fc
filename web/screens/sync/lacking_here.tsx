/** What the office lost and this device cannot send again: how much that is, and what a person can do about it. */
import { mainOf, recordsText, recordTitle } from "../../job/record_text.ts";
import type { DayRecord, RecordCopy } from "../../job/types.ts";
import { lacking, openAgain } from "../../local/lacking.ts";
import { office } from "../../local/memory.ts";
import { lackingWords } from "../../parts/lacking.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";
import { standing } from "../../sync/status.ts";
import { syncNow } from "../../sync/sync.ts";

const LONG_LIST = 30;

export function LackingHere() {
  const records = lacking();
  const role = useDevice()?.role;
  if (!records.length) return null;
  const days = records.filter((record): record is DayRecord => record.kind === "day");
  const rest = mainOf(records);
  const heardOut = office.value?.hearing === false && standing() !== "unknown";
  return (
    <section>
      <h2>What the office has not</h2>
      <p>
        This device still shows {lackingWords(records)} that the office had and has not now. It cannot send
        them: what was done to make them is not on it any more. It may be on other devices and in copies.
      </p>
      {days.map((day) => (
        <DayAgain key={day.record_id} day={day} may={role === "manager"} />
      ))}
      {heardOut ? <Anew /> : <NotYetAnew />}
      <ul class="lines">
        {rest.slice(0, LONG_LIST).map((record) => (
          <li key={record.record_id}>
            <a href={addressOf(record)}>{recordTitle(record)}</a>
          </li>
        ))}
      </ul>
      {rest.length > LONG_LIST && <p class="hint">and {rest.length - LONG_LIST} more in the text</p>}
      <p>
        <button type="button" onClick={() => saveText(records)}>
          Save all of it as text
        </button>
      </p>
    </section>
  );
}

function addressOf({ kind, record_id }: RecordCopy) {
  return `#/${kind}/${record_id}`;
}

/** As long as somebody may still bring it: what was typed anew would stand there twice. */
function NotYetAnew() {
  return (
    <>
      <p class="bar">
        Enter none of it anew yet: whatever another device or a copy brings would then be there twice.
      </p>
      <ol class="steps">
        <li>Bring every device of the day into reach; one that the office does not know is paired again.</li>
        <li>
          Bring every stick and disk with a copy. On the office's machine <code>intake bring-in FOLDER</code>{" "}
          takes in what a copy has, or says how to go on from it.
        </li>
        <li>Only then the manager says on Devices that no other device will come.</li>
      </ol>
    </>
  );
}

/** The manager has said that nobody else is to come. A copy that lies elsewhere no device can know of. */
function Anew() {
  return (
    <p>
      The manager has said that no other device will come. If there is a copy that was not brought in yet,
      that comes first (<code>intake bring-in FOLDER</code> on the office's machine takes it in, or says how
      to go on from it). Then enter anew what is still listed here, from this screen or from the text.
    </p>
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
        again: from another device, or from a copy.
        {!may && " If none has it, the manager sets it up again, on this page of the manager's device."}
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
