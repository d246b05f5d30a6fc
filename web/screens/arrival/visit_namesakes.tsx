/** Who else of this day has the same name. */

import type { VisitRecord } from "../../job/types.ts";
import { fieldValue, isPrivate, ownerWords } from "../../job/values.ts";
import { recordOf, records } from "../../local/memory.ts";
import { useDevice, useSelected } from "../../parts/use.ts";
import { sharedTickets } from "../../parts/with_words.ts";

/** Two owners of one name are told apart by their tickets; one who comes again goes on with their own visit. */
export function Namesakes({ visit_id }: { visit_id: string }) {
  const found = useSelected(() => namesakesOf(visit_id), [visit_id]);
  const [device, shared] = [useDevice(), sharedTickets.value];
  if (!found.length) return null;
  return (
    <>
      <p class="bar">
        {found.map((other) => fieldValue(other, "ticket")).join(", ")} {found.length === 1 ? "has" : "have"}{" "}
        an owner of the same name. Go by the ticket, never by the name.
      </p>
      {device &&
        shared &&
        found
          .filter((other) => fieldValue(other, "stage") === "left")
          .map((earlier) => <shared.SameOwner key={earlier.record_id} {...{ visit_id, earlier, device }} />)}
    </>
  );
}

function namesakesOf(visit_id: string) {
  const visit = recordOf("visit", visit_id);
  const name = nameOf(visit);
  if (!visit || !name) return [];
  const others = (records("visit", visit.day_id) ?? []).filter(({ record_id }) => record_id !== visit_id);
  return others.filter((other) => isNamesake(nameOf(other), name));
}

/** Of the owners at other tables a table knows the first name alone. */
function isNamesake(a: string, b: string) {
  return a === b || (a !== "" && !a.includes(" ") && b.split(" ").includes(a));
}

function nameOf(visit: VisitRecord | null | undefined) {
  return isPrivate(visit) ? "" : ownerWords(visit).trim().toLowerCase();
}
