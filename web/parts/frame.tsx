/** What stands round every screen: where am I, is it saved, what goes wrong, and the main action at the thumb. */

import type { ComponentChildren } from "preact";
import { isStopped } from "../job/cautions.ts";
import { mayStill, type Still } from "../job/stopped.ts";
import type { RecordCopy } from "../job/types.ts";
import type { ThisDevice } from "../local/device.ts";
import { syncState } from "../sync/sync.ts";
import { CautionBar } from "./caution_bar.tsx";
import { Notices } from "./notices.tsx";
import { UpdateBar } from "./update.tsx";
import { useDevice, useKept, usePlanBook } from "./use.ts";

/** The screens that a role begins with. */
const PLACES: [string, string, string[]][] = [
  ["#/today", "Today", ["door", "table", "porter", "manager"]],
  ["#/porter", "Porter", ["porter", "table", "door", "manager"]],
  ["#/queue", "Queue", ["desk", "manager"]],
  ["#/day", "Day", ["manager"]],
  ["#/rolls", "Numbers", ["manager"]],
  ["#/closing", "Closing", ["manager", "porter"]],
  ["#/devices", "Devices", ["manager"]],
  ["#/outbox", "On this device", ["door", "table", "porter", "desk", "manager"]],
];

/** `place` is the address of a screen that people begin with; such a screen shows the way to the others. `item` is what the screen is about: its stop button is that item's, and the cautions that stand on it are shown. While a red one stands nothing can be entered, but on a screen for `stoppedToo`: always, or if the rows of those that stand still allow one of these. */
export function Frame({
  title,
  back = null,
  place,
  wide = false,
  action = null,
  item,
  stoppedToo = false,
  children,
}: {
  title: string;
  back?: string | null;
  place?: string;
  wide?: boolean;
  action?: ComponentChildren;
  item?: RecordCopy;
  stoppedToo?: boolean | Still[];
  children?: ComponentChildren;
}) {
  const device = useDevice();
  const state = useKept(syncState, []);
  const stop = item ? `#/item/${item.record_id}/stop` : "#/stop";
  const book = usePlanBook();
  const allowed = Array.isArray(stoppedToo)
    ? Boolean(item && book && mayStill(item, book.cautions, ...stoppedToo))
    : stoppedToo;
  const frozen = Boolean(item && !allowed && isStopped(item));
  return (
    <div class={wide ? "frame wide" : "frame"}>
      <header class={item ? "top of-item" : "top"}>
        {back && (
          <a class="back" href={back}>
            <span aria-hidden="true">←</span>
            <span class="unseen">Back</span>
          </a>
        )}
        <h1>{title}</h1>
        <SavedMark state={state} />
        {device && location.hash !== stop && (
          <a class="stop" href={stop}>
            Stop
          </a>
        )}
      </header>
      {place && device && (
        <nav class="places" aria-label="Screens">
          {PLACES.filter(([, , roles]) => roles.includes(device.role)).map(([address, words]) => (
            <a key={address} href={address} aria-current={address === place ? "page" : undefined}>
              {words}
            </a>
          ))}
        </nav>
      )}
      <UpdateBar calm={Boolean(place)} />
      <OfficeProblem state={state} device={device} />
      {item && <CautionBar item={item} />}
      {!wide && <p class="print-only print-title">{title}</p>}
      <main>
        {frozen ? (
          <fieldset disabled class="frozen">
            <legend class="unseen">Stopped: nothing can be entered</legend>
            {children}
          </fieldset>
        ) : (
          children
        )}
      </main>
      <Notices />
      {action && (
        <footer class="action">
          {frozen ? (
            <fieldset disabled class="frozen action-set">
              {action}
            </fieldset>
          ) : (
            action
          )}
        </footer>
      )}
    </div>
  );
}

export type SyncState = Awaited<ReturnType<typeof syncState>>;

/** How much of what was typed is where, in words; a tap shows the list. */
function SavedMark({ state }: { state: SyncState | undefined }) {
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
  return (
    <a class={state.refused ? "saved wrong" : here ? "saved waiting" : "saved"} href="#/outbox">
      <span aria-hidden="true">{state.refused ? "!" : here ? "●" : "✓"}</span> {words}
    </a>
  );
}

function OfficeProblem({
  state,
  device,
}: {
  state: SyncState | undefined;
  device: ThisDevice | null | undefined;
}) {
  if (!device) return null;
  if (device.revoked || state?.problem?.code === "not_paired") {
    return (
      <p class="bar wrong" role="alert">
        The manager has taken this device off the office. Nothing on it is lost: ask for a new code and
        <a href="#/pair">pair it again</a>; what it holds is then sent.
      </p>
    );
  }
  if (state?.problem)
    return (
      <p class="bar wrong" role="alert">
        {state.problem.words} {state.problem.hint}
      </p>
    );
  return null;
}
