/** What one scan does, by what the porter has said is being done. */

import { pieceMoved, whyNotCarried, whyVoid } from "../../job/contents.ts";
import {
  containerIdOf,
  placeWords,
  thingName,
  thingWith,
  toWords,
  type Where,
  whereIs,
} from "../../job/custody.ts";
import type { Place, Whereabouts } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { whyNotAmong } from "../../job/kept_apart.ts";
import { leftAloneIn, whyNotTakenOut } from "../../job/left_alone.ts";
import { takenAway } from "../../job/referred.ts";
import { printedFor, rollOfAnother } from "../../job/roll_with.ts";
import { lyingOf, shutAround, shutOver } from "../../job/shut.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { fieldOfPiece } from "../../job/with_owner.ts";
import { errorWords } from "../../job/words.ts";
import { device, recordOf } from "../../local/memory.ts";
import { whyUsed } from "../../local/numbers_gone.ts";
import { keep } from "../../local/outbox.ts";
import type { Aim } from "./porter_aim.tsx";
import { checkSeal, NotCounted } from "./porter_not_counted.ts";
import { whatElse, whyNotOfCount } from "./porter_other_day.ts";

/** What a scan has put on record, and what was so before it. */
type Done = { words: string; operation_id: string; before: Place | string | null; within?: string | null };
/**
 * A number that was scanned, as it outlives the screen: what was said of it, and what it has put on record if it
 * counts; `shut` is the container that two people open before it does.
 */
export type Scanned = {
  tag: string;
  words: string;
  done: Done | null;
  /** The day of what counts, which stays on this device until the count is recorded. */
  of_day?: string;
  shut?: string;
  /** What a new container may be, where its label was printed for another kind than what is opened. */
  which?: readonly Aim["kind_of"][];
};

export type Scan = {
  day_id: string;
  items: ItemRecord[];
  containers: ContainerRecord[];
  aim: Aim;
  me: string;
  /** The day of what counts so far; "" while nothing does. */
  of_day: string;
  /** Said of this number by whoever holds it: what it is, whatever its label was printed for. */
  is?: Aim["kind_of"] | undefined;
};

/** Do with a number what is aimed at, and say in words what was done; it never throws. */
export async function doAsAimed(tag: string, scan: Scan): Promise<Scanned> {
  const thing = thingWith(tag, scan.items, scan.containers);
  try {
    const done = await act(tag, thing, scan);
    return { tag, words: done.words, done, of_day: thing?.day_id ?? scan.day_id };
  } catch (error) {
    const { shut, which } = error instanceof NotCounted ? error : {};
    return { tag, words: errorWords(error), done: null, ...(shut && { shut }), ...(which && { which }) };
  }
}

function act(tag: string, thing: ThingRecord | null, scan: Scan): Promise<Done> {
  if (scan.aim.work === "open") return open(tag, thing, scan);
  if (!thing) throw new NotCounted(whatElse(tag));
  const away = thing.kind === "item" && takenAway(thing);
  if (away) throw new NotCounted(`was taken away: ${away}. Set it aside and tell the manager`);
  const isVoid = whyVoid(thing, tag) || whyNotOfCount(thing, scan);
  if (isVoid) throw new NotCounted(isVoid);
  return scan.aim.work === "inside" ? putInside(tag, thing, scan) : move(tag, thing, scan);
}

async function open(number: string, thing: ThingRecord | null, { day_id, aim, is }: Scan): Promise<Done> {
  if (thing) throw new NotCounted(`is on ${thingName(thing)} already: take a fresh label`);
  const used = whyUsed(number);
  if (used) throw new NotCounted(used.replace(`${shown(number)} `, "").replace("tag.", "label"));
  const whose = rollOfAnother(recordOf("day", day_id), number, device.peek());
  if (whose)
    throw new NotCounted(`is of the roll of ${whose}, who ties it to a thing: take a label of your own roll`);
  const printed = printedFor(recordOf("day", day_id), number);
  if (!is && printed && printed !== "tag" && printed !== aim.kind_of)
    throw Object.assign(
      new NotCounted(`is the label of a ${printed}, and not of a ${aim.kind_of}. Which is it?`),
      { which: [printed, aim.kind_of] },
    );
  const kind_of = is ?? aim.kind_of;
  const { operation_id } = await keep("open_container", { container_id: newId(), day_id, number, kind_of });
  return { words: `${kind_of} opened. What goes into it?`, operation_id, before: null };
}

/** So that a scan of the next crate's label never packs it into the one before. */
const SIZES = { bag: 1, box: 2, crate: 3 };

