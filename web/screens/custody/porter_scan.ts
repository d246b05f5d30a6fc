/** What one scan does, by what the porter has said is being done. */
import { itemsWithin, placeWords, thingName, thingWith, whereIs, whyNotCarried } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import { tagsOf } from "../../job/progress.ts";
import { isLeftAlone } from "../../job/stopped.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import type { Aim } from "./porter_aim.tsx";

export type Scanned = { tag: string; words: string; good: boolean; thing: ThingRecord | null };

export type Scan = {
  day_id: string;
  items: ItemRecord[];
  containers: ContainerRecord[];
  aim: Aim;
  me: string;
};

/** What was scanned does not go where it was to go; the message says what it is instead. */
class NotCounted extends Error {}

/** Do with a number what is aimed at, and say in words what was done; it never throws. */
export async function doAsAimed(tag: string, scan: Scan): Promise<Scanned> {
  const thing = thingWith(tag, scan.items, scan.containers);
  try {
    return { tag, words: await done(tag, thing, scan), good: true, thing };
  } catch (error) {
    return { tag, words: error instanceof Error ? error.message : String(error), good: false, thing };
  }
}

function done(tag: string, thing: ThingRecord | null, scan: Scan): Promise<string> {
  if (scan.aim.work === "open") return open(tag, thing, scan);
  if (!thing) throw new NotCounted("is on nothing this device knows. Set it aside and note a difference");
  return scan.aim.work === "inside" ? putInside(tag, thing, scan) : move(tag, thing, scan);
}

async function open(number: string, thing: ThingRecord | null, { day_id, aim }: Scan) {
  if (thing) throw new NotCounted(`is on ${thingName(thing)} already: take a fresh label`);
  await keep("open_container", { container_id: newId(), day_id, number, kind_of: aim.kind_of });
  return `${aim.kind_of} opened. What goes into it?`;
}

async function putInside(tag: string, thing: ThingRecord, { items, containers, aim }: Scan) {
  const things = [...items, ...containers];
  const container = containers.find(({ record_id }) => record_id === aim.container);
  const byId = new Map<string, ThingRecord>(things.map((known) => [known.record_id, known]));
  const to = container ? whereIs(container, byId).place : "table";
  const against = whyNotCarried(thing, "put_inside", to, things);
  if (against) throw new NotCounted(against);
  const beside = container && itemsWithin(container, things).find(isLeftAlone);
  if (beside)
    throw new NotCounted(
      `${thingName(container)} holds ${thingName(beside)}, which is stopped: nothing goes in`,
    );
  const piece = pieceOf(thing, tag);
  await keep("put_inside", {
    thing_id: thing.record_id,
    container_id: aim.container,
    tag: piece ? tag : null,
  });
  return `${thingName(thing)} is in${piece}`;
}

async function move(tag: string, thing: ThingRecord, { items, containers, aim, me }: Scan) {
  const things = [...items, ...containers];
  const against = whyNotCarried(thing, "record_move", aim.to, things);
  if (against) throw new NotCounted(against);
  const piece = pieceOf(thing, tag);
  const byId = new Map<string, ThingRecord>(things.map((known) => [known.record_id, known]));
  const from = whereIs(thing, byId, piece ? tag : undefined).place;
  await keep("record_move", {
    move_id: newId(),
    thing_id: thing.record_id,
    from_place: from,
    to_place: aim.to,
    at: aim.at,
    given_by: aim.given,
    taken_by: me,
    count: null,
    signed: false,
    tag: piece ? tag : null,
  });
  return `${thingName(thing)}${piece}: ${placeWords(from).toLowerCase()} to ${placeWords(aim.to).toLowerCase()}`;
}

/** Pieces with tags of their own travel apart, "" is said of a thing in one piece, which moves as a whole. */
function pieceOf(thing: ThingRecord, tag: string) {
  const value = fieldValue(thing, `tags/${tag}`);
  return value && tagsOf(thing).length > 1 ? `, piece ${value.piece} of ${value.of}` : "";
}
