/**
 * What was compared with its pictures as it was unpacked, number by number: all of a thing together, or those of its
 * numbers alone that lay in the container. Of a number what was said last, of it or of the whole, holds.
 * The office has the same rules in `intake/custody/compared.py`; `fixtures/compared.json` holds both.
 */

import { type ById, containerIdOf, piecesOf } from "./custody.ts";
import type { CheckValue } from "./fields.ts";
import { partWords } from "./number_parts.ts";
import { shown } from "./tag.ts";
import type { ContainerRecord, FieldValue, ItemRecord, RecordCopy } from "./types.ts";
import { fieldValue, listed, saidOf } from "./values.ts";
import { isLater, latestOf, numbersOf, tagsHere } from "./with_owner.ts";
import { countWords } from "./words.ts";

/** `tag` is the number of which it is said; "" of all of it. */
export type Check = { tag: string; value: CheckValue; set: FieldValue };

const sameThing = (item: RecordCopy) => [item, ...(item.doubles ?? [])];

/** What is in force, of all of it and of each number. */
function inForce(item: RecordCopy): Check[] {
  const set = item.fields["check-in"];
  const whole = set ? [{ tag: "", value: set.value as CheckValue, set }] : [];
  const own = sameThing(item).flatMap((on) =>
    listed(on, "check-in/").map(({ id, ...one }) => ({ tag: id, ...one })),
  );
  return [...whole, ...own];
}

/** The same, with both sides of whatever two people said otherwise and nobody has settled. */
export function allSaid(item: RecordCopy): Check[] {
  const own = sameThing(item).flatMap((on) =>
    listed(on, "check-in/").flatMap(({ id }) =>
      saidOf(on, `check-in/${id}`).map((set) => ({ tag: id, set })),
    ),
  );
  const whole = saidOf(item, "check-in").map((set) => ({ tag: "", set }));
  return [...whole, ...own].map(({ tag, set }) => ({ tag, set, value: set.value as CheckValue }));
}

const numberOf = (item: RecordCopy, tag: string) =>
  sameThing(item).flatMap((on) => fieldValue(on, `tags/${tag}`) ?? [])[0];

/** Those of a number: one that took the place of another is on the same piece. */
function ofNumber(item: RecordCopy, checks: readonly Check[], tag: string): Check[] {
  const number = numberOf(item, tag);
  const its = number ? numbersOf(item, number.piece ?? 1).map(({ id }) => id) : [tag];
  return checks.filter((check) => its.includes(check.tag));
}

/** Without those that are overtaken: of a number by a later one of it or of the whole; of the whole once each has. */
function standing(item: RecordCopy, checks: Check[]): Check[] {
  const force = inForce(item);
  const [whole, own] = [force.filter(({ tag }) => !tag), force.filter(({ tag }) => tag)];
  if (!own.length) return checks;
  const here = tagsHere(item);
  const isOvertaken = ({ set }: Check, others: readonly Check[]) =>
    others.some((other) => isLater(other.set, set));
  return checks.filter((check) =>
    check.tag
      ? !isOvertaken(check, [...whole, ...ofNumber(item, own, check.tag)])
      : !here.length || !here.every((tag) => isOvertaken(check, ofNumber(item, own, tag))),
  );
}

/** What is said of a thing as it was unpacked and holds still, both sides of what nobody has settled. */
export const checksOf = (item: RecordCopy): Check[] => standing(item, allSaid(item));

/** The same of what is in force alone. */
export const checksInForce = (item: RecordCopy): Check[] => standing(item, inForce(item));

const FROM_GRAVEST = ["differs", "not-here", "as-recorded"] as const;

/** "4 of 5 pieces are there", where not all of them were; else "". */
export function countOf({ pieces, of }: CheckValue): string {
  return pieces && of && pieces < of ? `${pieces} of ${countWords(of, "piece")} are there` : "";
}

/** What was written of it, with how many of its pieces were there if that is not all of them. */
export function checkWords(check: CheckValue): string {
  const { words } = check;
  const counted = countOf(check);
  return words.includes(counted) ? words : [counted, words].filter(Boolean).join("; ");
}