/** A container that was never moved stands where the first thing that goes into it stood. */
function standHere(container: ContainerRecord, { place, at }: Where, me: string) {
  const move = { ...moved(container, null), from_place: null, to_place: place, at };
  return keep("record_move", { ...move, given_by: me, taken_by: me });
}

async function putInside(
  tag: string,
  thing: ThingRecord,
  { items, containers, aim, me }: Scan,
): Promise<Done> {
  if (!aim.container) throw new NotCounted("is no container. Scan the one that things go into first");
  const things = [...items, ...containers];
  const container = containers.find(({ record_id }) => record_id === aim.container);
  if (container && thing.kind === "container" && SIZES[thing.kind_of] >= SIZES[container.kind_of])
    throw new NotCounted(`does not go into ${thingName(container)}: press Another count, and scan it first`);
  const byId = new Map<string, ThingRecord>(things.map((known) => [known.record_id, known]));
  const piece = pieceMoved(thing, tag);
  const stood = whereIs(thing, byId, piece ? tag : undefined);
  const isNew = Boolean(
    container &&
      !fieldValue(container, "whereabouts") &&
      !containerIdOf(container) &&
      stood.place !== "table" &&
      stood.place !== "returned",
  );
  const to = container && !isNew ? whereIs(container, byId).place : stood.place;
  const against = whyNotCarried(thing, "put_inside", container ? to : "table", things);
  const isShut = against || whyNotTakenOut(thing, things, piece ? tag : undefined);
  if (isShut) throw new NotCounted(isShut);
  const [beside] = container ? leftAloneIn(container, things) : [];
  if (container && beside) {
    const outer = whereIs(container, byId).inside.at(-1) ?? container;
    throw new NotCounted(`${thingName(outer)} holds ${thingName(beside)}, which is stopped: nothing goes in`);
  }
  const sealing = lyingOf(items, containers);
  checkSeal(shutAround(thing, sealing, piece ? tag : undefined), (name) => `lies in ${name}`);
  checkSeal(container && shutOver(container, sealing), (name) => `does not go into ${name}`);
  const isApart = container && whyNotAmong(thing, container, things);
  if (isApart) throw new NotCounted(isApart);
  if (container && isNew) await standHere(container, stood, me);
  const put = { thing_id: thing.record_id, container_id: aim.container, tag: piece ? tag : null };
  const { operation_id } = await keep("put_inside", put);
  return {
    words: `${thingName(thing)} is in${piece}`,
    operation_id,
    before: containerIdOf(thing, piece ? tag : undefined) ?? null,
  };
}

async function move(tag: string, thing: ThingRecord, { items, containers, aim, me }: Scan): Promise<Done> {
  const things = [...items, ...containers];
  const piece = pieceMoved(thing, tag);
  const against = whyNotCarried(thing, "record_move", aim.to, things);
  const isShut = against || whyNotTakenOut(thing, things, piece ? tag : undefined);
  if (isShut) throw new NotCounted(isShut);
  checkSeal(
    shutAround(thing, lyingOf(items, containers), piece ? tag : undefined),
    (name) => `lies in ${name}`,
  );
  const byId = new Map<string, ThingRecord>(things.map((known) => [known.record_id, known]));
  const where = whereIs(thing, byId, piece ? tag : undefined);
  const { place: from } = where;
  const before = fieldOfPiece(thing, "whereabouts", piece ? tag : undefined)?.value as
    | Whereabouts
    | undefined;
  const isThere = from === aim.to && where.at.trim() === aim.at.trim() && !where.inside.length;
  // A load counts what was brought in before; elsewhere a move says that it changed place, or hands.
  if (isThere && before?.taken_by === me && aim.to !== "van" && aim.to !== "store")
    throw new NotCounted(`${thingName(thing)}${piece} is there already, taken by ${me}: no move is recorded`);
  const { operation_id } = await keep("record_move", {
    ...moved(thing, piece ? tag : null),
    from_place: from,
    to_place: aim.to,
    at: aim.at,
    given_by: aim.given,
    taken_by: me,
  });
  const way = isThere
    ? `stays ${toWords(from, where.at).replace(/^to /, "at ")}, now with ${me}`
    : `${placeWords(from).toLowerCase()} to ${placeWords(aim.to).toLowerCase()}`;
  const within = containerIdOf(thing, piece ? tag : undefined) ?? null;
  return { words: `${thingName(thing)}${piece}: ${way}`, operation_id, before: from, within };
}

export function moved(thing: ThingRecord, tag: string | null) {
  return { move_id: newId(), thing_id: thing.record_id, count: null, signed: false, tag };
}
