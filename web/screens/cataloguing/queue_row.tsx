/** One thing of the list: its picture, what it is, whose, its edge, and what is out of the ordinary. */

import { useEffect, useRef, useState } from "preact/hooks";
import { dateWords } from "../../job/day_facts.ts";
import { type QueueRow as Row, zonesOfEdge } from "../../job/desk.ts";
import { ROW_WORDS } from "../../job/queue_words.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, ENTRY_WORDS } from "../../job/words.ts";
import { asksTheOffice } from "../../local/device.ts";
import { device, record, waiting } from "../../local/memory.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { Edge } from "../../parts/edge.tsx";
import { Sign, type SignName } from "../../parts/sign.tsx";
import { Tag } from "../../parts/tag.tsx";
import { useSelected } from "../../parts/use.ts";

/** `ofDay` is the date of its day, where the list has things of several: each has tickets of its own. */
export function QueueRow({ row, isOpen, ofDay }: { row: Row; isOpen: boolean; ofDay: string }) {
  const link = useRef<HTMLAnchorElement>(null);
  useEffect(() => {
    if (isOpen) link.current?.scrollIntoView({ block: "nearest" });
  }, [isOpen]);
  const state = useStateOf(row);
  return (
    <a
      ref={link}
      class="queue-row"
      href={`#/entry/${row.item_id}`}
      aria-current={isOpen ? "true" : undefined}
    >
      <RowPicture sha256={row.thumb_sha256} />
      <span class="queue-name">
        <strong>{row.short_description || ROW_WORDS.unnamed}</strong>
        <Odd row={row} state={state} />
      </span>
      <span class="queue-facts">
        {/* Numbers that went back with it are missed by nobody: the filter counts those that are. */}
        {(row.tags.length > 0 || !isGone(state)) && <Tag tag={row.tags[0]} inHand={isOpen} />}
        <small>
          {row.tags.length > 1 && `and ${countWords(row.tags.length - 1, "number")} more, `}
          {row.ticket}
          {ofDay && ` of ${dateWords(ofDay)}`},{" "}
          {row.photo_count ? countWords(row.photo_count, "picture") : ROW_WORDS.unpictured}
        </small>
        <span class="queue-edge">
          <Edge zones={zonesOfEdge(row.edge)} />
          {row.missing ? (
            <span class="unseen">{countWords(row.missing, "zone")} nobody looked at</span>
          ) : null}
        </span>
      </span>
    </a>
  );
}

/** Whether it is with the house no more: back with its owner, or taken away. */
function isGone(state: string): state is "returned" | "taken-away" {
  return state === "returned" || state === "taken-away";
}

/** Its place in the queue, with what this desk has written and not sent yet. */
function useStateOf({ item_id, state }: Row) {
  return useSelected(() => {
    if (isGone(state)) return state;
    const isWaiting = waiting.value.some((op) => op.kind === "set_entry" && op.item_id === item_id);
    return (isWaiting && fieldValue(record(item_id), "entry")?.state) || state;
  }, [item_id, state]);
}

/** What makes it other than the rows round it; the state of a row that only waits is no news. */
function Odd({ row, state }: { row: Row; state: string }) {
  const signs: [SignName, string][] = [];
  const isTaken = state === "taken-away";
  const isStopped = row.caution === "red" && !isTaken;
  if (isStopped) signs.push(["stop", "stopped"]);
  else if (isTaken) signs.push(["back", ROW_WORDS[state]]);
  else if (row.held_apart) signs.push(["stop", "held apart"]);
  else if (row.caution) signs.push(["stop", LEVEL_WORDS[row.caution]?.toLowerCase() ?? row.caution]);
  if (row.disagreement_count) signs.push(["differs", "two values"]);
  if (state === "returned") signs.push(["back", ROW_WORDS.returned]);
  else if (state !== "waiting" && !isTaken)
    signs.push([state === "described" ? "check" : "pen", (ENTRY_WORDS[state] ?? state).toLowerCase()]);
  if (row.not_come) signs.push(["differs", row.not_come]);
  if (row.differs) signs.push(["differs", ROW_WORDS.differs]);
  if (row.apart) signs.push(["differs", ROW_WORDS.apart]);
  if (row.changed && state === "described") signs.push(["differs", ROW_WORDS.changed]);
  if (row.unsigned) signs.push(["differs", ROW_WORDS.unsigned]);
  if (row.otherwise) signs.push(["differs", ROW_WORDS.otherwise]);
  return (
    <span class={isStopped ? "queue-odd red" : "queue-odd"}>
      {signs.map(([sign, words]) => (
        <span key={words} class={`entry-state ${state}`}>
          <Sign of={sign} /> {words}
        </span>
      ))}
    </span>
  );
}

/** Half of the first pause: most pictures are there a second after their words; the last pause is two minutes. */
const AGAIN_MS = 500;
const MOST_TRIES = 8;

/** A thing may be listed before its picture has come: it is asked for again, less often each time. */
function RowPicture({ sha256 }: { sha256: string | null }) {
  const [tries, setTries] = useState(0);
  const [isHere, setHere] = useState(true);
  useEffect(() => {
    setTries(0);
    setHere(true);
  }, [sha256]);
  useEffect(() => {
    if (isHere || !sha256 || tries > MOST_TRIES) return;
    const timer = setTimeout(() => setHere(true), AGAIN_MS * 2 ** tries);
    return () => clearTimeout(timer);
  }, [isHere, tries]);
  const { value: reader } = device; // one that is given other work in another window reads no list any longer
  if (!sha256 || !isHere || !reader || reader.revoked || !asksTheOffice(reader))
    return <span class="thumb empty" aria-hidden="true"></span>;
  const again = () => {
    setHere(false);
    setTries((count) => count + 1);
  };
  return <img class="thumb" src={`/photos/${sha256}`} alt="" loading="lazy" onError={again} />;
}
