/** What is wrong between this device and the office, above every screen. */

import type { Forgotten } from "../local/database.ts";
import { forgotten, office, unsent } from "../local/memory.ts";
import { counts, status } from "../sync/status.ts";
import { useDevice } from "./use.ts";

/** The office has lost something, and this device is bringing it back. */
function BeingMadeWhole({ why }: Pick<Forgotten, "why">) {
  const left = counts.operations.value + counts.originals.value;
  return (
    <p class="bar" role="status">
      {why === "another office"
        ? "The office was begun anew or put back from a copy."
        : "The office does not have all that it once had: it was put back from an older copy."}{" "}
      What this device has stays here, and what it can send is sent again{left ? `: ${left} left` : ""}.
    </p>
  );
}

const PAIRING = "#/pair";

export function OfficeProblem() {
  const device = useDevice();
  const { problem } = status.value;
  if (!device || location.hash.startsWith(PAIRING)) return null; // that page says it itself
  if (device.revoked)
    return (
      <p class="bar wrong" role="alert">
        The manager has taken this device off the office. What others recorded has left it; what only it has
        is still here: ask for a new code and <a href="#/pair">pair it again</a>, and that is sent. <Unsent />
      </p>
    );
  if (problem?.code === "not_paired")
    return (
      <p class="bar wrong" role="alert">
        The office does not know this device: its files may have been lost, or begun anew. What is on this
        device stays here:{" "}
        {device.role === "manager" ? "make a code on the office's machine" : "ask the manager for a code"} and{" "}
        <a href="#/pair">pair it again</a>; then it sends what it still has.
      </p>
    );
  if (forgotten.value?.done_at === null) return <BeingMadeWhole why={forgotten.value.why} />;
  if (!problem) return device.role === "manager" && office.value?.hearing ? <OthersMayCome /> : <UnsentBar />;
  return (
    <p class="bar wrong" role="alert">
      {problem.words} {problem.hint}
    </p>
  );
}

function UnsentBar() {
  return Object.keys(unsent.value).length ? (
    <p class="bar" role="status">
      <Unsent />
    </p>
  ) : null;
}

/** What was typed into forms that left this device is nowhere else. */
function Unsent() {
  const count = Object.keys(unsent.value).length;
  if (!count) return null;
  return (
    <a href="#/outbox">
      {count === 1 ? "A form was" : `${count} forms were`} begun here and never sent: read what was typed.
    </a>
  );
}

/** The office waits until the manager says that it need not. */
function OthersMayCome() {
  return (
    <a class="bar" href="#/devices">
      This office waits for every device that may have what it lacks. When no other will come, say so under
      Devices.
    </a>
  );
}
