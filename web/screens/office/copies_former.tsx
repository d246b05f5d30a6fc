/** Copies that were made earlier and are kept up to date no longer: which each is, and what may become of it. */
import { AskedOnce } from "../../parts/asked_once.tsx";
import { type FormerCopy, FormerWords, setAsideIn } from "../../parts/copies.tsx";
import type { KnownCopies, Place } from "./copies.tsx";

type FormerCopiesOf = {
  known: KnownCopies;
  may: boolean;
  keepAgain: (place: Place) => unknown;
  gone: (copy: FormerCopy) => unknown;
};

export function FormerCopies({ known, may, keepAgain, gone }: FormerCopiesOf) {
  return (
    <>
      {known.former.length > 0 && <h3>Copies made earlier</h3>}
      <ul class="rows">
        {known.former.map((copy) => (
          <li key={`${copy.folder} ${copy.copy_id}`} class="row stacked">
            <FormerWords copy={copy} of={known.sealed_to} alike={isAlike(known, copy)} />
            {may && (
              <span class="actions">
                {mayBeKeptAgain(known, copy) && (
                  <button type="button" class="quiet" onClick={() => keepAgain(copy)}>
                    Keep it up to date again
                  </button>
                )}
                <AskedOnce
                  words="I have destroyed it"
                  asks={destroyedWords(known, copy)}
                  act={() => gone(copy)}
                />
              </span>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}

/** Whether another copy that is listed is or was in the same folder. */
export function isAlike({ copies, former }: KnownCopies, { folder }: { folder: string }) {
  return [...copies, ...former].filter((one) => one.folder === folder).length > 1;
}

function mayBeKeptAgain(known: KnownCopies, copy: FormerCopy) {
  return !setAsideIn(copy) && !known.copies.some(({ folder }) => folder === copy.folder);
}

function destroyedWords(known: KnownCopies, copy: FormerCopy) {
  const rest = isAlike(known, copy) ? " The others that are or were in this folder stay listed." : "";
  return `Take ${copy.folder} off this list only if nobody can read that copy any more.${rest}`;
}
