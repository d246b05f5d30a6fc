/** Who else of this day has the same name. */

import type { VisitRecord } from "../../job/types.ts";
import { fieldValue, isPrivate, ownerWords } from "../../job/values.ts";
import { recordOf, records } from "../../local/memory.ts";
import { useSelected } from "../../parts/use.ts";

/** Two owners of one name are told apart by their tickets. */
export function Namesakes({ visit_id }: { visit_id: string }) {
  const tickets = useSelected(() => ticketsOfNamesakes(visit_id), [visit_id]);
  if (!tickets.length) return null;
  return (
    <p class="bar">
      {tickets.join(", ")} {tickets.length === 1 ? "has" : "have"} an owner of the same name. Go by the
      ticket, never by the name.
    </p>
  );
}

function ticketsOfNamesakes(visit_id: string) {
  const visit = recordOf("visit", visit_id);
  const name = nameOf(visit);
  if (!visit || !name) return [];
  const others = (records("visit", visit.day_id) ?? []).filter(({ record_id }) => record_id !== visit_id);
  return others
    .filter((other) => isNamesake(nameOf(other), name))
    .map((other) => fieldValue(other, "ticket"));
}

/** Of the owners at other tables a table knows the first name alone. */
function isNamesake(a: string, b: string) {
  return a === b || (a !== "" && !a.includes(" ") && b.split(" ").includes(a));
}

function nameOf(visit: VisitRecord | null | undefined) {
  return isPrivate(visit) ? "" : ownerWords(visit).trim().toLowerCase();
}
