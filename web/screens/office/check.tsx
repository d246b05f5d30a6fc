/**
 * Check this device: can it do a day in the hall? In words for whoever holds it; the office hears it if it is paired.
 */
import { useEffect, useState } from "preact/hooks";
import { checkLines, type Facts, verdictOf } from "../../job/check.ts";
import { Frame } from "../../parts/frame.tsx";
import { Mark } from "../../parts/mark.tsx";
import { clockWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { askForCameraAndKeeping, lookAtThisDevice } from "../../parts/this_device.ts";
import { useDevice } from "../../parts/use.ts";
import { get, post } from "../../sync/office.ts";

/** The worker takes the app a moment after the page: it is looked for this often before it is called missing. */
const LOOKS = 10;
const LOOK_EVERY_MS = 500;

export default function Check() {
  const device = useDevice();
  const [facts, setFacts] = useState<Facts | null>(null);
  const [reported, setReported] = useState<string | null>(null);
  const paired = Boolean(device && !device.revoked);
  const look = async () => {
    const found = await lookAtThisDevice();
    setFacts(found);
    if (paired && found.clock_off_ms !== null) setReported(await report(found));
    return found;
  };
  useEffect(() => {
    if (device === undefined) return undefined;
    let live = true;
    const lookAgain = async (left: number) => {
      const found = await look();
      if (live && left && found.secure && !found.offline)
        setTimeout(() => lookAgain(left - 1), LOOK_EVERY_MS);
    };
    attempt(() => lookAgain(LOOKS));
    return () => {
      live = false;
    };
  }, [device === undefined, paired]);
  const askAndLook = () =>
    attempt(async () => {
      await askForCameraAndKeeping();
      await look();
    });
  const lines = facts && checkLines(facts);
  return (
    <Frame
      title="Check this device"
      back={device ? "#/outbox" : "#/pair"}
      place="#/outbox"
      action={
        <button type="button" class="main" onClick={askAndLook}>
          Try camera and storage
        </button>
      }
    >
      <p class="lead">{lines ? <strong>{verdictOf(lines)}</strong> : "Looking …"}</p>
      <ul class="check-lines">
        {lines?.map(({ check, state, words, todo }) => (
          <li key={check} class={state}>
            <Mark state={state} />
            <span>
              {words} {todo && <strong>{todo}</strong>}
            </span>
          </li>
        ))}
      </ul>
      {lines && (
        <p class="hint">
          {!device ? (
            <>
              This device is not paired, so the office does not hear of this. <a href="#/pair">Pair it</a>
            </>
          ) : reported ? (
            `The office has this check of ${device.name}, ${clockWords(reported)}.`
          ) : (
            "The office is not reached and has not heard this."
          )}
        </p>
      )}
    </Frame>
  );
}

/** Tell the office; when it heard. Null if it could not be told now. */
async function report(facts: Facts): Promise<string | null> {
  const { room_bytes, clock_off_ms, battery_percent, charging } = facts;
  const states = Object.fromEntries(checkLines(facts).map(({ check, state }) => [check, state]));
  const { app_version } = await get<{ app_version: string }>("/health");
  const readings = { states, room_bytes, clock_off_ms, battery_percent, charging, app_version };
  return (await post<{ checked_at: string }>("/devices/check", readings)).checked_at;
}
