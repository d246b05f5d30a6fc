/** Incidents of a day: Stop was pressed where there is no item, and each stands until it is settled by name. */
import type { IncidentEnd, IncidentValue } from "./fields.ts";
import type { DayRecord, Disagreement } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

/**
 * One incident. `end` is how it ended; `between` are disagreements that nobody has settled: on how it ended, and on
 * what was told of it. While two people say otherwise how it ended, it stands.
 */
export type Incident = {
  id: string;
  value: IncidentValue;
  end: IncidentEnd | undefined;
  between: Disagreement[];
};

export const INCIDENT_ENDS: readonly (readonly [IncidentEnd["ended"], string])[] = [
  ["taken-away", "Taken away by those called"],
  ["set-apart", "Set apart, under their word"],
  ["let-go-on", "Those called let work go on"],
  ["left-with-owner", "Left the hall with its owner"],
  ["on-an-item", "On an item's record now"],
  ["by-mistake", "Stop was pressed by mistake"],
];

/** The ends that can be said of a row: what must not go home with its owner did not leave with them, either. */
export function endsOffered(goes_home: boolean) {
  return INCIDENT_ENDS.filter(([key]) => key !== "left-with-owner" || goes_home);
}

/** All of a day's, those that stand before those that are settled, each in the order in which they were seen. */
export function incidentsOf(day: DayRecord): Incident[] {
  const all = listed(day, "incidents/").map(({ id, value }) => ({
    id,
    value,
    end: fieldValue(day, `incident-ends/${id}`),
    between: day.disagreements.filter(
      ({ field, settled }) => !settled && [`incidents/${id}`, `incident-ends/${id}`].includes(field),
    ),
  }));
  all.sort((a, b) => a.value.seen_at.localeCompare(b.value.seen_at));
  return [...all.filter(isStanding), ...all.filter((incident) => !isStanding(incident))];
}

/** Whether nobody has settled it, or two have and said otherwise. */
export function isStanding({ end, between }: Incident) {
  return !end || between.length > 0;
}

/** Those that nobody has settled. */
export function standingIncidents(day: DayRecord) {
  return incidentsOf(day).filter(isStanding);
}

/** How an incident ended, and who says so. */
export function endWords({ ended, settled_by, present, words }: IncidentEnd): string {
  const how = INCIDENT_ENDS.find(([key]) => key === ended)?.[1] ?? ended;
  return [`${how}, settled by ${settled_by}${present ? `, with ${present}` : ""}.`, words]
    .filter(Boolean)
    .join(" ");
}

// To make one costs far more than to use it, and a closing tells hundreds of moments.
const CLOCK = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });

/** Hour and minute by this device's clock on the wall. */
export function timeWords(instant: string): string {
  const moment = new Date(instant);
  return Number.isNaN(moment.getTime()) ? "a time that nobody can read" : CLOCK.format(moment);
}

/**
 * When, where, beside whom, by this device's clock; and what was seen, in the words of whoever typed it. Until then it
 * is called by the name of the row that was pressed, if the caller has it: nobody saw all that a row lists.
 */
export function incidentWords({ value }: Pick<Incident, "value">, row = ""): string {
  const ticket = value.ticket ? `ticket ${value.ticket}` : "no ticket told";
  const place = value.place || "no place told";
  const written = [row, value.sign].filter(Boolean).join(", ") || "nothing written yet";
  return `Stop at ${timeWords(value.seen_at)}, ${ticket}, ${place}: ${written} (${value.hazard})`;
}
