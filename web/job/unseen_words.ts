/** What was not examined, in words: of what may not be there at all nobody says more than that it was not seen. */
import { withArticle } from "./articles.ts";
import { listInWords } from "./english.ts";
import { type Described, seenFindings } from "./families.ts";
import { placesOf, zoneNameOf, zoneOf } from "./places.ts";
import { isInName } from "./there.ts";
import { fieldValue, listed } from "./values.ts";

/** "not examined: the verso, and whether there is a watermark; sealed shut" */
export function unseenInWords(described: Described, howFar: string, keys: string[], reason: string): string {
  const { plan, book } = described;
  const open = keys.filter((key) => isAnyOpen(described, key));
  const rest = keys.filter((key) => !open.includes(key));
  const names = [...new Set(open.map((key) => zoneNameOf(book, zoneOf(key)).one))];
  const any = `whether there is ${listInWords(
    names.map((name) => withArticle(name, book.print.english)),
    "or",
  )}`;
  if (!rest.length) return `${any} was not seen: ${reason}`;
  return `${howFar}: ${placesOf(plan, book, rest).words}${open.length ? `, and ${any}` : ""}; ${reason}`;
}

/** "of the verso or any watermark": of what nothing is recorded. */
export function placesUnknown(described: Described, keys: string[]): string {
  const { plan, book } = described;
  const open = keys.filter((key) => isAnyOpen(described, key));
  const rest = keys.filter((key) => !open.includes(key));
  const names = [...new Set(open.map((key) => `any ${zoneNameOf(book, zoneOf(key)).one}`))];
  if (!names.length) return placesOf(plan, book, rest, "none").words;
  return listInWords([...(rest.length ? [placesOf(plan, book, rest, "none").words] : []), ...names], "or");
}

/** Whether nobody can know that it has such a zone: only a look would tell, and nothing else on record speaks of it. */
export function isAnyOpen(described: Described, key: string): boolean {
  const { plan, book, record } = described;
  const zone = zoneOf(key);
  if (!zoneNameOf(book, zone).if_any || isInName(described, zone)) return false;
  const isFound = seenFindings(record).some(({ value }) => zoneOf(value.zone) === zone);
  const isMarked =
    Boolean(plan.zones.find((row) => row.zone === zone)?.wording?.length) &&
    listed(record, "marks/").some(({ value }) => !value.withdrawn);
  const isJudged = Boolean(fieldValue(record, `origins/${key}`));
  return !isFound && !isMarked && !isJudged;
}
