/** Whether a device is fit for a day in the hall: what its browser says, judged in words for whoever holds it. */

/** In the order in which a person puts things right: without the first, the next ones do not exist. */
export type CheckName =
  | "trusted"
  | "installed"
  | "offline"
  | "camera"
  | "codes"
  | "kept"
  | "room"
  | "clock"
  | "battery";
export type CheckState = "good" | "not-good" | "unknown";

/** What the browser says. Null where it cannot tell, or nobody was asked yet. */
export type Facts = {
  secure: boolean;
  handheld: boolean;
  apple: boolean;
  installed: boolean;
  offline: boolean;
  camera: "granted" | "denied" | "none" | "not-tried";
  /** Who reads codes in the camera's picture: the browser itself, or a reader that the app brings, if it is here. */
  codes: "itself" | "kept" | "not-kept" | "none";
  kept: boolean | null;
  room_bytes: number | null;
  clock_off_ms: number | null;
  battery_percent: number | null;
  charging: boolean | null;
};

/** One line of the check: what is so, and what to do about it if it is not good. */
export type CheckLine = { check: CheckName; state: CheckState; words: string; todo: string };

/** What a phone of one table may have to hold before it meets the office again: common practice, a generous day. */
const ROOM_BYTES = 1_000_000_000;
/** Beyond this, photos of two phones fall into a wrong order by their own clocks. */
const CLOCK_MS = 30_000;
const BATTERY_PERCENT = 30;
/** What to do about all that a browser allows on a trusted page only. */
const TRUST_FIRST = "First let it trust the office.";

export function checkLines(facts: Facts): CheckLine[] {
  return [
    trusted(facts),
    installed(facts),
    offline(facts),
    camera(facts),
    codes(facts),
    kept(facts),
    room(facts),
    clock(facts),
    battery(facts),
  ];
}

/** In one sentence, no more than the lines bear. */
export function verdictOf(lines: CheckLine[]) {
  const stateOf = (name: CheckName) => lines.find(({ check }) => check === name)?.state;
  const wrong = lines.filter(({ state }) => state === "not-good").length;
  if (wrong) return `${wrong} ${wrong === 1 ? "thing" : "things"} to put right.`;
  const isKept = stateOf("kept") === "good";
  if (stateOf("camera") === "unknown")
    return isKept ? "Try the camera, then it is ready." : "Try camera and storage first.";
  return isKept
    ? "This device is ready for the hall."
    : "It can work in the hall, if it is let send before it is put away.";
}

function line(check: CheckName, state: CheckState, words: string, todo = ""): CheckLine {
  return { check, state, words, todo };
}

function trusted({ secure }: Facts) {
  return secure
    ? line("trusted", "good", "It trusts the office.")
    : line(
        "trusted",
        "not-good",
        "It does not trust the office yet, so the browser allows neither camera nor offline work.",
        "Open the page that the laptop shows and go through its steps; " +
          "a warning that was only clicked away is not enough.",
      );
}

function installed({ installed, handheld, apple, secure }: Facts) {
  if (installed)
    return line("installed", "good", "The app is installed and was opened from the home screen.");
  if (!handheld) return line("installed", "unknown", "It is open in a tab, which will do on a computer.");
  const todo = apple
    ? "Share, then “Add to Home Screen”. Open it from there and check again."
    : "The browser's menu, then “Install app” or “Add to Home screen”. Open it from there and check again.";
  const words = "It is open in a tab. A tab's storage can be lost, and on Apple devices is not the app's.";
  return line("installed", "not-good", words, secure ? todo : TRUST_FIRST);
}

function offline({ offline, secure }: Facts) {
  if (offline) return line("offline", "good", "The app is kept on it and opens with no network.");
  const words = "The app is not kept on it yet: with no network it would not open.";
  const todo = secure ? "Stay in the network for some seconds and check again." : TRUST_FIRST;
  return line("offline", "not-good", words, todo);
}

