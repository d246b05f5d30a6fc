/**
 * Which desk has read what is on record of which owner, or looked for one, which device took which table, whose
 * owners it reads, which owner came to it there and which day it went to: the latest first, further back a page at a
 * time.
 */

import { countWords } from "../../job/words.ts";
import { useTold } from "../../parts/as_told.ts";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { get } from "../../sync/office.ts";

type Note = {
  device_name: string;
  record_id: string;
  ticket: string;
  read_at: string;
  what: "visit" | "search" | "seat" | "day";
  words: string;
  found: number;
  seat: string;
  seat_left: string;
  made_by: string;
  crate: string;
  day: string;
};
type Page = { readings: Note[]; before: number | null };

/** The office counts what a search finds no further. */
const MOST_COUNTED = 1000;

export function Readings() {
  const [shown, ask] = useTold<Page>(); // after an erasure it is asked for anew: a note may have had their words
  const { readings: notes = null, before = null } = shown ?? {};
  const read = () =>
    attempt(() =>
      ask(async () => {
        const page = await get<Page>(`/readings${before === null ? "" : `?before=${before}`}`);
        return { ...page, readings: [...(notes ?? []), ...page.readings] };
      }),
    );
  return (
    <section>
      <div class="with-key">
        <h2>Owners' words read</h2>
        {notes === null && <Key press={read}>Show them</Key>}
      </div>
      {notes && !notes.length && <p class="none">No desk has read any, and no device has taken a table.</p>}
      <ul>
        {notes?.map((note) => (
          <li key={`${note.device_name} ${note.record_id} ${note.read_at} ${note.words} ${note.seat}`}>
            {note.device_name}: {whatWords(note)}, {momentWords(note.read_at)}
          </li>
        ))}
      </ul>
      {before !== null && <Key press={read}>Show earlier ones</Key>}
    </section>
  );
}

function Key({ press, children }: { press: () => unknown; children: string }) {
  return (
    <button type="button" class="quiet" onClick={press}>
      {children}
    </button>
  );
}

function whatWords({ what, ticket, words, found, seat, seat_left, made_by, crate, day }: Note) {
  if (what === "search") {
    const things = `${countWords(found, "thing")}${found < MOST_COUNTED ? "" : " or more"}`;
    return `looked for ${words ? `“${words}”` : "an owner since erased"}, ${things} found`;
  }
  if (day) return `why values of the day ${day} were settled on`;
  if (crate) return `crate ${crate}, and who took it`;
  if (what === "visit") return `visit ${ticket || "that is not known"}`;
  const by = made_by && ` by ${made_by}`;
  if (what === "day") return `went from the day ${seat_left} to ${seat || "another"}${by}`;
  if (!seat) return `left ${seat_left}${by}`;
  return seat_left ? `moved from ${seat_left} to ${seat}${by}` : `sat down at ${seat}${by}`;
}
