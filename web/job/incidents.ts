/** Incidents of a day: Stop was pressed where there is no item, and each stands until it is settled by name. */
import type { IncidentEnd, IncidentValue } from "./fields.ts";
import type { DayRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";

export type Incident = { id: string; value: IncidentValue; end: IncidentEnd | undefined };

export const INCIDENT_ENDS: readonly (readonly [IncidentEnd["ended"], string])[] = [
  ["taken-away", "Taken away by those called"],
  ["set-apart", "Set apart, under their word"],
  ["let-go-on", "Those called let work go on"],
  ["left-with-owner", "Left the hall with its owner"],
  ["on-an-item", "On an item's record now"],
  ["by-mistake", "Stop was pressed by mistake"],
];

/** All of a day's, those that stand before those that are settled, each in the order in which they were seen. */
export function incidentsOf(day: DayRecord): Incident[] {
  const all = listed(day, "incidents/").map(({ id, value }) => ({
    id,
    value,
    end: fieldValue(day, `incident-ends/${id}`),
  }));
  all.sort((one, other) => one.value.seen_at.localeCompare(other.value.seen_at));
  return [...all.filter(({ end }) => !end), ...all.filter(({ end }) => end)];
}

/** Those that nobody has settled. */
export function standingIncidents(day: DayRecord) {
  return incidentsOf(day).filter(({ end }) => !end);
}

/** When, where, beside whom, and what was seen, by this device's clock. */
export function incidentWords({ value }: Incident): string {
  const at = new Date(value.seen_at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const ticket = value.ticket ? `ticket ${value.ticket}` : "no ticket told";
  return `Stop at ${at}, ${ticket}, ${value.place || "no place told"}: ${value.sign} (${value.hazard})`;
}
