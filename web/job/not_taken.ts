/** The views that nobody took, by why: "back, bow and label (time did not allow it)". */
import { listInWords } from "./english.ts";
import { groupedBy } from "./values.ts";

type Skipped = { name: string; why: string };

/** Of more views than these their count stands before their names. */
const MOST_NAMED = 3;

export function notTakenWords(skipped: readonly Skipped[]): string[] {
  return [...groupedBy(skipped, ({ why }) => why)].map(([why, some]) => {
    const names = listInWords(some.map(({ name }) => name));
    const said = some.length > MOST_NAMED ? `${some.length} views, ${names}` : names;
    return why ? `${said} (${why})` : said;
  });
}
