/** Of a thing of several pieces, on which of them something was found. */

import type { FindingValue, ListedPiece } from "../../job/fields.ts";
import { wordsInLine } from "../../job/in_line.ts";
import { lineAsTyped, linesListed } from "../../job/listed_pieces.ts";
import { isInParts } from "../../job/number_parts.ts";
import { mayHaveGone, onMoreWord } from "../../job/on_more.ts";
import { oneThing } from "../../job/one_thing.ts";
import { countAlike, isOfPieces } from "../../job/piece_open.ts";
import { backInPart, isOnMore, mostCounted, SET } from "../../job/pieces.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { isNumber, NOT_NOTED, pairToldBy, piecesOf, pieceToldBy } from "../../job/which_piece.ts";
import { isBackWithOwner, pieceCount, pieceOfSide, piecesAway, tagsHere } from "../../job/with_owner.ts";
import { firstUpper } from "../../job/words.ts";
import { type Option, Select } from "../../parts/choices.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import type { Change } from "./finding_severity.tsx";
import { MOST_PIECES } from "./pieces.tsx";

/** So many are offered as words; of more the number is typed. */
const MOST_OFFERED = 12;

const TOLD_BY = "In a few words, as they are printed: with the bent foot";

type WhichOf = { id: string; item: ItemRecord; value: FindingValue; change: Change };

/** Shown of a thing of several pieces alone: which of them, or how many, or that nobody noted it. */
export function WhichPiece({ id, item, value, change }: WhichOf) {
  const all = piecesOf(item);
  const more = isOnMore(item, value) ? firstUpper(onMoreWord(item, value)) : "";
  const { piece = null, piece_count = null } = value;
  if (all < 2 && !piece && !piece_count) return null; // what was said while there were more can be taken off
  const lines = linesListed(item);
  const line = lines.find((one) => isOfLine(value, one.value));
  const choose = (chosen: string) => {
    const named = lines.find(({ id: line_id }) => chosen === `line ${line_id}`)?.value;
    if (named)
      return change({ piece: null, piece_count: named.count, piece_words: wordsInLine(named.words) });
    const count = /^of (\d+)$/.exec(chosen)?.[1];
    // The words of a line go with it; somebody's own stay until they change them.
    const words = line ? { piece_words: null } : {};
    if (count) return change({ piece: null, piece_count: Number(count), ...words });
    // How this one is told from the others was said already, or is said now; what was said of others is not its.
    return change({
      piece: chosen || null,
      piece_count: null,
      piece_words: pieceToldBy(item, chosen) || null,
    });
  };
  const most = Math.min(mostCounted(item), MOST_PIECES);
  const set = item.fields[`findings/${id}`];
  const isAsked = set && mayHaveGone(item, { value, set });
  const isUnderOneTag = Boolean(piece) && piece !== NOT_NOTED && !numberedOf(item).length;
  const isOnSome = piece_count !== null && piece_count < all;
  return (
    <div class="pair">
      {more && <p class="bar">{more}. Count again, or say on which of them it is now.</p>}
      {isAsked && (
        <div class="bar">
          <p>{firstUpper(onMoreWord(item, value))}. Say on which of them it is, or that it is here.</p>
          <button type="button" onClick={() => attempt(() => change({ piece_count }))}>
            {piece_count === 1 ? "It is on one that is here" : `All ${piece_count} of those are here`}
          </button>
        </div>
      )}
      <Select
        label={
          all < 2 ? "Which of the pieces" : all === 2 ? "Which of the two" : `Which of the ${all} pieces`
        }
        options={[
          ...lines.map((one): Option<string> => [`line ${one.id}`, firstUpper(lineAsTyped(one.value))]),
          ...optionsOf(item, all, value),
        ]}
        value={line ? `line ${line.id}` : piece_count ? `of ${piece_count}` : piece}
        empty={saidOfNone(value)}
        choose={choose}
      />
      {all > MOST_OFFERED && (
        <Counted
          label="or on how many"
          value={piece_count}
          save={async (count) => count > 0 && count <= most && change({ piece: null, piece_count: count })}
        />
      )}
      {isUnderOneTag && (
        <Typed
          of={id}
          label="How to tell it from the others"
          hint={`${piece && isNumber(piece) ? "" : "Left and right as they stand in their picture. "}${TOLD_BY}`}
          into="record_finding.piece_words"
          value={value.piece_words}
          save={(words) => change({ piece_words: words || null })}
        />
      )}
      {isOnSome && (
        <Typed
          of={id}
          label={piece_count === 1 ? "Which one it is" : "Which ones those are"}
          hint={`In a few words, as they are printed: ${piece_count === 1 ? "the bent one" : "those with a gilt rim"}`}
          into="record_finding.piece_words"
          value={value.piece_words}
          save={(words) => change({ piece_words: words || null })}
        />
      )}
    </div>
  );
}

