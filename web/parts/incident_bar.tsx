/** Incidents that stand on the day, told on every screen that people begin with. */

import { incidentWords, standingIncidents } from "../job/incidents.ts";
import { useDay } from "./use.ts";

/** One line for each incident that nobody has settled, and the way to it; nothing if there is none. */
export function StandingIncidents() {
  const day = useDay();
  const standing = day ? standingIncidents(day) : [];
  if (!standing.length) return null;
  return (
    <div class="bar caution-bar red" role="alert">
      {standing.map((incident) => (
        <p key={incident.id}>
          <strong>{incidentWords(incident)}</strong>
        </p>
      ))}
      <p>
        <a href="#/stop">Keep away. Ticket, place, how it ended</a>
      </p>
    </div>
  );
}
