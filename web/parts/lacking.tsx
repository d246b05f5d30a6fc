/** One line on every screen as long as the office lacks what this device shows. */
import type { RecordCopy } from "../job/types.ts";
import { countWords } from "../job/words.ts";
import { lacking } from "../local/lacking.ts";
import { useSelected } from "./use.ts";

/** How many of each: "the day, 2 visits and 5 items". */
export function lackingWords(records: readonly Pick<RecordCopy, "kind">[]): string {
  const count = (kind: RecordCopy["kind"]) => records.filter((record) => record.kind === kind).length;
  const named = (["day", "visit", "item", "container"] as const)
    .filter((kind) => count(kind))
    .map((kind) => countWords(count(kind), kind));
  return [named.slice(0, -1).join(", "), named.at(-1)].filter(Boolean).join(" and ");
}

export function Lacking() {
  const words = useSelected(() => lackingWords(lacking()), []);
  if (!words || location.hash === "#/outbox") return null;
  return (
    <p class="bar wrong" role="alert">
      This device shows {words} that the office does not have. <a href="#/outbox">See what to do</a>
    </p>
  );
}
