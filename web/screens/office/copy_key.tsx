/** The key for copies that travel. It counts once somebody has shown that its secret half is on paper. */
import { useEffect, useState } from "preact/hooks";
import { attempt } from "../../parts/notices.tsx";
import { printWhole } from "../../parts/print.ts";
import { post, put } from "../../sync/office.ts";
import type { KnownCopies } from "./copies.tsx";

type Key = { secret_key: string; recipient: string };
const MARK = "AGE-SECRET-KEY-1";
const LAST_SIGNS = 6;

export function CopyKey({ known, taken }: { known: KnownCopies; taken: (known: KnownCopies) => void }) {
  const [key, setKey] = useState<Key | null>(null);
  const make = () => attempt(async () => setKey(await post<Key>("/copies/key", {})));
  const take = (recipient: string) =>
    attempt(async () => {
      taken(await put<KnownCopies>("/copies/key", { recipient }));
      setKey(null);
    });
  if (key) return <OnPaper secret={key} take={() => take(key.recipient)} drop={() => setKey(null)} />;
  return (
    <section>
      <h2>A key for copies that travel</h2>
      {known.sealed_to ? (
        <p>
          Sealed copies that are begun now are opened by the paper that says{" "}
          <span class="address">{known.sealed_to}…</span> If it is lost, make another key: copies that are
          begun from then on take it. A copy that stands stays with its own: its line above says which.
        </p>
      ) : (
        <p>
          A stick that is lost tells nothing if it is sealed. The secret half of the key is shown once, here,
          and kept nowhere: without the paper nobody opens a sealed copy, you neither.
        </p>
      )}
      <p>
        <button type="button" onClick={make}>
          {known.sealed_to ? "Make another key" : "Make the key"}
        </button>
      </p>
    </section>
  );
}

function OnPaper({ secret, take, drop }: { secret: Key; take: () => void; drop: () => void }) {
  useAskBeforeLeaving(
    "The key on this screen does not count yet, and its paper would open nothing. Leave it?",
  );
  const [last, setLast] = useState("");
  const signs = last.replace(/\s/g, "").toUpperCase();
  const isRight = signs === secret.secret_key.slice(-LAST_SIGNS);
  return (
    <section>
      <h2>The secret half of the key, shown this once</h2>
      <p class="code">{MARK}</p>
      <ol class="groups" aria-label="Signs of the key">
        {secret.secret_key
          .slice(MARK.length)
          .match(/.{1,4}/g)
          ?.map((group, at) => (
            <li key={`${at} ${group}`}>{group}</li>
          ))}
      </ol>
      <p>
        It opens copies sealed to <span class="address">{secret.recipient.slice(0, 12)}…</span>
      </p>
      <p>
        Write all of this on paper or print this page. Keep the paper neither with the copies nor with the
        office. Only a restore asks for it.
      </p>
      <p>
        <button type="button" onClick={printWhole}>
          Print this page
        </button>
      </p>
      <div class="field">
        <label for="key-signs">The last six signs, read off the paper</label>
        <input
          id="key-signs"
          value={last}
          onInput={(event) => setLast(event.currentTarget.value)}
          autocomplete="off"
          autocapitalize="characters"
          spellcheck={false}
          maxLength={12}
        />
        {signs.length >= LAST_SIGNS && !isRight && (
          <p class="hint wrong">These are not its last six signs: compare the paper with the screen.</p>
        )}
      </div>
      <p>
        <button type="button" class="main" disabled={!isRight} onClick={take}>
          It is on paper
        </button>{" "}
        <button type="button" class="quiet" onClick={drop}>
          Do not use this key
        </button>
      </p>
    </section>
  );
}

/** Whoever follows a link or closes the page is asked first. */
function useAskBeforeLeaving(words: string) {
  useEffect(() => {
    const onLink = (event: MouseEvent) => {
      const leads = event.target instanceof Element && event.target.closest("a[href]");
      if (!leads || confirm(words)) return;
      event.preventDefault();
      event.stopPropagation();
    };
    const onClose = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener("click", onLink, { capture: true });
    addEventListener("beforeunload", onClose);
    return () => {
      removeEventListener("click", onLink, { capture: true });
      removeEventListener("beforeunload", onClose);
    };
  }, []);
}
