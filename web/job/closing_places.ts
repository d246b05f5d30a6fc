/** Where things and what holds them are, and where the ledger says otherwise. */

import { unsettled } from "./between.ts";
import { holdingCautions, isHeldApart, isStopped } from "./cautions.ts";
import { type Found, knownBy, type Named, type Pieces, someOf, type Things } from "./closing_found.ts";
import { keyOf } from "./closing_kinds.ts";
import { checksOf, leftToCompare } from "./compared.ts";
import { contentsOfEach, itemsWithin } from "./contents.ts";
import { piecesOf, placeWords, thingName, type Where, whereIs } from "./custody.ts";
import type { Place, ValueAt } from "./fields.ts";
import { type Load, notCome, takenOut } from "./loads.ts";
import { partWords } from "./number_parts.ts";
import { referredTo, takenAway } from "./referred.ts";
import { contradicted, sealingOf, wrongSeal } from "./sealed.ts";
import type { ContainerRecord, DayRecord, FieldValue, ItemRecord, RecordCopy, ThingRecord } from "./types.ts";
import { fieldValue, listed, saidOf } from "./values.ts";
import { isLater, latestOf, movesInOrder } from "./with_owner.ts";
import { countWords } from "./words.ts";

/** Where something lies that has not come to where things are kept, as the closing says it. */
export const STILL: Partial<Record<Place, string>> = {
  table: "still at the table",
  bench: "still at the bench",
  holding: "still in the holding area",
  van: "still in the van",
};

const ISOLATED = "in isolation";

/**
 * An item, or a piece of it, that lies loose in the hall or the van; what is in a container is named with that, and
 * what has not come of a load with the load.
 */
export function leftBehind(
  item: ItemRecord,
  where: Where,
  pieces: Pieces,
  byId: Things,
  withLoads: ReadonlySet<string>,
): Named[] {
  if (takenAway(item)) return []; // it is nowhere of ours
  const each = pieces.map((piece) => ({
    isNamed: withLoads.has(piece.tag),
    where: piece.where,
    which: piece.of > 1 ? `${partWords(item, piece)}, ` : "",
    // A part may get another name: it is known by what closings of before said of it.
    known: piece.of > 1 ? `piece ${piece.piece} of ${piece.of}, ` : "",
  }));
  const whole = { where, which: "", known: "", isNamed: false };
  return (each.length ? each : [whole]).flatMap(({ where, which, known, isNamed }): Named[] => {
    const named = (words: string): Named => ["left-behind", which + words, known + words];
    if (isLeftIsolated(item, where, byId)) return [named(`${ISOLATED}, and no caution holds it`)];
    const still = STILL[where.place];
    return still && !isNamed && where.place !== "table" && !where.inside.length ? [named(still)] : [];
  });
}

export function isKeptApart(item: ItemRecord) {
  return holdingCautions(item).length > 0 || isHeldApart(item);
}

/**
 * Whether something lies in isolation that nothing keeps there. What is in a container is named by itself only if
 * something beside it is kept there, else the container is.
 */
function isLeftIsolated(item: ItemRecord, { place, inside }: Where, byId: Things) {
  if (place !== "isolation" || isKeptApart(item) || isStopped(item) || referredTo(item)) return false;
  const outermost = inside.at(-1);
  return !outermost || holdsKeptApart(outermost, byId);
}

function holdsKeptApart(container: ThingRecord, byId: Things) {
  const isIn = (item: ItemRecord) =>
    [whereIs(item, byId), ...piecesOf(item, byId).map(({ where }) => where)].some(
      ({ inside }) => inside.at(-1) === container,
    );
  return [...byId.values()].some(
    (one) => one.kind === "item" && (isKeptApart(one) || isStopped(one)) && isIn(one),
  );
}

/** The numbers that are named with a load of which they have not come. */
export function numbersWithLoads(loads: readonly Load[]): ReadonlySet<string> {
  return new Set(loads.flatMap((load) => [...notCome(load), ...takenOut(load)].map(({ number }) => number)));
}

type Elsewhere = {
  day: DayRecord;
  items: ItemRecord[];
  withLoads: ReadonlySet<string>;
  noted: ReadonlySet<string>;
};

/** What has not come of a load is named with that load, once. */
export function ofContainers(
  containers: ContainerRecord[],
  byId: Things,
  { day, items, withLoads, noted }: Elsewhere,
): Found[] {
  const contents = contentsOfEach(byId.values());
  const sealing = sealingOf(items, containers);
  return containers.flatMap((container) => {
    const found: Named[] = [];
    const { place, inside } = whereIs(container, byId);
    // It is named with the one that it is in, or with its load.
    const isNamed = inside.length > 0 || withLoads.has(container.number);
    const still = isNamed ? undefined : STILL[place];
    if (still) found.push(["not-arrived", still]);
    if (place === "isolation" && !inside.length && !holdsKeptApart(container, byId))
      found.push(["not-arrived", `${ISOLATED}, and nothing in it is held`]);
    const seals = saidOf(container, "seal").map(({ value }) => value);
    const [wrong] = seals.flatMap((seal) => wrongSeal(seal) ?? []);
    if (wrong) found.push(["seal-differs", wrong]);
    if (!seals.length && listed(container, "moves/").some(({ value }) => value.to_place === "van"))
      found.push(["seal-differs", "it went into the van, and no seal of it is on record"]);
    const [current, made] = [fieldValue(container, "seal"), container.fields.seal];
    const came = movesInOrder(container).findLast(({ value }) => value.to_place === "store");
    const isThere = place === "store" && !inside.length; // what is in another came under the seal of that
    if (isThere && current?.state === "sealed" && made && came && isLater(came.set, made))
      found.push(["seal-differs", `nobody looked at seal ${current.seal} when it came to the store`]);
    if (isThere) found.push(...comparedIn(container, itemsWithin(container, contents), byId, noted));
    const against = contradicted(container, day, sealing);
    return [
      ...[...found, ...containerContested(container, byId), ...brokenChain(container, byId)].map(
        ([kind, words, of]) =>
          onContainer(container, kind, words, knownBy(kind, container.record_id, words, of)),
      ),
      ...(against
        ? [
            onContainer(container, "seal-differs", against.words, {
              key: keyOf("seal-differs", container.record_id, against.said),
            }),
          ]
        : []),
    ];
  });
}

