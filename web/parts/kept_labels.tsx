/** A roll's labels, fetched while there is a network and printed when there is none. */
import { keepLabels, labelsOf } from "../local/labels.ts";
import { keptLabels } from "../local/memory.ts";
import { ask } from "../sync/office.ts";
import { attempt, sayDone } from "./notices.tsx";

const FETCH_MS = 120_000; // a long roll on a slow line

/** `address` is the office's PDF of them */
export function KeptLabels({ roll_id, address }: { roll_id: string; address: string }) {
  const kept = keptLabels.value.has(roll_id);
  const fetchThem = () =>
    attempt(async () => {
      const response = await ask(address, { limitMs: FETCH_MS });
      await keepLabels(roll_id, await response.arrayBuffer());
      sayDone("The labels are on this device; they print with no network.");
    });
  const open = () =>
    attempt(async () => {
      const pdf = await labelsOf(roll_id);
      if (pdf) window.open(URL.createObjectURL(new Blob([pdf], { type: "application/pdf" })), "_blank");
    });
  return (
    <p class="inline">
      {kept && (
        <button type="button" onClick={open}>
          Open the kept labels
        </button>
      )}
      <button type="button" class={kept ? "quiet" : ""} onClick={fetchThem}>
        {kept ? "Fetch them anew" : "Keep labels here, to print with no network"}
      </button>
    </p>
  );
}
