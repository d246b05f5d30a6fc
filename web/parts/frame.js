/** What stands round every screen: where am I, is it saved, what goes wrong, and the main action at the thumb. */
import { isStopped } from "../job/record.js";
import { syncState } from "../sync/sync.js";
import { CautionBar } from "./caution_bar.js";
import { html } from "./html.js";
import { Notices } from "./notices.js";
import { UpdateBar } from "./update.js";
import { useDevice, useKept } from "./use.js";

/** The screens that a role begins with. @type {[string, string, string[]][]} */
const PLACES = [
  ["#/today", "Today", ["door", "table", "porter", "manager"]],
  ["#/porter", "Porter", ["porter", "table", "door", "manager"]],
  ["#/queue", "Queue", ["desk", "manager"]],
  ["#/day", "Day", ["manager"]],
  ["#/rolls", "Numbers", ["manager"]],
  ["#/closing", "Closing", ["manager", "porter"]],
  ["#/devices", "Devices", ["manager"]],
  ["#/outbox", "On this device", ["door", "table", "porter", "desk", "manager"]],
];

/**
 * @param {{title: any, back?: string|null, place?: string, wide?: boolean, action?: any, item?: import("../job/types.js").RecordCopy, stoppedToo?: boolean, children?: any}} given
 *   `place` is the address of a screen that people begin with; such a screen shows the way to the others. `item` is
 *   what the screen is about: every such screen has the stop button and shows the cautions that stand. While a red
 *   one stands nothing can be entered, but on a screen for `stoppedToo`.
 */
export function Frame({ title, back = null, place, wide = false, action = null, item, stoppedToo = false, children }) {
  const device = useDevice();
  const state = useKept(syncState, []);
  const frozen = Boolean(item && !stoppedToo && isStopped(item));
  return html`<div class=${wide ? "frame wide" : "frame"}>
    <header class=${item ? "top of-item" : "top"}>
      ${back && html`<a class="back" href=${back} aria-label="Back"><span aria-hidden="true">←</span></a>`}
      <h1>${title}</h1>
      <${SavedMark} state=${state} />
      ${item && html`<a class="stop" href=${`#/item/${item.record_id}/stop`}>Stop</a>`}
    </header>
    ${place &&
    device &&
    html`<nav class="places" aria-label="Screens">
      ${PLACES.filter(([, , roles]) => roles.includes(device.role)).map(
        ([address, words]) => html`<a key=${address} href=${address} aria-current=${address === place ? "page" : undefined}>${words}</a>`,
      )}
    </nav>`}
    <${UpdateBar} calm=${Boolean(place)} />
    <${OfficeProblem} state=${state} device=${device} />
    ${item && html`<${CautionBar} item=${item} />`}
    ${!wide && html`<p class="print-only print-title">${title}</p>`}
    <main>${frozen ? html`<fieldset disabled class="frozen"><legend class="unseen">Stopped: nothing can be entered</legend>${children}</fieldset>` : children}</main>
    <${Notices} />
    ${action && html`<footer class="action">${frozen ? html`<fieldset disabled class="frozen action-set">${action}</fieldset>` : action}</footer>`}
  </div>`;
}

/** @typedef {Awaited<ReturnType<typeof syncState>>} SyncState */

/** How much of what was typed is where, in words; a tap shows the list. @param {{state: SyncState|undefined}} given */
function SavedMark({ state }) {
  if (!state) return null;
  const photos = state.photosWaiting;
  const here = state.waiting + photos;
  const words = state.refused
    ? `${state.refused} refused`
    : here
      ? `On this device: ${here}`
      : state.lastContactAt
        ? "At the desk"
        : "On this device";
  return html`<a class=${state.refused ? "saved wrong" : here ? "saved waiting" : "saved"} href="#/outbox">
    <span aria-hidden="true">${state.refused ? "!" : here ? "●" : "✓"}</span> ${words}
  </a>`;
}

/** @param {{state: SyncState|undefined, device: import("../local/device.js").ThisDevice|null|undefined}} given */
function OfficeProblem({ state, device }) {
  if (!device) return null;
  if (device.revoked || state?.problem?.code === "not_paired") {
    return html`<p class="bar wrong" role="alert">
      The manager has taken this device off the office. Nothing on it is lost: ask for a new code and
      <a href="#/pair">pair it again</a>; what it holds is then sent.
    </p>`;
  }
  if (state?.problem) return html`<p class="bar wrong" role="alert">${state.problem.words} ${state.problem.hint}</p>`;
  return null;
}
