/**
 * Which parts of a thing are lost to whoever describes it: on their way, never come, back with the owner, or missing.
 * A cataloguer may describe a thing whose parts are each accounted for, wherever in the house they lie. Source: common
 * practice. The office has the same rules in `intake/custody/parts_lost.py`; `fixtures/parts-lost.json` holds both.
 */

import { sameThing } from "./cautions.ts";
import { HAS_COME } from "./compared.ts";
import { liesWords } from "./contents.ts";
import { type ById, piecesOf } from "./custody.ts";
import { AS_RECORDED } from "./found_by_house.ts";
import { partWords } from "./number_parts.ts";
import { oneThing } from "./one_thing.ts";
import { shown } from "./tag.ts";
import type { DayRecord, ItemRecord } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { isLater } from "./with_owner.ts";

type PieceOf = ReturnType<typeof piecesOf>[number];

/** Whether they are in two places, or in two containers at one place. */
function areApart(pieces: readonly PieceOf[]): boolean {
  return new Set(pieces.map(({ where }) => [where.place, where.inside[0]?.record_id].join(" "))).size > 1;
}

function inItsPlace(item: ItemRecord, { tag, where, ...number }: PieceOf): string {
  return [shown(tag), partWords(item, number), liesWords(where)].join(", ");
}

/** Each part with its place where they lie apart; none of what is in one place. */
export function partsApart(item: ItemRecord, byId: ById): string[] {
  const pieces = piecesOf(item, byId);
  return areApart(pieces) ? pieces.map((piece) => inItsPlace(item, piece)) : [];
}

/**
 * Each in words, with its number, where it is by the ledger and why that is not enough: "000-03W, the lid, van (on its
 * way)". Of what is in one place, or in one piece, nothing is on its way by itself. `day` is its own, on which it is
 * noted what is missing; none while it is read.
 */
export function partsLost(item: ItemRecord, byId: ById, day: DayRecord | null | undefined): string[] {
  const pieces = piecesOf(item, byId);
  if (pieces.length < 2) return [];
  const hasCome = pieces.some(({ where }) => HAS_COME.has(where.place));
  const isApart = areApart(pieces);
  return pieces.flatMap((piece) => {
    const why = isMissing(item, piece.tag, day)
      ? "noted as missing"
      : isApart && whyLost(piece.where.place, hasCome);
    return why ? `${inItsPlace(item, piece)} (${why})` : [];
  });
}

/** Why a part that is in one place and others in another is not accounted for; "" if it is. */
function whyLost(place: string, hasCome: boolean): string {
  if (place === "returned") return "it went back";
  if (place === "van") return "on its way";
  return hasCome && (place === "table" || place === "bench") ? "it has not come" : "";
}

/**
 * Whether a difference names its number as that of a piece that is missing, and nobody has explained that, nor had it
 * in hand since.
 */
export function isMissing(item: ItemRecord, tag: string, day: DayRecord | null | undefined): boolean {
  if (!day) return false;
  const ids = new Set<string | null>(sameThing(item).map(({ record_id }) => record_id));
  const { fields } = oneThing(item);
  const moves = [fields[`whereabouts/${tag}`] ?? [], fields[`inside/${tag}`] ?? []].flat();
  return listed(day, "differences/").some(({ id, value, set }) => {
    const isOpen = !AS_RECORDED.has(fieldValue(day, `difference-ends/${id}`)?.ended ?? "");
    const isOfIt = value.difference === "piece-short" && ids.has(value.thing_id);
    return isOpen && isOfIt && value.words.includes(shown(tag)) && !moves.some((move) => isLater(move, set));
  });
}
