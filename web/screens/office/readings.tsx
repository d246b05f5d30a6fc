/** Which desk has read what is on record of which owner: the latest first, further back a page at a time. */

import { useState } from "preact/hooks";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { get } from "../../sync/office.ts";

type Note = { device_name: string; record_id: string; ticket: string; read_at: string };
type Page = { readings: Note[]; before: number | null };

export function Readings() {
  const [notes, setNotes] = useState<Note[] | null>(null);
  const [before, setBefore] = useState<number | null>(null);
  const read = () =>
    attempt(async () => {
      const page = await get<Page>(`/readings${before === null ? "" : `?before=${before}`}`);
      setNotes([...(notes ?? []), ...page.readings]);
      setBefore(page.before);
    });
  return (
    <section>
      <h2>Owners' words read at desks</h2>
      {notes && !notes.length && <p class="none">No desk has read any.</p>}
      <ul>
        {notes?.map((note) => (
          <li key={`${note.device_name} ${note.record_id} ${note.read_at}`}>
            {note.device_name}: visit {note.ticket || "that is not known"}, {momentWords(note.read_at)}
          </li>
        ))}
      </ul>
      {(notes === null || before !== null) && (
        <button type="button" class="quiet" onClick={read}>
          {notes === null ? "Show them" : "Show earlier ones"}
        </button>
      )}
    </section>
  );
}