/** What it is on where no piece is chosen: what a set lacks is none of the pieces that were counted. */
function saidOfNone(value: FindingValue): string {
  if (isOfPieces({ ...value, severity: 1 })) return "Not said";
  return value.zone === SET || value.zone === "outline"
    ? "The set as a whole, or a piece that is not here"
    : "None of the pieces";
}

/** Whether a finding is on what a line of the list names, as many as there are of it. */
function isOfLine({ piece_count, piece_words }: FindingValue, { count, words }: ListedPiece) {
  return piece_count === count && wordsInLine(piece_words) === wordsInLine(words);
}

/**
 * The sides of a pair; the pieces that are here under a number each; then how many, one only while some have no number,
 * since else it is said which; last that it was not noted.
 */
function optionsOf(item: ItemRecord, all: number, { piece, piece_count: chosen }: FindingValue) {
  const numbered = numberedOf(item);
  const away = piecesAway(item).map(
    (gone): Option<string> => [`${gone}`, `Piece ${gone}, back with its owner`],
  );
  const isTold = !backInPart(item) || pieceOfSide(item, "left") > 0; // of one that is left, which of the two it is
  const by = pairToldBy(item); // one way for all that is found on them
  const ofPair: Option<string>[] =
    all === 2 && isTold && by !== "order"
      ? [
          ["left", "The left one"],
          ["right", "The right one"],
        ]
      : [];
  const inOrder: Option<string>[] =
    all === 2 && !numbered.length && by !== "side"
      ? [
          ["1", "The first"],
          ["2", "The second"],
        ]
      : numbered;
  const isEach = numbered.length + backInPart(item) >= all;
  const counts = Array.from(
    { length: all > MOST_OFFERED || all < 2 ? 0 : all },
    (_, index) => index + 1,
  ).filter((count) => count > 1 || !isEach);
  if (chosen && !counts.includes(chosen)) counts.push(chosen);
  const options: Option<string>[] = [
    ...ofPair,
    ...inOrder,
    ...(isBackWithOwner(item) ? [] : away),
    ...counts.map((count): Option<string> => [`of ${count}`, countOption(count, all)]),
    [NOT_NOTED, "Not noted which"],
  ];
  // What was said while more were counted stands among them, so that it can be taken off.
  if (piece && !options.some(([key]) => key === piece))
    options.unshift([piece, isNumber(piece) ? `Piece ${piece}` : `The ${piece} one`]);
  return options;
}

/** A number is one piece's, unless more were counted than have one: then the first is on the others. */
function numberedOf(item: ItemRecord): Option<string>[] {
  const of = pieceCount(item);
  if (of < 2 || isInParts(item)) return []; // a number on a part is on none of those that were counted
  const each = new Map<number, string[]>();
  for (const { id, value } of listed(oneThing(item), "tags/").filter(({ id }) =>
    tagsHere(item).includes(id),
  )) {
    const piece = value.piece ?? 1;
    if (piece === 1 && countAlike(item) > of) continue;
    const words = [shown(id), value.mark ?? ""].filter(Boolean);
    each.set(piece, [...(each.get(piece) ?? []), ...words]);
  }
  return [...each]
    .sort(([one], [other]) => one - other)
    .map(([piece, words]) => [String(piece), [`Piece ${piece}`, ...words].join(", ")]);
}

function countOption(count: number, all: number) {
  if (count === all) return all === 2 ? "Both of them" : `All ${all} of them`;
  return `${count} of them`;
}