/** How many pieces were not in a container as they were counted there, and nobody has counted the thing since. */
export function lackingIn(item: RecordCopy, container_id: string): number {
  const { pieces: since } = item.fields;
  return checksInForce(item)
    .filter(({ tag, set }) => {
      const isThere = !tag || containerIdOf(item, tag) === container_id;
      return isThere && !(since && isLater(since, set));
    })
    .reduce((sum, { value: { pieces, of } }) => sum + (pieces && of ? Math.max(0, of - pieces) : 0), 0);
}

/** The gravest of several, with the words of all that say so and by the last of them. */
function gravestOf(checks: readonly Check[]): Check | undefined {
  const state = FROM_GRAVEST.find((one) => checks.some(({ value }) => value.state === one));
  const such = checks.filter(({ value }) => value.state === state);
  const last = latestOf(such.map(({ set }) => set));
  const check = such.find(({ set }) => set === last);
  const words = [...new Set(such.flatMap(({ value }) => checkWords(value) || []))].join("; ");
  return check && { ...check, value: { ...check.value, words } };
}

/** What came of comparing a thing, of any of its numbers; undefined if nobody has compared any of it. */
export const checkOf = (item: RecordCopy): Check | undefined => gravestOf(checksInForce(item));

/** Which of the numbers on what is here nobody has compared; "" of what has none. */
export function notCompared(item: RecordCopy): string[] {
  const checks = allSaid(item);
  const here = tagsHere(item);
  if (checks.some(({ tag }) => !tag)) return [];
  if (!here.length) return checks.length ? [] : [""];
  return here.filter((tag) => !ofNumber(item, checks, tag).length);
}

/** What a number of a thing is on, in words; "" of all of it. */
export function partOf(item: RecordCopy, tag: string): string {
  const number = numberOf(item, tag);
  return number ? partWords(item, number) : "";
}

/** Numbers of a thing, each with what it is on. */
export function numbersInWords(item: RecordCopy, tags: readonly string[]): string {
  return tags.map((tag) => [partOf(item, tag), shown(tag)].filter(Boolean).join(", ")).join("; ");
}

/** Where things are kept. */
export const HAS_COME: ReadonlySet<string> = new Set(["store", "shelf"]);

/**
 * The numbers of a thing that lie in a container at any depth, or of one that came loose in nothing where things are
 * kept; none of what has no number there.
 */
export function numbersLying(item: ItemRecord, container: ContainerRecord | null, byId: ById): string[] {
  return piecesOf(item, byId).flatMap(({ tag, where }) => {
    const isLoose = !where.inside.length && HAS_COME.has(where.place);
    const isIn = where.inside.some(({ record_id }) => record_id === container?.record_id);
    return (container ? isIn : isLoose) ? tag : [];
  });
}

/** Of which of its numbers a check-in there is said: none where all that the house has of it lies there. */
export function numbersToName(item: ItemRecord, container: ContainerRecord | null, byId: ById): string[] {
  const lying = numbersLying(item, container, byId);
  const kept = piecesOf(item, byId).filter(({ where }) => where.place !== "returned");
  return lying.length < kept.length ? lying : [];
}

/** What of a thing lies there and nobody has compared, by its numbers; "" of what has none. */
export function leftToCompare(item: ItemRecord, container: ContainerRecord | null, byId: ById): string[] {
  const left = notCompared(item);
  const lying = numbersLying(item, container, byId);
  return lying.length ? left.filter((tag) => lying.includes(tag)) : left;
}

/** The last that was said of what lies there: of one of its numbers, or of all of it. */
export function checkedThere(item: ItemRecord, container: ContainerRecord | null, byId: ById) {
  if (leftToCompare(item, container, byId).length) return undefined;
  const lying = numbersLying(item, container, byId);
  const checks = checksInForce(item);
  const own = lying.flatMap((tag) => ofNumber(item, checks, tag));
  return gravestOf(lying.length ? [...checks.filter(({ tag }) => !tag), ...own] : checks)?.value;
}
