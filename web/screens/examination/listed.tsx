/** A thing of unlike pieces: a line for each kind of them, with how many there are, and what is its own. */

import { newId } from "../../job/ids.ts";
import { wordsInLine } from "../../job/in_line.ts";
import { countListed, lineAsTyped, lineFrom, linesListed, sumWords } from "../../job/listed_pieces.ts";
import { backInPart, piecesCounted } from "../../job/pieces.ts";
import { faultOnIt } from "../../job/receipt.ts";
import type { ItemRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { enterInJournal, holdForm } from "../../local/held.ts";
import { amend, keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useRecord } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { oneGoing } from "../tagging/tag_one_goes.tsx";

/** From so many on they may be unlike: of one and of a pair nobody makes a list. */
const SEVERAL = 3;
const LIST = "Its pieces, one by one";

type Line = ReturnType<typeof linesListed>[number];

export function ListOfPieces({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const { form, set, drop } = useHeld(`line ${item_id}`, { words: "" });
  if (!item) return null;
  const lines = linesListed(item);
  const { said } = piecesCounted(item);
  if (said < SEVERAL && !lines.length) return null;
  const { words, isOver } = sumWords(item);
  const next = lineFrom(form.words);
  const add = () =>
    attempt(async () => {
      if (!next.words) return;
      await keep("list_piece", { item_id, line_id: newId(), ...next, withdrawn: false });
      drop(form);
    });
  return (
    <details class="folded" open={lines.length > 0 || Boolean(form.words)}>
      <summary>
        {LIST} {lines.length > 0 && <span class="count">{`${countListed(item)} of ${said}`}</span>}
      </summary>
      {lines.length > 0 && <p class={isOver ? "bar" : "lead"}>{words}</p>}
      {isOver && <CountAnew item={item} />}
      <ul class="pieces-listed">
        {lines.map((line) => (
          <Listed key={line.id} item={item} line={line} />
        ))}
      </ul>
      <form
        class="inline"
        onSubmit={(event) => {
          event.preventDefault();
          return add();
        }}
      >
        <Typed
          label={lines.length ? "The next" : "The first"}
          hint="A line for each kind, as it is printed: 2 chisels; a blowlamp"
          into="list_piece.words"
          value={form.words}
          save={set("words")}
        />
        <button type="submit" disabled={!next.words}>
          {next.words ? "Add" : "Write the line first"}
        </button>
      </form>
    </details>
  );
}

/** More are named than were counted: whoever has them in front of them says which number is right. */
function CountAnew({ item }: { item: ItemRecord }) {
  const pieces = countListed(item);
  const count = () => keep("count_pieces", { item_id: item.record_id, pieces, back: backInPart(item) });
  return (
    <p>
      <button type="button" onClick={() => attempt(count)}>
        Counted again: it has {pieces} pieces
      </button>
    </p>
  );
}

function Listed({ item, line: { id, value } }: { item: ItemRecord; line: Line }) {
  const { record_id: item_id } = item;
  const of = { item_id, line_id: id };
  const change = async (text: string) => {
    const said = lineFrom(text);
    if (said.words) await amend("list_piece", { ...of, ...said });
  };
  const takeOff = () =>
    attempt(async () => {
      await amend("list_piece", { ...of, withdrawn: true });
      sayDone("It is off the list.", () => amend("list_piece", { ...of, withdrawn: false }));
    });
  const goes = () =>
    attempt(async () => {
      enterInJournal(oneGoing(item), { mark: wordsInLine(value.words), typed: "" });
      await holdForm(oneGoing(item));
      location.hash = `#/item/${item_id}/tag`;
    });
  const found = listed(item, "findings/").filter(
    (one) => !one.value.withdrawn && wordsInLine(one.value.piece_words) === wordsInLine(value.words),
  );
  return (
    <li>
      <Typed
        of={id}
        label="Which, and how many"
        into="list_piece.words"
        value={lineAsTyped(value)}
        save={change}
      />
      {found.map((one) => (
        <p key={one.id} class="hint">
          {faultOnIt(one.value)}
        </p>
      ))}
      <p class="chips">
        <a class="button quiet" href={`#/item/${item_id}/stop/${id}`}>
          A caution<span class="unseen"> on it</span>
        </a>
        <button type="button" class="quiet" onClick={goes}>
          Goes back<span class="unseen"> to the owner</span>
        </button>
        <button type="button" class="quiet" onClick={takeOff}>
          Take off<span class="unseen"> the list</span>
        </button>
      </p>
    </li>
  );
}
