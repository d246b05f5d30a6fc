/** A finding: one term on one zone, with its side, size, severity and how sure. */

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { FindingValue } from "../../job/fields.ts";
import { sideInWords } from "../../job/places.ts";
import { photosOf, type Step } from "../../job/progress.ts";
import { sidesOf } from "../../job/sides.ts";
import { sizeInWords } from "../../job/size_words.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { spaced } from "../../job/words.ts";
import { amend } from "../../local/outbox.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { inPieces, moreOnFinding } from "../../parts/with_words.ts";
import { Extents } from "./finding_extents.tsx";
import { type Change, Severity } from "./finding_severity.tsx";

type FindingOf = {
  id: string;
  value: FindingValue;
  item: ItemRecord;
  plan: Plan;
  book: PlanBook;
  step: Step;
};

export function Finding({ id, value, item, plan, book, step }: FindingOf) {
  const item_id = item.record_id;
  const term = book.vocabulary.terms.find((known) => known.term === value.term);
  const name = spaced(value.term);
  const change: Change = (patch) => amend("record_finding", { item_id, finding_id: id, ...patch });
  const More = moreOnFinding.value;
  const withdraw = () =>
    attempt(async () => {
      const before = step;
      await change({ withdrawn: true });
      sayDone(`Withdrawn: ${name}.`, () => More?.standsAgain(change, item_id, before));
    });
  const [open, setOpen] = useState<Part | "">("");
  const Several = inPieces.value;
  const { size, where, pictures } = keyWords(id, value, item, book);
  const key = (part: Part, words: ComponentChildren) => (
    <button
      type="button"
      class="key"
      aria-expanded={open === part}
      onClick={() => setOpen(open === part ? "" : part)}
    >
      {words}
    </button>
  );
  return (
    <article class="finding">
      <div class="finding-head">
        <h3>{name}</h3>
        <div class="finding-keys">
          {key("size", size || "Size")}
          {!step.member && key("where", where || "Where")}
          {key("picture", <PictureKey count={pictures} />)}
          {key("more", "More")}
        </div>
      </div>
      <Severity value={value} term={term} book={book} change={change} />
      {Several && <Several.WhichPiece id={id} item={item} value={value} change={change} />}
      {open === "size" && <Extents id={id} value={value} term={term} book={book} change={change} />}
      {open === "where" && !step.member && (
        <Select
          label="Where on it"
          options={sidesOf(plan).map((side) => [side, sideInWords(book, side)] as const)}
          value={value.side}
          empty="No side named"
          choose={(side) => change({ side: side || null })}
        />
      )}
      {open === "picture" && <FindingPhotos id={id} value={value} item={item} />}
      {open === "more" && (
        <>
          {More && term && <More.Meaning term={term} />}
          {value.certainty !== "told" && (
            <Typed
              of={id}
              label="Note"
              into="record_finding.note"
              hint="Printed as it stands; what the words above do not say"
              value={value.note}
              save={(note) => change({ note })}
              lines={2}
            />
          )}
          {More && (
            <>
              <More.ToldNote id={id} item={item} value={value} />
              <More.OtherSide value={value} item={item} step={step} />
              <More.HowSure value={value} book={book} change={change} />
            </>
          )}
          <p>
            <button type="button" class="quiet" onClick={withdraw}>
              Withdraw this finding
            </button>
          </p>
        </>
      )}
    </article>
  );
}

/** What is opened under a finding, one part at a time. */
type Part = "size" | "where" | "picture" | "more";

/** What the keys of a finding say of it: how large, where, how many pictures. */
function keyWords(id: string, value: FindingValue, item: ItemRecord, book: PlanBook) {
  const { extent_mm, extent_mm_across, extent_count, extent_percent, extent_words } = value;
  const long = [extent_mm, extent_mm_across].flatMap((mm) => (mm === null ? [] : inWordsAlone(mm)));
  const size = [
    long.join(" x "),
    extent_count && `${extent_count} of them`,
    extent_percent ? `${extent_percent} %` : extent_words,
  ];
  return {
    size: size.filter(Boolean).join(", "),
    where: value.side ? sideInWords(book, value.side) : "",
    pictures: photosOf(item).filter((photo) => photo.value.finding_id === id).length,
  };
}

function inWordsAlone(value: number) {
  return sizeInWords({ value, unit: "mm" }, { inches: false, troy_ounces: false });
}

function PictureKey({ count }: { count: number }) {
  return (
    <>
      <Sign of="camera" />
      <span class="unseen">Picture</span>
      {count > 0 && count}
    </>
  );
}

function FindingPhotos({ id, value, item }: { id: string; value: FindingValue; item: ItemRecord }) {
  const pictures = photosOf(item).filter((photo) => photo.value.finding_id === id);
  const about = { item_id: item.record_id, view: null, zone: value.zone, finding_id: id };
  return (
    <>
      <div class="pictures">
        {pictures.map((photo) => (
          <Thumb
            key={photo.id}
            sha256={photo.value.thumb_sha256}
            words={`photo of the ${spaced(value.term)}`}
          />
        ))}
      </div>
      <PictureButtons take={(blob) => keepPhoto(blob, about)} />
    </>
  );
}
