/**
 * What only the office knows of the day to come: how phones reach it, its copies and room, and how the devices stand.
 */
import { type CheckName, type CheckState, sizeWords, spanWords } from "./check.ts";
import { dayFacts } from "./day_facts.ts";
import { line, type Ready } from "./preflight_line.ts";
import type { DayRecord } from "./types.ts";
import { countWords } from "./words.ts";

/** A device's latest check, as the office keeps it. */
export type KeptCheck = {
  states: Partial<Record<CheckName, CheckState>>;
  room_bytes: number | null;
  clock_off_ms: number | null;
  battery_percent: number | null;
  charging: boolean | null;
  checked_at: string;
  passed: boolean;
};
/** The open hall, as the office tells it. */
export type Hall = {
  name: string;
  groups: string[];
  fingerprint: string;
  shown_until: string;
  valid_until: string;
  addresses: string[];
  pages: string[];
  qr_svg: string | null;
};
export type CheckedDevice = {
  device_id: string;
  name: string;
  role: string;
  paired_at: string;
  last_seen_at: string | null;
  check: KeptCheck | null;
};
/** What only the office knows. */
export type OfficeReadiness = {
  hall: Hall | null;
  office_time: string;
  free_bytes: number;
  copies: { folder: string; says: string; hint: string; in_reach: boolean; same_disk?: boolean }[];
  devices: CheckedDevice[];
};

/** Photographs of one thing, and the size of one as phones take it: common practice, on the safe side. */
const PHOTOS_EACH = 10;
const PHOTO_BYTES = 3_000_000;
const HOUR_MS = 3_600_000;
/** A check of yesterday evening counts, one of last week does not. */
const CHECK_LASTS_MS = 24 * HOUR_MS;
const CLOCK_MS = 30_000;
/** Those who work with things; a desk stays in the office. */
const IN_THE_HALL = new Set(["door", "table", "porter"]);

/** What the office says; `items` are the things expected, `now` is this device's clock in milliseconds. */
export function officeLines(given: {
  office: OfficeReadiness;
  day: DayRecord;
  items: number;
  secure: boolean;
  clock_off_ms: number | null;
  now: number;
}): Ready[] {
  const { office, day, items, secure, clock_off_ms, now } = given;
  return [
    certificate(office.hall, secure, day),
    ...reach(office.hall, office.devices, now),
    ...copies(office.copies, office.hall),
    ...space(office.free_bytes, items),
    clock(clock_off_ms),
    ...devices(office.devices, now),
  ];
}

function certificate(hall: Hall | null, secure: boolean, day: DayRecord) {
  if (!hall)
    return secure
      ? line(
          true,
          "Phones reach the office over a certificate that it was given; the hall's own is not in use.",
        )
      : line(
          false,
          "The office is reached without a certificate, so phones can neither keep the app nor use their camera.",
          "Start it with: intake serve --hall",
        );
  const counts = `counts until ${dateWords(hall.shown_until)}`;
  return line(
    hall.shown_until.slice(0, 10) > dayFacts(day).held_on,
    `The certificate for ${hall.name} ${counts}, and phones trust it until ${dateWords(hall.valid_until)}.`,
    "Stop the office and start it again: it then shows the next one.",
    "#/devices",
  );
}

/** An address alone shows nothing: a Wi-Fi may keep its guests apart. It counts once a phone has come through. */
function reach(hall: Hall | null, all: CheckedDevice[], now: number): Ready[] {
  if (!hall) return [];
  const [page] = hall.pages;
  if (page === undefined)
    return [
      line(
        false,
        "The laptop is in no network that a phone could join.",
        "Share its connection, or join the hall's Wi-Fi.",
        "#/devices",
      ),
    ];
  const seenAt = ({ last_seen_at, paired_at }: CheckedDevice) => last_seen_at ?? paired_at;
  const [last] = all
    .filter(({ role }) => IN_THE_HALL.has(role))
    .sort((a, b) => seenAt(b).localeCompare(seenAt(a)));
  const todo = "Scan the code under Devices with a phone in the hall's network.";
  if (!last) {
    const words = `Phones are to find the laptop at ${page}; no phone has reached it yet.`;
    return [line(false, words, todo, "#/devices")];
  }
  const age = now - Date.parse(seenAt(last));
  const ago = `${last.name} reached it ${spanWords(Math.max(age, 0))} ago`;
  return [
    age < CHECK_LASTS_MS
      ? line(true, `Phones find the laptop at ${page}; ${ago}.`)
      : line(false, `Phones are to find the laptop at ${page}; ${ago}, the last.`, todo, "#/devices"),
  ];
}

