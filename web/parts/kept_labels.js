/** A roll's labels, fetched while there is a network and printed when there is none. */
import { keepLabels, labelsOf } from "../local/labels.js";
import { ask } from "../sync/office.js";
import { html } from "./html.js";
import { attempt, sayDone } from "./notices.js";
import { useKept } from "./use.js";

const FETCH_MS = 120_000; // a long roll on a slow line

/** @param {{roll_id: string, address: string}} given `address` is the office's PDF of them */
export function KeptLabels({ roll_id, address }) {
  const kept = useKept(() => labelsOf(roll_id), [roll_id]);
  const fetchThem = () => attempt(async () => {
    const response = await ask(address, { limitMs: FETCH_MS });
    await keepLabels(roll_id, await response.arrayBuffer());
    sayDone("The labels are on this device; they print with no network.");
  });
  const open = () => attempt(async () => {
    const pdf = await labelsOf(roll_id);
    if (pdf) window.open(URL.createObjectURL(new Blob([pdf], { type: "application/pdf" })), "_blank");
  });
  return html`<p class="inline">${kept && html`<button type="button" onClick=${open}>Open the kept labels</button>`}
    <button type="button" class=${kept ? "quiet" : ""} onClick=${fetchThem}>${kept ? "Fetch them anew" : "Keep labels here, to print with no network"}</button></p>`;
}
