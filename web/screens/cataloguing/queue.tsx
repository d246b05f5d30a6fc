/** The cataloguing queue, read from the office: what has arrived, in order, found by words, tag, class and state. */

import { useEffect, useState } from "preact/hooks";
import type { Plan } from "../../job/types.ts";
import { ENTRY_STATES } from "../../job/words.ts";
import { CopiesInShort, type Copy, isInTrouble } from "../../parts/copies.tsx";
import { Frame } from "../../parts/frame.tsx";
import { usePlanBook, useShortcuts } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";
import Entry from "./entry.tsx";
import { type Asked, type QueuePage, useQueue } from "./queue_pages.ts";
import { QueueRow } from "./queue_row.tsx";

/** The list, and beside it the entry that is open, if any. */
export default function Queue({ item_id = "" }: { item_id?: string }) {
  const { asked, ask, list, more, problem, news } = useQueue();
  const plans = usePlanBook()?.plans ?? {};
  useListKeys(list, item_id);
  return (
    <Frame title="Cataloguing queue" place="#/queue" wide={true}>
      <div class={item_id ? "desk with-entry" : "desk"}>
        <section class="list" aria-label="Queue">
          <Filters asked={asked} ask={ask} plans={plans} />
          <Seconds />
          {problem && (
            <p class="bar wrong" role="alert">
              {problem}
            </p>
          )}
          <HowMany list={list} asked={asked} />
          <ul class="rows queue">
            {list?.entries.map((entry) => (
              <li key={entry.item_id}>
                <QueueRow
                  entry={entry}
                  className={entry.class_id ? (plans[entry.class_id]?.name ?? entry.class_id) : "no class"}
                  isOpen={entry.item_id === item_id}
                />
              </li>
            ))}
          </ul>
          {list?.entries.length === 0 && <p class="none">Nothing in the queue is like that.</p>}
          {list?.next && (
            <p>
              <button type="button" onClick={more}>
                Show more
              </button>
            </p>
          )}
        </section>
        {item_id && (
          <section class="detail" aria-label="Entry">
            <Entry key={item_id} item_id={item_id} news={news} />
          </section>
        )}
      </div>
    </Frame>
  );
}

/** What is wrong with the office's copies, if anything is; those who may set them up go there from here. */
function Seconds() {
  const [copies, setCopies] = useState<Copy[] | null>(null);
  const read = () =>
    void get<{ copies: Copy[] }>("/copies").then(
      ({ copies }) => setCopies(copies),
      () => null,
    );
  useEffect(read, []);
  if (!copies || (copies.length && !copies.some(isInTrouble))) return null;
  return (
    <a class="bar" href="#/copies">
      Copies: <CopiesInShort copies={copies} />
    </a>
  );
}

/** From entry to entry by the arrow keys; a stroke goes to the words. */
function useListKeys(list: QueuePage | null, item_id: string) {
  const step = (by: number) => {
    const entries = list?.entries ?? [];
    const next = entries[entries.findIndex((entry) => entry.item_id === item_id) + by];
    if (!next) return false;
    location.hash = `#/entry/${next.item_id}`;
    return true;
  };
  useShortcuts({
    ArrowDown: () => step(1),
    ArrowUp: () => step(-1),
    "/": () => document.getElementById("queue-words")?.focus(),
  });
}

type FiltersOf = { asked: Asked; ask: (change: Partial<Asked>) => void; plans: Record<string, Plan> };

function Filters({ asked, ask, plans }: FiltersOf) {
  const classes = Object.values(plans).sort((one, other) => one.name.localeCompare(other.name));
  return (
    <div class="filters" role="search">
      <div class="field">
        <label for="queue-words">
          Words or tag <kbd>/</kbd>
        </label>
        <input
          id="queue-words"
          type="search"
          value={asked.words}
          onInput={(event) => ask({ words: event.currentTarget.value })}
          autocomplete="off"
        />
      </div>
      <Filter
        id="queue-state"
        label="State"
        options={ENTRY_STATES}
        value={asked.state}
        choose={(state) => ask({ state })}
      />
      <Filter
        id="queue-class"
        label="Class"
        options={classes.map(({ class_id, name }) => [class_id, name] as const)}
        value={asked.class_id}
        choose={(class_id) => ask({ class_id })}
      />
    </div>
  );
}

type FilterOf = {
  id: string;
  label: string;
  options: readonly (readonly [string, string])[];
  value: string;
  choose: (value: string) => void;
};

function Filter({ id, label, options, value, choose }: FilterOf) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => choose(event.currentTarget.value)}>
        <option value="">Any</option>
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

function HowMany({ list, asked }: { list: QueuePage | null; asked: Asked }) {
  const some = asked.words || asked.state || asked.class_id ? " as asked" : "";
  return (
    <p class="hint" role="status">
      {list ? `${list.count}${list.count_capped ? " or more" : ""} in the queue${some}` : "Reading …"}.{" "}
      <span class="keys">
        Keys: <kbd>↑</kbd> <kbd>↓</kbd> next, <kbd>p</kbd> pick up, <kbd>d</kbd> described
      </span>
    </p>
  );
}
