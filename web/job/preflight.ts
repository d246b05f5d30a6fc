/** Before the doors open: what is ready for the day and what is not. It warns; the manager decides. */
import { isRollOf, NO_DEVICE } from "./custody.ts";
import { dateWords, dayFacts, peopleHere } from "./day_facts.ts";
import { isStanding } from "./next_day.ts";
import { line, type Ready } from "./preflight_line.ts";
import { type OfficeReadiness, officeLines } from "./preflight_office.ts";
import type { DayRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { countWords } from "./words.ts";

/** What the manager says of the day to come; `labels` null until somebody has counted them. */
export type Expected = { items: number; labels: number | null; pads: boolean };

/** As it is kept with the day, where nothing else says that they do. */
export const PADS_LIE = "Paper pads lie on each table.";

/** Every line of the page. `office` is null while it is not reached; `now` is this device's clock in milliseconds. */
export function readiness(given: {
  day: DayRecord;
  days: DayRecord[];
  expected: Expected;
  office: OfficeReadiness | null;
  secure: boolean;
  clock_off_ms: number | null;
  now: number;
}): Ready[] {
  const { day, days, expected, office, secure, clock_off_ms, now } = given;
  return [
    ...peopleAndTables(day),
    ...things(day, expected),
    rolls(day, office),
    ...(expected.labels === null ? [labelsUncountWords()] : []),
    paper(expected),
    ...earlierDays(day, days),
    ...(office
      ? officeLines({ office, day, items: expected.items, secure, clock_off_ms, now })
      : [line(false, "The office is not reached, so the rest is not known.", "Join the office's network.")]),
  ];
}

function peopleAndTables(day: DayRecord): Ready[] {
  const people = peopleHere(day);
  const valuers = people.filter((person) => person.roles.includes("valuer"));
  return [
    line(
      valuers.length > 0,
      `${countWords(people.length, "person")}, ${countWords(valuers.length, "valuer")} among them.`,
      "Add who works today, a valuer at least.",
      "#/day",
    ),
    line(
      dayFacts(day).tables.length > 0,
      `${countWords(dayFacts(day).tables.length, "table")}.`,
      "The day was set up without tables.",
    ),
  ];
}

/** Numbers and labels for the things expected; until those are known, neither enough nor too few. */
function things(day: DayRecord, { items, labels }: Expected): Ready[] {
  if (!items)
    return [
      line(
        false,
        "Nobody has said how many things are expected.",
        "Say it above first: numbers, labels and room on the disk hang on it.",
      ),
    ];
  const given = listed(day, "rolls/").reduce((sum, { value }) => sum + value.count, 0);
  const left = given - listed(day, "spoiled/").length;
  const numbers = line(
    left >= items,
    `${left} tag numbers given out for ${countWords(items, "thing")} expected.`,
    "Give out more rolls. A thing in pieces takes a number each.",
    "#/rolls",
  );
  if (labels === null) return [numbers];
  const words = `${labels} printed labels in hand for ${countWords(items, "thing")}.`;
  return [numbers, line(labels >= items, words, "Print more, and take spare stock.", "#/rolls")];
}

/** Each table has a roll that it alone ties from; those with others, or kept for whoever runs out, are no table's. */
function rolls(day: DayRecord, office: OfficeReadiness | null) {
  const holders = listed(day, "rolls/").map(
    ({ id }) => fieldValue(day, `roll-holders/${id}`) ?? { given_to: "", for_device_id: null },
  );
  const devices = office?.devices ?? [];
  const without = devices.filter(
    (device) => device.role === "table" && !holders.some((holder) => isRollOf(holder, device)),
  );
  const others = devices.filter(({ role }) => role !== "table");
  const withTables = holders.filter(
    (holder) =>
      ![...NO_DEVICE, ""].some((name) => name === holder.given_to.toLowerCase()) &&
      !others.some((device) => isRollOf(holder, device)),
  );
  const having = new Set(withTables.map(({ given_to, for_device_id }) => for_device_id ?? given_to)).size;
  const { tables } = dayFacts(day);
  const names = holders.flatMap(({ given_to }) => given_to || []).join(", ");
  const given = `${countWords(holders.length, "roll")} for ${countWords(tables.length, "table")}`;
  const wants = without.length
    ? `; none for ${without.map(({ name }) => name).join(", ")}`
    : having < tables.length && holders.length
      ? `; ${having} of them with a table`
      : "";
  return line(
    !without.length && having >= tables.length,
    `${given}${names && `: ${names}`}${wants}.`,
    "Each table needs a roll of its own: two tables on one roll tie the same number twice.",
    "#/rolls",
  );
}

function labelsUncountWords() {
  return line(
    false,
    "Nobody has counted the printed labels.",
    "Count them, and type the number above.",
    "#/rolls",
  );
}

function paper({ pads }: Expected) {
  return line(
    pads,
    pads ? PADS_LIE : "Nobody has said that paper pads lie on each table.",
    "They carry the day if a device fails.",
  );
}

function earlierDays(day: DayRecord, days: DayRecord[]): Ready[] {
  const { held_on: today } = dayFacts(day);
  const open = days.filter(
    (other) => dayFacts(other).held_on < today && !fieldValue(other, "closed") && isStanding(other),
  );
  return open.map((other) => {
    const { held_on, place } = dayFacts(other);
    return line(
      false,
      `The day of ${dateWords(held_on)} in ${place} is still open.`,
      "Close it, or its things mix with today's.",
      "#/closing",
    );
  });
}