function onContainer(
  container: ContainerRecord,
  kind: Found["kind"],
  words: string,
  known: ReturnType<typeof knownBy>,
): Found {
  return {
    kind,
    words: `${thingName(container)}: ${words}`,
    at: `#/container/${container.record_id}`,
    ...known,
  };
}

/** What lies in a container at the store, and nobody has compared. */
function comparedIn(
  container: ContainerRecord,
  held: readonly ItemRecord[],
  byId: Things,
  noted: ReadonlySet<string>,
): Named[] {
  const left = held.filter((item) => {
    // A difference that was noted of it stands for a check-in of all of it, where none says of which number it is.
    const isNoted = noted.has(item.record_id) && !checksOf(item).length;
    return !isNoted && leftToCompare(item, container, byId).length > 0;
  });
  if (!left.length) return [];
  const of = left.map(({ record_id }) => record_id).sort();
  if (left.length === held.length)
    return [
      ["not-compared", `${countWords(left.length, "thing")} in it, and nothing was compared yet`, `${of}`],
    ];
  const names = someOf(left, thingName);
  return [
    [
      "not-compared",
      `${left.length} of ${held.length} things in it not compared as it was checked in: ${names}`,
      `${of}`,
    ],
  ];
}

/**
 * Moves that began elsewhere than the one before had ended; their order is that of devices' clocks, so a person looks.
 * What was put into a container in between has gone along with that.
 */
export function brokenChain(thing: ThingRecord, byId: Things): Named[] {
  const moves = movesInOrder(thing).filter(({ value }) => !value.tag);
  const records = [thing, ...(thing.doubles ?? [])];
  const merged = latestOf(records.flatMap(({ fields }) => fields.merged ?? []));
  const isOn = (record: Pick<RecordCopy, "fields">, { id }: { id: string }) => `moves/${id}` in record.fields;
  return moves.flatMap((move, index): Named[] => {
    // Until it was known that they are one, each record told the moves of its own.
    const isOfAll = !merged || isLater(move.set, merged);
    const before = moves
      .slice(0, index)
      .findLast((one) => isOfAll || records.some((record) => isOn(record, one) && isOn(record, move)));
    const [begun, ended] = [move.value.from_place, before?.value.to_place];
    if (!before || !ended || !begun || begun === ended) return [];
    if (ended === "returned" && begun === "table" && isTiedSince(thing, before.set)) return [];
    if (begun === carriedTo(thing, before.set, move.set, byId)) return [];
    const [from, ledger] = [begun, ended].map((place) => placeWords(place).toLowerCase());
    return [["wrong-place", `moved from ${from}, while the ledger said ${ledger}`]];
  });
}

/** Whether a number was tied since: what came again after it went back came to a table. */
function isTiedSince(thing: ThingRecord, before: FieldValue) {
  return listed(thing, "tags/").some(({ set }) => isLater(set, before));
}

/**
 * Where a container, that a thing was put into after one of its moves, had brought it by the next; null if it was put
 * into none.
 */
function carriedTo(thing: ThingRecord, before: FieldValue, move: FieldValue, byId: Things): string | null {
  const { inside } = thing.fields;
  if (!inside || isLater(before, inside) || isLater(inside, move)) return null;
  const container = byId.get(fieldValue(thing, "inside")?.container_id ?? "");
  if (!container) return null;
  const outer = whereIs(container, byId).inside.at(-1) ?? container;
  return movesInOrder(outer).findLast(({ set }) => !isLater(set, move))?.value.to_place ?? "table";
}

/** What two people said otherwise of a container, neither having heard of the other. */
export function containerContested(container: ContainerRecord, byId: Things): Named[] {
  const inside = ({ container_id }: ValueAt<"inside">) => {
    const outer = byId.get(container_id ?? "");
    return container_id ? `in ${outer ? thingName(outer) : "a container"}` : "in no container";
  };
  return unsettled(container).flatMap(({ field, kept, other }): Named[] => {
    const sides = [kept.value, other.value];
    if (field === "seal") {
      const of = sides as ValueAt<"seal">[];
      if (of.some(wrongSeal)) return []; // named as that
      const seals = of.map(({ seal, state }) => `${seal} ${state}`);
      return [["seal-differs", `two people recorded its seal otherwise: ${seals.join(" or ")}`]];
    }
    if (field !== "inside") return [];
    const put = (sides as ValueAt<"inside">[]).map(inside);
    return [["disagreement", `two people put it otherwise: ${put.join(" or ")}`]];
  });
}
