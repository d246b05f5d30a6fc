/** The same thing recorded more than once: which records are of one thing, as the office finds them. */

/** Which record stands behind which other, by their ids. */
export type Behind = ReadonlyMap<string, string>;

/** The ids of all records of the thing that a record is of, itself the first: whichever was merged into which. */
export function idsOfThing(id: string, behind: Behind): string[] {
  const found = new Set([id]);
  for (const record_id of found) {
    const into = behind.get(record_id);
    if (into) found.add(into);
    for (const [other, first] of behind) if (first === record_id) found.add(other);
  }
  return [...found];
}
