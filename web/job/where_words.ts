/** Where a thing is, in words, for whoever has found it by its number. */

import { type ById, piecesOf, placedWords, thingName, type Where, whereIs } from "./custody.ts";
import { isNotCome } from "./not_come.ts";
import { partWords } from "./number_parts.ts";
import { tagsOf } from "./progress.ts";
import { referredTo } from "./referred.ts";
import { shown } from "./tag.ts";
import type { ItemRecord } from "./types.ts";
import { firstUpper } from "./words.ts";

/** Of a thing that has not come, where it was looked for; "" of any other. */
export function notComeWords(item: ItemRecord, byId: ById): string {
  if (!isNotCome(item)) return "";
  const [inner] = whereIs(item, byId, tagsOf(item)[0]).inside;
  return `Not there as ${inner ? thingName(inner) : "it"} was unpacked. Nobody has found it since.`;
}

export function whereWords({ place, at, inside }: Where) {
  const containers = inside.map((outer) => `inside ${thingName(outer)}`);
  return [placedWords(place, at), ...containers].join(", ");
}

/** Where a thing is that has left the table, piece by piece where they are apart; "" of one that has not. */
export function awayWords(item: ItemRecord, byId: ById): string {
  const went = referredTo(item);
  if (went) return `${firstUpper(went)}, as was decided.`;
  const missed = notComeWords(item, byId);
  if (missed) return missed;
  const pieces = piecesOf(item, byId);
  const [first] = pieces;
  const where = first?.where ?? whereIs(item, byId);
  if (pieces.some((piece) => whereWords(piece.where) !== whereWords(where)))
    return pieces
      .map((piece) => `${shown(piece.tag)}, ${partWords(item, piece)}: ${whereWords(piece.where)}.`)
      .join(" ");
  return where.place === "table" && !where.inside.length ? "" : `${whereWords(where)}.`;
}
