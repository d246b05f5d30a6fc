/**
 * The cataloguing desk: what the list is narrowed to, the list, and the entry that is open. All of it is the office's.
 */

import { useEffect, useState } from "preact/hooks";
import type { QueueRow as Row } from "../../job/desk.ts";
import { countWords } from "../../job/words.ts";
import { asksTheOffice } from "../../local/device.ts";
import { InTurn } from "../../parts/below.tsx";
import { PartBoundary } from "../../parts/boundary.tsx";
import { CopiesBar } from "../../parts/copies_bar.tsx";
import { Frame } from "../../parts/frame.tsx";
import { KeysOfPart } from "../../parts/in_dock.tsx";
import { useDevice, usePlanBook } from "../../parts/use.ts";
import { AtThisDesk } from "./at_this_desk.tsx";
import { AllKeys, KeysFoot } from "./desk_keys.tsx";
import { useDeskList } from "./desk_list.ts";
import { ToldOverruled } from "./desk_overruled.tsx";
import Entry from "./entry.tsx";
import { Filters } from "./filters.tsx";
import { OfDesks } from "./of_desks.tsx";
import { useOpenedRows } from "./opened_rows.ts";
import { usePlacedAhead } from "./placed_ahead.ts";
import { Alone } from "./queue_alone.tsx";
import { HowMany } from "./queue_how_many.tsx";
import { NoneAsAsked } from "./queue_none.tsx";
import { QueueRow } from "./queue_row.tsx";
import { focusWords, SearchBox } from "./queue_search.tsx";
import { useEscapeFromFields, useShortcuts } from "./shortcuts.ts";

/** So many come in sight at first on a phone; a large window shows the rest a frame later. */
const FIRST_ROWS = 8;
const NARROW = "Narrow the list";

type Open = { item_id?: string };

export default function Queue({ item_id = "" }: Open) {
  const device = useDevice();
  return device && !asksTheOffice(device) ? <OfDesks /> : <Desk item_id={item_id} />;
}

function Desk({ item_id = "" }: Open) {
  const desk = useDeskList(item_id);
  const { asked, ask, list, isAsAsked, more, problem } = desk;
  const book = usePlanBook() ?? null;
  usePlacedAhead(book);
  const [narrows, setNarrows] = useState(false); // where the screen is too small to show both
  const [allKeys, setAllKeys] = useState(false);
  const opened = useOpenedRows(Boolean(list), Boolean(problem));
  const rows = list?.entries ?? opened;
  const several = new Set(rows.map(({ held_on }) => held_on)).size > 1;
  const step = (by: number) => stepIn(rows, by);
  const goDown = useGoDown(isAsAsked, () => stepTo(rows, item_id));
  useEscapeFromFields();
  useShortcuts({
    ArrowDown: () => step(1),
    ArrowUp: () => step(-1),
    "/": focusWords,
    "?": () => setAllKeys(true),
  });
  return (
    <Frame
      title="Cataloguing queue"
      place="#/queue"
      wide="wide one-window"
      action={item_id ? <KeysOfPart /> : undefined}
    >
      <div class={item_id ? "desk with-entry" : "desk"}>
        <section class="filters" aria-label={NARROW}>
          <AtThisDesk />
          <button
            type="button"
            class="filters-key"
            aria-expanded={narrows}
            onClick={() => setNarrows(!narrows)}
          >
            {NARROW}
          </button>
          <div class={narrows ? "filters-in open" : "filters-in"}>
            <Filters
              asked={asked}
              ask={ask}
              counts={list?.counts ?? null}
              days={list?.days ?? {}}
              book={book}
            />
          </div>
          <CopiesBar />
        </section>
        <section class="list" aria-label="Queue">
          <SearchBox asked={asked} ask={ask} down={goDown} />
          {desk.isEmptied && (
            <p class="hint" role="status">
              An owner’s words were erased: what was searched for went with them, since it may have been
              theirs.
            </p>
          )}
          {problem && (
            <p class="bar" role="alert">
              {problem}
            </p>
          )}
          <Alone list={list} open={item_id} />
          <ToldOverruled records={desk.settled} />
          <HowMany list={list} asked={isAsAsked ? asked : null} isRead={!problem} />
          {opened.length > 0 && (
            <p class="hint">
              The list is the office’s, and comes once it answers. Kept here:{" "}
              {countWords(opened.length, "entry")} that this desk opened last.
            </p>
          )}
          <ul class="queue">
            <InTurn
              of={rows}
              first={FIRST_ROWS}
              draw={(row) => (
                <li key={row.item_id}>
                  <QueueRow
                    row={row}
                    isOpen={row.item_id === item_id}
                    ofDay={several ? (row.held_on ?? "") : ""}
                  />
                </li>
              )}
            />
          </ul>
          {isAsAsked && list?.entries.length === 0 && <NoneAsAsked asked={asked} ask={ask} />}
          {list?.next && (
            <p>
              <button type="button" onClick={more}>
                Show more
              </button>
            </p>
          )}
        </section>
        <section class="detail" aria-label="Entry">
          {item_id ? (
            <PartBoundary key={item_id} heading="This entry could not be drawn">
              <Entry
                item_id={item_id}
                opened={desk.entry}
                next={() => step(1)}
                isListed={isAsAsked && Boolean(list?.entries.some((row) => row.item_id === item_id))}
              />
            </PartBoundary>
          ) : (
            <p class="none">Choose a thing from the list: its pictures, findings and words open here.</p>
          )}
        </section>
      </div>
      <KeysFoot showAll={() => setAllKeys(true)} />
      {allKeys && <AllKeys close={() => setAllKeys(false)} />}
    </Frame>
  );
}

/**
 * Open the entry so many steps on in the list; false at its ends. Where one is now is read off the address: a key that
 * is held down comes again before the screen is drawn.
 */
function stepIn(rows: readonly Row[], by: number) {
  const [, screen, here] = location.hash.split("/");
  const next = rows[rows.findIndex((row) => screen === "entry" && row.item_id === here) + by];
  if (!next) return false;
  location.hash = `#/entry/${next.item_id}`;
  return true;
}

/** From the search to the list: to the entry that is open if it is still there, else to the first. */
function stepTo(rows: readonly Row[], item_id: string) {
  return stepIn(rows, rows.some((row) => row.item_id === item_id) ? 0 : 1);
}

/** Go on once the list is what was typed: whoever types fast presses before it has come. */
function useGoDown(isAsAsked: boolean, go: () => unknown) {
  const [isWanted, setWanted] = useState(false);
  useEffect(() => {
    if (!isWanted || !isAsAsked) return;
    setWanted(false);
    go();
  }, [isWanted, isAsAsked]);
  return () => setWanted(true);
}
