/** Whether what was noted at the check-in stands as findings since: then these tell it, and nothing of it is open. */
import { AS_UNPACKED } from "./as_unpacked.ts";
import { checkOf } from "./compared.ts";
import { type Described, touch, WHOLE } from "./families.ts";
import type { FindingValue } from "./fields.ts";
import { zoneNameOf } from "./places.ts";
import { isNamedIn, wordsIn } from "./there.ts";
import { listed } from "./values.ts";
import { isLater } from "./with_owner.ts";

/** Where one thing that was noted ends, and the next begins. */
const CLAUSES = /[.;,]\s|\s(?:and|with|plus|also)\s|[&/+]/;

/**
 * Of a note of one thing a finding that was seen as it was unpacked is that. Of a note of several each is to be found
 * by its fault and its zone, as far as it names them: what nobody recorded would else be told nowhere.
 */
export function isTakenUp(described: Described): boolean {
  const compared = checkOf(described.record);
  const since = listed(described.record, "findings/").flatMap(({ id, value }) => {
    const found = described.record.fields[`findings/${id}`];
    const isSince = compared && found && isLater(found, compared.set);
    return isSince && !value.withdrawn && value.light === AS_UNPACKED ? value : [];
  });
  if (!since.length) return false;
  const noted = compared?.value.words ?? "";
  const clauses = noted.split(CLAUSES).filter((clause) => clause.trim());
  return clauses.length < 2 || clauses.every((clause) => isFoundOf(described, clause, since));
}

/** Whether one of these findings is what a clause names; one that names neither fault nor zone goes with the others. */
function isFoundOf({ plan, book }: Described, clause: string, found: readonly FindingValue[]) {
  const terms = book.vocabulary.terms
    .filter((term) =>
      [term.noun, term.plural, term.says, ...term.said_as].some((name) => isSaid(clause, name)),
    )
    .map(({ term }) => term);
  const zones = plan.zones
    .map(({ zone }) => zone)
    .filter((zone) => {
      const name = zoneNameOf(book, zone);
      const nouns = [name.one, ...(name.also ?? [])];
      return zone !== WHOLE && nouns.some((one) => isNamedIn(clause, { ...name, one }));
    });
  return found.some(
    ({ term, zone }) =>
      (!terms.length || terms.includes(term)) &&
      (!zones.length || zones.some((named) => touch(plan, named, zone))),
  );
}

function isSaid(clause: string, name: string | null | undefined) {
  const plain = (words: string) => ` ${wordsIn(words).filter(Boolean).join(" ")} `;
  return Boolean(name?.trim()) && plain(clause).includes(plain(name ?? ""));
}