function copies(all: OfficeReadiness["copies"], hall: Hall | null): Ready[] {
  const start = `intake serve ${hall ? "--hall " : ""}--copy-to FOLDER`;
  const another = `Plug in a stick or a disk and start the office with: ${start}`;
  if (!all.length)
    return [
      line(
        false,
        "No second place keeps a copy: what is recorded is on this laptop and on the phones that took it.",
        another,
      ),
    ];
  return all.map(({ folder, says, hint, in_reach, same_disk }) =>
    in_reach && same_disk
      ? line(
          false,
          `Copy in ${folder}: for all the office can tell it is on its own disk, lost with it and no second place.`,
          another,
        )
      : line(in_reach, `Copy in ${folder}: ${says}`, hint || "Look at the stick or the network."),
  );
}

function space(free_bytes: number, items: number): Ready[] {
  if (!items) return [];
  const needed = items * PHOTOS_EACH * PHOTO_BYTES;
  const coming = `${countWords(items, "thing")} may bring ${sizeWords(needed)} of photographs`;
  return [
    line(
      free_bytes > needed,
      `${sizeWords(free_bytes)} free at the office; ${coming}.`,
      "Make room on the laptop's disk.",
    ),
  ];
}

function clock(off_ms: number | null) {
  if (off_ms === null)
    return line(
      false,
      "The office's clock was not compared with this device's.",
      "Check this device.",
      "#/check",
    );
  const off = Math.abs(off_ms);
  return line(
    off <= CLOCK_MS,
    off < 1500
      ? "The office's clock and this device's agree."
      : `The office's clock is ${spanWords(off)} ${off_ms > 0 ? "behind" : "ahead of"} this device's.`,
    "Compare both with a clock that you trust, and set the wrong one.",
  );
}

function devices(all: CheckedDevice[], now: number): Ready[] {
  const phones = all.filter(({ role }) => IN_THE_HALL.has(role));
  if (!phones.length)
    return [
      line(false, "No device for door, table or porter is paired.", "Make a code for each.", "#/devices"),
    ];
  return phones.map(({ name, check }) => {
    if (!check)
      return line(false, `${name} was never checked.`, `Open “Check this device” on it.`, "#/devices");
    const failing = failingOf(check);
    const battery = check.battery_percent === null ? "" : `, battery ${check.battery_percent} %`;
    if (failing.length)
      return line(
        false,
        `${name}: ${failing.join(", ")}${battery}.`,
        "Its own check page says what to do.",
        "#/devices",
      );
    const age = now - Date.parse(check.checked_at);
    return line(
      age < CHECK_LASTS_MS,
      age < HOUR_MS
        ? `${name} has passed its check${battery}.`
        : `${name} passed its check ${spanWords(age)} ago${battery}.`,
      "Check it once more today.",
      "#/devices",
    );
  });
}

/** What is not good in a check, by its short names. */
export function failingOf(check: KeptCheck): string[] {
  return (Object.keys(CHECK_WORDS) as CheckName[])
    .filter((name) => check.states[name] === "not-good")
    .map((name) => CHECK_WORDS[name]);
}

function dateWords(moment: string) {
  return new Date(moment).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
}

/** What a check is called in a list: "camera, clock". */
const CHECK_WORDS: Record<CheckName, string> = {
  trusted: "trust",
  installed: "not installed",
  offline: "offline",
  camera: "camera",
  codes: "reading codes",
  kept: "may be cleared",
  room: "room",
  clock: "clock",
  battery: "battery",
};
