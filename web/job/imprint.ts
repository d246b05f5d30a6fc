/** What an imprint says that somebody was: whom a book was printed for did not write it. */
import type { RecordCopy } from "./types.ts";
import { listed } from "./values.ts";

const DID = "(?:printed|published|engraved|drawn|made|sold|retailed)";
const ROLE = new RegExp(`\\b(${DID}(?: and ${DID})? (?:for|by)) $`, "i");

/** "printed for Barnabas Quire", and the mark that says so; null where no mark names him in such a way. */
export function roleInMarks(record: RecordCopy, name: string): { words: string; from: string[] } | null {
  const marks = listed(record, "marks/").filter(({ value }) => !value.withdrawn);
  for (const { id, value } of marks) {
    const text = value.text.replaceAll(/\s+/g, " ");
    const at = text.toLowerCase().indexOf(name.toLowerCase());
    const role = at > 0 ? ROLE.exec(text.slice(0, at))?.[1]?.toLowerCase() : undefined;
    if (role && role !== "made by") return { words: `${role} ${name}`, from: [`marks/${id}`] };
  }
  return null;
}
