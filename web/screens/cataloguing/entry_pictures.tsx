/** The photos of an item: one large, the others in a strip; Z has it fill the window. */

import { useEffect, useRef } from "preact/hooks";
import type { PhotoValue } from "../../job/fields.ts";
import { photosOf, viewsSkipped, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { spaced } from "../../job/words.ts";
import { clockWords } from "../../parts/moments.ts";
import { Thumb } from "../../parts/thumb.tsx";
import { usePlanBook } from "../../parts/use.ts";
import type { Numbered } from "./entry_findings.tsx";

type PicturesOf = {
  item: ItemRecord;
  plan: Plan | null;
  findings: Numbered[];
  /** Which of them is large. */
  at: number;
  show: (at: number) => void;
  isLarge: boolean;
  setLarge: (isLarge: boolean) => void;
};

export function Pictures({ item, plan, findings, at, show, isLarge, setLarge }: PicturesOf) {
  const photos = photosOf(item);
  const photo = photos[at];
  if (!photo)
    return (
      <>
        <p class="none">No photo came with it.</p>
        <NotTaken item={item} plan={plan} />
      </>
    );
  const { number, words } = pictureWords(plan, findings, photo.value);
  return (
    <div class="pictures-of">
      <figure class="big-picture">
        <button type="button" onClick={() => setLarge(true)}>
          <img key={photo.value.sha256} src={`/photos/${photo.value.sha256}/large`} alt={words} />
        </button>
        <figcaption>
          {number > 0 && <span class="finding-number">{number}</span>}
          <strong>{words}</strong> {clockWords(photo.value.taken_at)}, {at + 1} of {photos.length}
        </figcaption>
      </figure>
      <ul class="strip">
        {photos.map(({ id, value }, index) => (
          <li key={id}>
            <button type="button" aria-pressed={index === at} onClick={() => show(index)}>
              <Thumb sha256={value.thumb_sha256} words={pictureWords(plan, findings, value).words} />
            </button>
          </li>
        ))}
      </ul>
      <NotTaken item={item} plan={plan} />
      {isLarge && <Large sha256={photo.value.sha256} words={words} close={() => setLarge(false)} />}
    </div>
  );
}

/** The views that the class asks for and the table said no to, so that nobody asks for them again. */
function NotTaken({ item, plan }: Pick<PicturesOf, "item" | "plan">) {
  const reasons = usePlanBook()?.words.reasons ?? [];
  const skipped = viewsSkipped(item);
  if (!skipped.length) return null;
  return (
    <p class="hint">
      Not taken:{" "}
      {skipped
        .map(({ id, value }) => {
          const name = plan?.views.find(({ view }) => view === id)?.words ?? spaced(id);
          const why = reasons.find(({ reason }) => reason === value.reason)?.words ?? spaced(value.reason);
          return `${name} (${[why.toLowerCase(), value.note].filter(Boolean).join("; ")})`;
        })
        .join(", ")}
      .
    </p>
  );
}

function Large({ sha256, words, close }: { sha256: string; words: string; close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  return (
    <dialog ref={dialog} class="large-picture" aria-label={words} onClose={close}>
      <form method="dialog">
        <button type="submit" class="key">
          Close
        </button>
      </form>
      <img src={`/photos/${sha256}/large`} alt={words} />
    </dialog>
  );
}

/** The finding that it shows, with its number, else its zone, else the view that it serves. */
function pictureWords(plan: Plan | null, findings: Numbered[], { finding_id, zone, view }: PhotoValue) {
  const finding = findings.find(({ id }) => id === finding_id);
  if (finding) {
    const { term, zone: on } = finding.value;
    return { number: finding.number, words: `${spaced(term)} on ${zoneName(on)}` };
  }
  if (zone) return { number: 0, words: zoneName(zone) };
  return { number: 0, words: plan?.views.find((named) => named.view === view)?.words ?? "no named view" };
}
