/** What the numbers on a thing say that it has: who tied one to "the pendulum and key" had both in hand. */
import { checksInForce } from "./compared.ts";
import type { Described } from "./families.ts";
import { isInParts } from "./number_parts.ts";
import { zoneNameOf } from "./places.ts";
import { isNamedIn, wordsIn } from "./there.ts";
import { fieldValue } from "./values.ts";
import { tagsHere } from "./with_owner.ts";

/** The number on a part that is called as a zone is, and is here; undefined if none is. */
export function numberOnZone({ book, record }: Pick<Described, "book" | "record">, zone: string) {
  if (!isInParts(record)) return undefined;
  const missed = checksInForce(record).filter(({ value }) => value.state === "not-here");
  return tagsHere(record)
    .flatMap((tag) => fieldValue(record, `tags/${tag}`) ?? [])
    .find(
      ({ tag, mark }) =>
        mark && isNamedIn(mark, zoneNameOf(book, zone)) && !missed.some((one) => !one.tag || one.tag === tag),
    );
}

/** Whether it names one of several, such as a key of what may have more. */
export function isNumberOnOne(described: Pick<Described, "book" | "record">, zone: string): boolean {
  const { one, many } = zoneNameOf(described.book, zone);
  const words = wordsIn(numberOnZone(described, zone)?.mark ?? "");
  return Boolean(many) && words.includes(one.split(" ").at(-1) ?? "") && !words.includes(many ?? "");
}
