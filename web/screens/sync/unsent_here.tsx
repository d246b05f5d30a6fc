/** What was typed into forms that had to leave this device: it is nowhere else, and stays until it was read. */
import { unsent } from "../../local/memory.ts";
import { setUnsentAside } from "../../local/unsent.ts";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";

export function UnsentHere() {
  const all = Object.entries(unsent.value);
  if (!all.length) return null;
  return (
    <section>
      <h2>
        Typed here and never sent <span class="count">{all.length}</span>
      </h2>
      <p class="hint">
        These forms had to leave this device before they were done, and nobody else has these words. Enter
        them where they belong, or tell the desk.
      </p>
      <ul class="rows">
        {all.map(([name, { of, ticket, words, was_signed, at }]) => (
          <li key={name} class="row">
            <span class="what">
              <strong>{[ticket, of].filter(Boolean).join(", ")}</strong>{" "}
              {words.map((text, index) => (
                <q key={index}>{text}</q>
              ))}
              {was_signed && " A signature was begun and is gone: ask for it anew."}
              <small>{momentWords(at)}</small>
            </span>
            <button type="button" onClick={() => attempt(() => setUnsentAside(name))}>
              I have read it
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
