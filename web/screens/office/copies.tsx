/**
 * Second places: how each copy is doing, where copies are kept, and the key for those that travel. Needs the office.
 */
import { useEffect, useState } from "preact/hooks";
import { countWords } from "../../job/words.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { AskedOnce } from "../../parts/asked_once.tsx";
import { Choice } from "../../parts/choices.tsx";
import { CopyWords, type FormerCopy } from "../../parts/copies.tsx";
import { noteTold } from "../../parts/copies_bar.tsx";
import { type Copy, isSecondPlace } from "../../parts/copy_trouble.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useOfficeChanges } from "../../parts/office_changes.ts";
import { useDevice } from "../../parts/use.ts";
import { get, post, put } from "../../sync/office.ts";
import { whyNoOffice } from "../../sync/out_of_reach.ts";
import { FormerCopies, isAlike } from "./copies_former.tsx";
import { CopyKey } from "./copy_key.tsx";

/** `sealed_to` is how the public half of the key begins; null while there is none. */
export type KnownCopies = {
  copies: Copy[];
  former: FormerCopy[];
  safe_seq: number | null;
  sealed_to: string | null;
};
export type Place = Pick<Copy, "folder" | "sealed">;
/** The office looks at each copy when it is asked; what came of that is read so much later. */
const LOOK_MS = 1500;

export default function Copies() {
  const device = useDevice();
  const [known, setKnown] = useState<KnownCopies | null>(null);
  const read = () => attempt(async () => setKnown(await get<KnownCopies>("/copies")));
  const look = () => {
    read();
    setTimeout(read, LOOK_MS);
  };
  useEffect(look, []);
  // What one lacks grows with each change; of copies that lack nothing those of the office are all that there is.
  useAskedAtNews(read, { of: () => !!known?.copies.some(({ state }) => state !== "current") });
  useOfficeChanges(read);
  useEffect(() => {
    if (!known?.copies.some(({ state }) => state === "behind")) return;
    const timer = setTimeout(read, LOOK_MS); // each step that it catches up is shown
    return () => clearTimeout(timer);
  }, [known]);
  useEffect(() => void noteTold(), []);
  /** Whether it was done; what was wrong is said. */
  const setUp = (places: Place[], done: string) =>
    attempt(async () => {
      const wanted = places.map(({ folder, sealed }) => ({ folder, sealed }));
      setKnown(await put<KnownCopies>("/copies", { places: wanted }));
      setTimeout(read, LOOK_MS);
      sayDone(done);
      return true;
    });
  const gone = ({ folder, copy_id }: FormerCopy) =>
    attempt(async () => setKnown(await post<KnownCopies>("/copies/gone", { folder, copy_id })));
  const add = (place: Place) =>
    setUp([...(known?.copies ?? []), place], `A copy is kept in ${place.folder} from now on.`);
  const may = device?.role === "manager";
  return (
    <Frame title="Copies" place="#/copies">
      <section>
        <h2>
          Second places <span class="count">{known?.copies.length ?? ""}</span>
        </h2>
        {known === null && <p class="none">The list needs the office; {whyNoOffice()}.</p>}
        {known && !known.copies.some(isSecondPlace) && (
          <p class="bar wrong">
            Nothing is kept in a second place: what the office has is lost with its disk. Phones keep what
            they can until 30 days after the day was closed.
          </p>
        )}
        <ul class="rows">
          {known?.copies.map((copy) => (
            <li key={copy.folder} class="row stacked">
              <CopyWords copy={copy} of={known.sealed_to} alike={isAlike(known, copy)} />
              {may && (
                <span class="actions">
                  <AskedOnce
                    words="Keep it no longer"
                    asks={noLongerWords(copy)}
                    act={() =>
                      setUp(
                        known.copies.filter((row) => row !== copy),
                        `No copy is kept in ${copy.folder} any more.`,
                      )
                    }
                  />
                </span>
              )}
            </li>
          ))}
        </ul>
        {known && <FormerCopies known={known} may={may} keepAgain={add} gone={gone} />}
        <p>
          <button type="button" onClick={look}>
            Look again
          </button>
        </p>
      </section>
      {may && known && <AnotherPlace known={known} add={add} />}
      {may && known && <CopyKey known={known} taken={setKnown} />}
    </Frame>
  );
}

function noLongerWords(copy: Copy) {
  const stays = `What lies in ${copy.folder} stays there, and nothing is erased in it any more.`;
  return `${stays}${owedWords(copy)} It is listed below from then on.`;
}

function owedWords({ lag }: Copy) {
  return lag.erasures ? ` ${countWords(lag.erasures, "erasure")} of owners' words are still owed to it.` : "";
}

function AnotherPlace({ known, add }: { known: KnownCopies; add: (place: Place) => Promise<unknown> }) {
  const [folder, setFolder] = useState("");
  const [how, setHow] = useState<"open" | "sealed">("open");
  const isToSeal = how === "sealed" && !known.sealed_to;
  return (
    <section>
      <h2>Keep a copy in another place</h2>
      <div class="field">
        <label for="copy-folder">Folder on the office's machine</label>
        <input
          id="copy-folder"
          value={folder}
          onInput={(event) => setFolder(event.currentTarget.value)}
          placeholder="/media/stick/copy"
          autocomplete="off"
          spellcheck={false}
          maxLength={1000}
        />
        <p class="hint">An empty folder on a stick, a second disk or the network, as a whole path.</p>
      </div>
      <Choice
        label="Who may read it?"
        options={[
          ["open", "Whoever has it"],
          ["sealed", "Whoever has the key"],
        ]}
        value={how}
        choose={setHow}
      />
      {isToSeal && <p class="bar">Make the key below first, and put its secret half on paper.</p>}
      <button
        type="button"
        class="main"
        disabled={!folder.trim() || isToSeal}
        onClick={async () => {
          if (await add({ folder: folder.trim(), sealed: how === "sealed" })) setFolder("");
        }}
      >
        {!folder.trim() ? "Say which folder first" : isToSeal ? "Make the key first" : "Keep a copy there"}
      </button>
    </section>
  );
}
