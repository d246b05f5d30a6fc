/** The photos of an item: one large, the others in a strip; Z has it fill the window. */

import { useEffect, useRef } from "preact/hooks";
import { reasonWords, viewWords } from "../../job/list_words.ts";
import { notTakenWords } from "../../job/not_taken.ts";
import { photosOf, viewsSkipped } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { asksTheOffice } from "../../local/device.ts";
import { device } from "../../local/memory.ts";
import { clockWords } from "../../parts/moments.ts";
import { Thumb } from "../../parts/thumb.tsx";
import { usePlanBook } from "../../parts/use.ts";
import type { Numbered } from "./entry_findings.tsx";
import { pictureWords } from "./entry_pictures_named.ts";
import { PrintedPictures } from "./entry_pictures_printed.tsx";

type PicturesOf = {
  item: ItemRecord;
  plan: Plan | null;
  findings: Numbered[];
  /** The number of the finding in hand; 0 for none. */
  chosen: number;
  /** Which of them is large. */
  at: number;
  show: (at: number) => void;
  isLarge: boolean;
  setLarge: (isLarge: boolean) => void;
};

export function Pictures({ item, plan, findings, chosen, at, show, isLarge, setLarge }: PicturesOf) {
  const photos = photosOf(item);
  const photo = photos[at];
  const { value: reader } = device; // one that is given other work in another window reads no entry any longer
  if (!photo || !reader || reader.revoked || !asksTheOffice(reader))
    return (
      <>
        {!photo && <p class="none">No photo came with it.</p>}
        <NotTaken item={item} plan={plan} />
      </>
    );
  const words = pictureWords(plan, findings, photo.value);
  const { finding_id, zone } = photo.value;
  const here = findings.filter(({ value, id }) =>
    finding_id ? id === finding_id : zone && value.zone === zone,
  );
  return (
    <div class="pictures-of">
      <figure class="big-picture on-screen">
        <button type="button" onClick={() => setLarge(true)}>
          <img key={photo.value.sha256} src={`/photos/${photo.value.sha256}/large`} alt={words} />
        </button>
        <figcaption>
          <strong>{words}</strong> {clockWords(photo.value.taken_at)}, {at + 1} of {photos.length}
        </figcaption>
        <OnIt here={here} chosen={chosen} />
      </figure>
      <ul class="strip on-screen">
        {photos.map(({ id, value }, index) => (
          <li key={id}>
            <button type="button" aria-pressed={index === at} onClick={() => show(index)}>
              <Thumb sha256={value.thumb_sha256} words={pictureWords(plan, findings, value)} />
            </button>
          </li>
        ))}
      </ul>
      <PrintedPictures item={item} plan={plan} findings={findings} />
      <NotTaken item={item} plan={plan} />
      {isLarge && <Large sha256={photo.value.sha256} words={words} close={() => setLarge(false)} />}
    </div>
  );
}

/** The views that the class asks for and the table said no to, so that nobody asks for them again. */
function NotTaken({ item, plan }: Pick<PicturesOf, "item" | "plan">) {
  const lists = { plan, book: usePlanBook() ?? null };
  const skipped = viewsSkipped(item);
  if (!skipped.length) return null;
  return (
    <p class="hint">
      Not taken:{" "}
      {notTakenWords(
        skipped.map(({ id, value }) => ({
          name: viewWords(lists, id),
          why: [reasonWords(lists, value.reason ?? ""), value.note].filter(Boolean).join("; "),
        })),
      ).join("; ")}
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

type OnItOf = { here: Numbered[]; chosen: number };

/**
 * The numbers of the findings that a photo shows. They stand at its side, since a record says of which finding or zone
 * a photo is and never at which spot of it.
 */
function OnIt({ here, chosen }: OnItOf) {
  const isElsewhere = chosen > 0 && !here.some(({ number }) => number === chosen);
  if (!here.length && !isElsewhere) return null;
  return (
    <p class="on-it">
      {here.map(({ number }) => (
        <span key={number} class={number === chosen ? "finding-number chosen" : "finding-number"}>
          {number}
        </span>
      ))}{" "}
      {isElsewhere ? `No photo of ${chosen}` : "Where on the photo is not on record"}
    </p>
  );
}
