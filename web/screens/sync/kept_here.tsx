/** What the office has and this device keeps all the same, how much that is, and why. */
import { useEffect, useState } from "preact/hooks";
import { broughtWords, keptWords } from "../../job/kept_words.ts";
import { keptHere } from "../../local/keeping.ts";
import { forgotten, office } from "../../local/memory.ts";
import { bytesWords, momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { counts, standing, status } from "../../sync/status.ts";

export function KeptHere() {
  const [kept, setKept] = useState<Awaited<ReturnType<typeof keptHere>> | null>(null);
  const { busy } = status.value;
  useEffect(() => void attempt(async () => setKept(await keptHere())), [busy]);
  if (!kept || !office.value) return null;
  const groups = keptWords(kept, office.value.safe_seq, standing() !== "unknown");
  if (!groups.length) return null;
  return (
    <section>
      <h2>Kept here as well</h2>
      <ul class="lines kept-why">
        {groups.map(({ sort, words, bytes, why }) => (
          <li key={sort}>
            <strong>{words}</strong> ({bytesWords(bytes)}) <small>{why}</small>
          </li>
        ))}
      </ul>
    </section>
  );
}

/**
 * The office was put back, begun anew or had lost something; that this is over, when it was, and what this device did
 * about it.
 */
export function WasForgotten() {
  const last = forgotten.value;
  if (!last?.done_at) return null;
  const left = counts.operations.value + counts.originals.value;
  const brought = broughtWords(last.operations, left);
  if (!brought) return null;
  const was =
    last.why === "another office"
      ? "had been begun anew or put back from a copy"
      : "did not have all that it once had";
  return (
    <section>
      <h2>Brought back to the office</h2>
      <p>
        At {momentWords(last.noticed_at)} the office {was}. {brought}
      </p>
    </section>
  );
}