function camera({ camera, secure }: Facts) {
  if (camera === "granted") return line("camera", "good", "It may use the camera.");
  if (camera === "not-tried" && secure)
    return line("camera", "unknown", "Nobody has tried the camera yet.", "Press the key below and allow it.");
  if (camera === "none" && secure)
    return line("camera", "not-good", "No camera was found.", "Use another device for photographs.");
  const todo = secure
    ? "Allow the camera for this address in the browser's settings, then check again."
    : TRUST_FIRST;
  return line("camera", "not-good", "It may not use the camera.", todo);
}

function codes({ codes, secure }: Facts) {
  if (codes === "itself") return line("codes", "good", "The browser reads codes from the camera.");
  const words = "This browser reads no codes from the camera";
  if (codes === "none") return line("codes", "not-good", `${words}.`, "Key in the numbers of tags.");
  if (codes === "kept") return line("codes", "good", `${words}: a reader that is kept with the app does.`);
  const todo = secure
    ? "Stay in the network for some seconds and check again, or key in the numbers of tags."
    : TRUST_FIRST;
  return line("codes", "not-good", `${words}, and the reader that the app has for it is not kept yet.`, todo);
}

function kept({ kept, installed, handheld }: Facts) {
  if (kept)
    return line(
      "kept",
      "good",
      "What it holds is kept until it is sent, even when the device is short of room.",
    );
  if (kept === null)
    return line("kept", "unknown", "The browser does not say whether it keeps what it holds.");
  const words = "Short of room, the browser may clear what it holds.";
  if (!handheld) return line("kept", "unknown", words, "Let it send before it is put away.");
  const todo = installed
    ? "Press the key below to ask for it. If it stays so, send often and clear other things off the device."
    : "Install the app, open it from the home screen and press the key below.";
  return line("kept", "not-good", words, todo);
}

function room({ room_bytes }: Facts) {
  if (room_bytes === null) return line("room", "unknown", "The browser does not say how much room is left.");
  const left = `Room for ${sizeWords(room_bytes)} of photographs.`;
  return room_bytes >= ROOM_BYTES
    ? line("room", "good", left)
    : line("room", "not-good", left, "Clear pictures and apps off the device until there is 1 GB.");
}

function clock({ clock_off_ms }: Facts) {
  if (clock_off_ms === null)
    return line("clock", "unknown", "The office was not reached, so its clock could not be compared.");
  const off = Math.abs(clock_off_ms);
  const words =
    off < 1500
      ? "Its clock is right."
      : `Its clock is ${spanWords(off)} ${clock_off_ms > 0 ? "fast" : "slow"}.`;
  return off <= CLOCK_MS
    ? line("clock", "good", words)
    : line(
        "clock",
        "not-good",
        words,
        "Set date and time to automatic in the device's settings, or by the laptop's clock.",
      );
}

function battery({ battery_percent, charging }: Facts) {
  if (battery_percent === null)
    return line("battery", "unknown", "The browser does not tell the battery: look at the device itself.");
  const words = `Battery at ${battery_percent} %${charging ? ", charging" : ""}.`;
  return battery_percent >= BATTERY_PERCENT || charging
    ? line("battery", "good", words)
    : line("battery", "not-good", words, "Charge it, and lay a cable at its table.");
}

/** Bytes as people say them: 3.4 GB, 420 MB. */
export function sizeWords(bytes: number) {
  return bytes >= 1e9 ? `${(bytes / 1e9).toFixed(bytes < 1e10 ? 1 : 0)} GB` : `${Math.round(bytes / 1e6)} MB`;
}

/** A span as people say it, in its largest unit: 12 seconds, 3 minutes, 2 hours, 5 days. */
export function spanWords(ms: number) {
  const units: [number, string][] = [
    [86_400_000, "day"],
    [3_600_000, "hour"],
    [60_000, "minute"],
    [1000, "second"],
  ];
  const [size, unit] = units.find(([size]) => ms >= size) ?? [1000, "second"];
  const count = Math.round(ms / size);
  return `${count} ${unit}${count === 1 ? "" : "s"}`;
}
