/** What stands round every screen: where am I, is it saved, what goes wrong, and the main action at the thumb. */

import type { ComponentChildren } from "preact";
import { useEffect, useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import { isStopped } from "../job/cautions.ts";
import { mayStill, type Still } from "../job/stopped.ts";
import type { Forgotten } from "../local/database.ts";
import type { Role } from "../local/device.ts";
import { forgotten, office, recordOf, refused } from "../local/memory.ts";
import { counts, type Standing, standing, status } from "../sync/status.ts";
import { CautionBar } from "./caution_bar.tsx";
import { StandingIncidents } from "./incident_bar.tsx";
import { Lacking } from "./lacking.tsx";
import { Notices, Undo } from "./notices.tsx";
import { Overruled } from "./overruled.tsx";
import { Sign } from "./sign.tsx";
import { UpdateBar } from "./update.tsx";
import { useDevice, useSelected } from "./use.ts";

/** The screens that a role begins with. */
const PLACES: [address: string, words: string, roles: Role[]][] = [
  ["#/today", "Today", ["door", "table", "porter", "manager"]],
  ["#/porter", "Porter", ["porter", "table", "door", "manager"]],
  ["#/queue", "Queue", ["desk", "manager"]],
  ["#/day", "Day", ["manager"]],
  ["#/rolls", "Numbers", ["manager"]],
  ["#/closing", "Closing", ["manager", "porter"]],
  ["#/closings", "Closings", ["desk"]],
  ["#/devices", "Devices", ["manager"]],
  ["#/copies", "Copies", ["desk", "manager"]],
  ["#/outbox", "On this device", ["door", "table", "porter", "desk", "manager"]],
];

type FrameOf = {
  /** A function where the words change while they are typed: then they alone are drawn again. */
  title: string | (() => string);
  back?: string | null;
  /** Where this is, before the words on how much is only on this device: the owner, the ticket, the table. */
  about?: ComponentChildren;
  /** The address of a screen that people begin with; such a screen shows the way to the others. */
  place?: string;
  wide?: boolean;
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

export function Frame(given: FrameOf) {
  const { title, back, about, place, wide, keys, action, item_id = "", stoppedToo, children } = given;
  const frozen = useSelected(() => isFrozen(item_id, stoppedToo), [item_id, String(stoppedToo)]);
  return (
    <div class={wide ? "frame wide" : "frame"}>
      <header class="top">
        {back && (
          <a class="back" href={back}>
            <Sign of="back" />
            <span class="unseen">Back</span>
          </a>
        )}
        {place && <Places here={place} />}
        <div class="here">
          <Heading title={title} />
          <SavedMark about={about} />
        </div>
        <StopButton item_id={item_id} />
      </header>
      <UpdateBar calm={Boolean(place)} />
      <OfficeProblem />
      {place && <Lacking />}
      {place && <Overruled />}
      {place && place !== "#/closing" && <StandingIncidents />}
      {item_id && <CautionBar item_id={item_id} />}
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

/** Stop is on every screen, but on its own. */
function StopButton({ item_id }: { item_id: string }) {
  const address = item_id ? `#/item/${item_id}/stop` : "#/stop";
  if (!useDevice() || location.hash === address) return null;
  return (
    <a class="stop" href={address}>
      <Sign of="stop" /> Stop
    </a>
  );
}

type TitleOf = Pick<FrameOf, "title">;

function wordsOf({ title }: TitleOf) {
  return typeof title === "string" ? title : title();
}

function Words({ title }: TitleOf) {
  return <>{wordsOf({ title })}</>;
}

const APP = "Intake desk";
/** The address whose heading has had the focus; the first screen leaves it where the browser has put it. */
let focused: string | null = null;

/** The heading of the screen, and the page's title; a new screen begins there for whoever does not see it change. */
function Heading({ title }: TitleOf) {
  const heading = useRef<HTMLHeadingElement>(null);
  const words = wordsOf({ title });
  useEffect(() => {
    document.title = `${words} · ${APP}`;
  }, [words]);
  // Before it is painted: later the focus could be taken out of a field that somebody has begun to type into.
  useLayoutEffect(() => {
    if (focused !== null && focused !== location.hash) heading.current?.focus({ preventScroll: true });
    focused = location.hash;
  }, []);
  return (
    <h1 ref={heading} tabIndex={-1}>
      {words}
    </h1>
  );
}

/**
 * The screens that this device's role begins with: behind one key on a phone, since a person keeps one place all day.
 */
function Places({ here }: { here: string }) {
  const [open, setOpen] = useState(false);
  const id = useId();
  const role = useDevice()?.role;
  if (!role) return null;
  return (
    <>
      <button
        type="button"
        class="places-key"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
      >
        <Sign of="places" />
        <span class="unseen">Screens</span>
      </button>
      <nav id={id} class={open ? "places open" : "places"} aria-label="Screens">
        {PLACES.filter(([, , roles]) => roles.includes(role)).map(([address, words]) => (
          <a key={address} href={address} aria-current={address === here ? "page" : undefined}>
            {words}
          </a>
        ))}
      </nav>
    </>
  );
}

/** What the mark says once nothing waits on this device. */
const MARK: Record<Standing, string> = {
  "at desk": "All at the desk",
  unknown: "Not known at the desk",
  "not reached": "Office not reached",
  "not heard yet": "On this device",
  "brought again": "Being sent again",
  lacking: "Not all at the desk",
};

/** How much of what was typed is where, in words; a tap shows the list. Before pairing there is nothing to say. */
function SavedMark({ about }: Pick<FrameOf, "about">) {
  if (!useDevice()) return null;
  const no = counts.refused.value;
  const here = counts.operations.value + counts.originals.value;
  const stands = standing();
  const toLookAt = refused.value.length === no && refused.value.every(({ kept }) => kept);
  return (
    <a class={no || stands === "unknown" ? "saved wrong" : "saved"} href="#/outbox">
      <Sign of={no ? "stop" : here || stands !== "at desk" ? "device" : "check"} />
      <span>
        {about && <>{about} · </>}
        {no ? (
          `${no} ${toLookAt ? "to look at" : "refused"}`
        ) : here ? (
          <>
            On this device: <strong>{here}</strong>
          </>
        ) : (
          MARK[stands]
        )}
      </span>
    </a>
  );
}

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

function OfficeProblem() {
  const device = useDevice();
  const { problem } = status.value;
  if (!device || location.hash.startsWith(PAIRING)) return null; // that page says it itself
  if (device.revoked)
    return (
      <p class="bar wrong" role="alert">
        The manager has taken this device off the office. What others recorded has left it; what only it has
        is still here: ask for a new code and <a href="#/pair">pair it again</a>, and that is sent.
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
  if (!problem) return device.role === "manager" && office.value?.hearing ? <OthersMayCome /> : null;
  return (
    <p class="bar wrong" role="alert">
      {problem.words} {problem.hint}
    </p>
  );
}

/** The office waits until the manager says that it need not. */
function OthersMayCome() {
  return (
    <a class="bar" href="#/devices">
      This office lacked something and waits for every device that may have it. When no other will come, say
      so under Devices.
    </a>
  );
}
