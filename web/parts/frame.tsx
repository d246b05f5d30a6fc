/** What stands round every screen: where am I, is it saved, what goes wrong, and the main action at the thumb. */

import type { ComponentChildren } from "preact";
import { isStopped } from "../job/cautions.ts";
import { mayStill, type Still } from "../job/stopped.ts";
import { recordOf } from "../local/memory.ts";
import { CautionBar, StoppedLine } from "./caution_bar.tsx";
import { ScreensKey } from "./frame_screens.tsx";
import { Heading, type TitleOf, Words } from "./heading.tsx";
import { StandingIncidents } from "./incident_bar.tsx";
import { Lacking } from "./lacking.tsx";
import { Notices, Undo } from "./notices.tsx";
import { OfficeProblem } from "./office_problem.tsx";
import { SavedMark } from "./saved_mark.tsx";
import { Sign } from "./sign.tsx";
import { UpdateBar } from "./update.tsx";
import { useDevice, useSelected } from "./use.ts";
import { WhoIsHere } from "./who_is_here.tsx";
import { closedSince, overruledHere } from "./with_words.ts";

type FrameOf = TitleOf & {
  back?: string | null;
  /** Where this is, before the words on how much is only on this device: the owner, the ticket, the table. */
  about?: ComponentChildren;
  /** The address of a screen that people begin with; such a screen shows the way to the others. */
  place?: string;
  /** Its class: as wide as the window, and where nothing but its parts scrolls, as high, too. */
  wide?: "wide" | "wide one-window";
  /** Rows of keys above the way back and the next step. */
  keys?: ComponentChildren;
  action?: ComponentChildren;
  /** It asks something, and its own keys lead out of it: an undo there would be of what was done before. */
  isAsking?: boolean;
  /** The item that the screen is about: the stop button is that item's, and the cautions that stand on it are shown. */
  item_id?: string;
  /**
   * Whether something can be entered here while a red caution stands: always, or if the rows of those that stand still
   * allow one of these.
   */
  stoppedToo?: boolean | Still[];
  children?: ComponentChildren;
};

/** Screens that ask themselves who is there. */
const ASKS_ITSELF: ReadonlySet<string | undefined> = new Set(["#/today", "#/queue"]);

export function Frame(given: FrameOf) {
  const { title, back, about, place, wide, keys, action, item_id = "", stoppedToo, children } = given;
  const frozen = useSelected(() => isFrozen(item_id, stoppedToo), [item_id, String(stoppedToo)]);
  const device = useDevice();
  const Overruled = overruledHere.value;
  const ClosedSince = closedSince.value;
  return (
    <div class={`frame ${wide ?? ""}`}>
      <header class="top">
        {back && (
          <a class="back" href={back}>
            <Sign of="back" />
            <span class="unseen">Back</span>
          </a>
        )}
        {place && <ScreensKey here={place} />}
        <div class="here">
          <Heading title={title} />
          <SavedMark about={about} />
        </div>
        <StopButton item_id={item_id} />
        {item_id && <StoppedLine item_id={item_id} />}
      </header>
      <UpdateBar calm={Boolean(place)} />
      <OfficeProblem />
      {device && !ASKS_ITSELF.has(place) && <WhoIsHere device={device} />}
      {place && <Lacking />}
      {place && Overruled && <Overruled />}
      {place && place !== "#/closing" && <StandingIncidents />}
      {item_id && <CautionBar item_id={item_id} headed />}
      {item_id && ClosedSince && <ClosedSince kind="item" id={item_id} />}
      {!wide && (
        <p class="print-only print-title">
          <Words title={title} />
        </p>
      )}
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
      <footer class="dock">
        <Notices />
        {!frozen && keys}
        {!given.isAsking && <Undo />}
        {frozen ? (
          <fieldset disabled class="frozen action-set">
            {keys}
            {action}
          </fieldset>
        ) : (
          action
        )}
      </footer>
    </div>
  );
}

/** Whether nothing can be entered, since a red caution stands on the item. */
function isFrozen(item_id: string, stoppedToo: boolean | Still[] = false) {
  const item = recordOf("item", item_id);
  if (!item || stoppedToo === true || !isStopped(item)) return false;
  return !(stoppedToo && mayStill(item, ...stoppedToo));
}

/** Stop is on every screen, but on its own. Pressed on a visit, it can be told by one key that it is of that. */
function StopButton({ item_id }: { item_id: string }) {
  const [head, id] = location.hash.replace(/^#\//, "").split("/");
  const here = head === "visit" ? `#/stop/${id}` : "#/stop";
  const address = item_id ? `#/item/${item_id}/stop` : here;
  if (!useDevice() || head === "stop" || location.hash === address) return null;
  return (
    <a class="stop" href={address}>
      <Sign of="stop" /> Stop
    </a>
  );
}
