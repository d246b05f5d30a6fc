/** What the office has and this device keeps all the same, how much that is, and why. */
import { useEffect, useState } from "preact/hooks";
import { type Kept, keptHere } from "../../local/keeping.ts";
import { forgotten, office } from "../../local/memory.ts";
import { bytesWords, momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { status } from "../../sync/sync.ts";

export function KeptHere() {
  const [kept, setKept] = useState<Awaited<ReturnType<typeof keptHere>> | null>(null);
  const { busy } = status.value;
  useEffect(() => void attempt(async () => setKept(await keptHere())), [busy]);
  if (!kept || !office.value) return null;
  return (
    <section>
      <h2>Kept here as well</h2>
      <dl class="counts">
        <Count words="Records" kept={kept.operations} />
        <Count words="Original photos" kept={kept.originals} />
        <Count words="Small pictures" kept={kept.thumbs} />
      </dl>
      <p class="hint">{why(office.value.safe_seq)}</p>
      <WasForgotten />
    </section>
  );
}

function Count({ words, kept }: { words: string; kept: Kept }) {
  return (
    <div>
      <dt>{words}</dt>
      <dd>
        {kept.count} <small>{bytesWords(kept.bytes)}</small>
      </dd>
    </div>
  );
}

function why(safe_seq: number | null) {
  if (safe_seq === null)
    return "The desk has these, but in one place only: no copy is kept anywhere else. So records stay here until 30 days after the day was closed, and originals as long as there is room.";
  if (safe_seq === 0)
    return "The desk has these, but none of its copies is in reach now. They stay here until they stand in a second place.";
  return "The desk has these; they stay here until its copies have them, too.";
}

/** The office once had lost something; that this is over, and when it was. */
function WasForgotten() {
  const last = forgotten.value;
  if (!last?.done_at) return null;
  return (
    <p class="hint">
      At {momentWords(last.noticed_at)} the office did not have all that it once had. {last.operations}{" "}
      records were sent again; by {momentWords(last.done_at)} it had all that this device could bring.
    </p>
  );
}
