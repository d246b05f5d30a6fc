/** What of an item the desk corrects in numbers: its pieces and the list of them, and when it was made. */

import { dateOf, readDate } from "../../job/dates.ts";
import type { DateValue } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { lineAsTyped, lineFrom, linesListed, sumWords } from "../../job/listed_pieces.ts";
import { backInPart, piecesCounted } from "../../job/pieces.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Typed, wholeNumber } from "../../parts/controls.tsx";
import { spanWords } from "../../parts/date_field.tsx";
import { Correct, type Corrected } from "./entry_correct.tsx";

const MOST_PIECES = 9999;

/** Those that are back with their owner are of it as well: the count on record is of all. */
export function CorrectPieces({ item }: { item: ItemRecord }) {
  const item_id = item.record_id;
  const before = fieldValue(item, "pieces");
  const back = backInPart(item);
  const put = (pieces: number, correction: string) =>
    keep("count_pieces", { item_id, pieces, back, correction });
  const wrong = ({ pieces = "" }: Corrected) => {
    const number = wholeNumber(pieces) ?? 0;
    if (number < 1 || number > MOST_PIECES) return "Give a whole number";
    return number < back ? `${countWords(back, "piece")} went back` : "";
  };
  return (
    <Correct
      called="Pieces"
      held={`correct ${item_id} pieces`}
      now={{ pieces: `${before ?? ""}` }}
      fields={({ pieces }, set) => (
        <Typed
          label="Pieces in all"
          hint={back ? `With ${countWords(back, "piece")} that went back to the owner` : undefined}
          value={pieces}
          save={set("pieces")}
          inputmode="numeric"
        />
      )}
      wrong={wrong}
      put={({ pieces = "" }, correction) => put(Number(pieces), correction)}
      back={before ? () => put(before, "") : undefined}
    />
  );
}

/** From so many on they may be unlike, as where a table asks for a list. */
const SEVERAL = 3;

/** Each line of the list with what puts it right, and one to add; null for what has no list and needs none. */
export function listToCorrect(item: ItemRecord) {
  const lines = linesListed(item);
  if (!lines.length && piecesCounted(item).said < SEVERAL) return null;
  const { words, isOver } = sumWords(item);
  return (
    <>
      {lines.map(({ id, value }) => (
        <span key={id} class="listed-line">
          {lineAsTyped(value)} <CorrectLine item={item} line_id={id} line={lineAsTyped(value)} />
        </span>
      ))}
      <span class="listed-line">
        <small class={isOver ? "is-far" : ""}>{words}</small> <CorrectLine item={item} line_id="" line="" />
      </span>
    </>
  );
}

function CorrectLine({ item, line_id, line }: { item: ItemRecord; line_id: string; line: string }) {
  const item_id = item.record_id;
  const isNew = !line_id;
  const put = (typed: string, correction: string) =>
    isNew
      ? keep("list_piece", { item_id, line_id: newId(), ...lineFrom(typed), withdrawn: false, correction })
      : amend("list_piece", { item_id, line_id, ...lineFrom(typed), withdrawn: false, correction });
  const strike = {
    words: "There is no such piece",
    put: (correction: string) => amend("list_piece", { item_id, line_id, withdrawn: true, correction }),
  };
  return (
    <Correct
      called={isNew ? "a line of its pieces" : `pieces, ${line}`}
      says={isNew ? "Add" : undefined}
      held={`correct ${item_id} listed ${line_id}`}
      now={{ line }}
      fields={(form, set) => (
        <Typed
          label="As it is printed, with how many there are"
          of={`correct ${line_id}`}
          into="list_piece.words"
          value={form.line}
          save={set("line")}
        />
      )}
      wrong={(form) => (lineFrom(form.line ?? "").words ? "" : "Say what it is")}
      put={(form, correction) => put(form.line ?? "", correction)}
      strike={isNew ? undefined : strike}
      back={isNew ? undefined : () => put(line, "")}
    />
  );
}

const YEAR = /^-?\d{1,5}$/;
const yearIn = (text = "") => (YEAR.test(text.trim()) ? Number(text.trim()) : null);

/** Words that are understood say their years; of others they are typed beside. */
export function CorrectDate({ item, book }: { item: ItemRecord; book: PlanBook }) {
  const item_id = item.record_id;
  const before = fieldValue(item, "dates") ?? { words: "", earliest: null, latest: null, edtf: null };
  const conventions = book.words.dates;
  const read = ({ words = "", from, to }: Corrected): DateValue => {
    const { date } = readDate(words, conventions);
    if (date) return date;
    const {
      earliest = null,
      latest = null,
      edtf = null,
    } = dateOf({ from: yearIn(from), to: yearIn(to) }, conventions).date ?? {};
    return { words: words.trim(), earliest, latest, edtf };
  };
  const put = (date: DateValue, correction: string) => keep("record_date", { item_id, ...date, correction });
  const wrong = (form: Corrected) => {
    const { words = "", from = "", to = "" } = form;
    if (!words.trim() || readDate(words, conventions).date) return "";
    const [first, last] = [yearIn(from), yearIn(to)];
    const isNone = (text: string, year: number | null) => text.trim() !== "" && year === null;
    if (isNone(from, first) || isNone(to, last)) return "Give a year as a number";
    return first !== null && last !== null && first > last ? "The first year comes after the last" : "";
  };
  return (
    <Correct
      called="Date"
      held={`correct ${item_id} dates`}
      now={{ words: before.words, from: `${before.earliest ?? ""}`, to: `${before.latest ?? ""}` }}
      fields={(form, set) => (
        <>
          <Typed
            label="Date"
            of="correct"
            into="record_date.words"
            value={form.words}
            save={set("words")}
            below={(words) => words.trim() && <p class="hint">{dateSays(words, book)}</p>}
          />
          {form.words?.trim() && !readDate(form.words, conventions).date && (
            <div class="pair">
              <Typed label="From the year" value={form.from} save={set("from")} inputmode="numeric" />
              <Typed label="To the year" value={form.to} save={set("to")} inputmode="numeric" />
            </div>
          )}
        </>
      )}
      wrong={wrong}
      put={(form, correction) => put(read(form), correction)}
      back={() => put(before, "")}
    />
  );
}

function dateSays(words: string, book: PlanBook) {
  const { date, problem } = readDate(words, book.words.dates);
  return date ? spanWords(date) : `${problem} The words are kept.`;
}
