/** A finding: one term on one zone, with its side, size, severity and how sure. */

import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { FindingValue } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { sideInWords } from "../../job/places.ts";
import { photosOf, type Step, zoneName } from "../../job/progress.ts";
import { mirrored, sidesOf } from "../../job/sides.ts";
import type { ItemRecord, Plan, PlanBook, Term } from "../../job/types.ts";
import { fieldValue, findingsOn } from "../../job/values.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { Nick } from "../../parts/nick.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { NOTHING_MEASURED } from "./finding.tsx";
import { Extents } from "./finding_extents.tsx";
import { activities, originalities } from "./finding_words.ts";

export type Change = (patch: Partial<FindingValue>) => Promise<unknown>;
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
  const withdraw = () =>
    attempt(async () => {
      await change({ withdrawn: true });
      sayDone(`Withdrawn: ${name}.`, () => change({ withdrawn: false }));
    });
  const [open, setOpen] = useState<Part | "">("");
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
          {term && <Meaning term={term} />}
          <Typed
            of={id}
            label="Note"
            into="record_finding.note"
            hint="Printed as it stands; what the words above do not say"
            value={value.note}
            save={(note) => change({ note })}
            lines={2}
          />
          <OtherSide value={value} item={item} step={step} />
          <HowSure value={value} book={book} change={change} />
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
  const long = [extent_mm, extent_mm_across].filter((mm) => mm !== null).join(" x ");
  const size = [
    long && `${long} mm`,
    extent_count && `${extent_count} of them`,
    extent_percent ? `${extent_percent} %` : extent_words,
  ];
  return {
    size: size.filter(Boolean).join(", "),
    where: value.side ? sideInWords(book, value.side) : "",
    pictures: photosOf(item).filter((photo) => photo.value.finding_id === id).length,
  };
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

function Meaning({ term }: { term: Term }) {
  return (
    <p class="hint">
      {firstUpper(term.definition)}.
      {term.lookalikes.length > 0 && ` Looks like: ${term.lookalikes.map(spaced).join(", ")}.`}
    </p>
  );
}

type PartOf = { value: FindingValue; book: PlanBook; change: Change };

/**
 * One press; a nick as deep as it is bad, its figure and its word. Where it begins is the vocabulary's word, and says
 * so until somebody gives another.
 */
function Severity({ value, term, book, change }: PartOf & { term: Term | undefined }) {
  const { severities } = book.words;
  const given = severities.find(({ severity }) => severity === value.severity);
  const isUsual = term?.severity === value.severity;
  return (
    <>
      <fieldset class="severities">
        <legend class="unseen">Severity</legend>
        {severities.map(({ severity, words }) => (
          <button
            type="button"
            key={severity}
            class="key"
            aria-pressed={value.severity === severity}
            onClick={() => attempt(() => change({ severity }))}
          >
            <span>
              <Nick severity={severity} /> {severity}
            </span>
            <small>{words}</small>
          </button>
        ))}
      </fieldset>
      <p class="hint">
        {isUsual && given ? `Where this term begins: press another if it is not ${given.words}. ` : ""}
        {given && firstUpper(given.meaning)}
      </p>
    </>
  );
}

/** How sure, whether it goes on, what was done to it: seldom changed, so folded away behind what is so. */
function HowSure({ value, book, change }: PartOf) {
  const { words } = book;
  const sureness = [
    words.certainties.find(({ certainty }) => certainty === value.certainty)?.words,
    words.activities.find(({ activity }) => activity === value.activity)?.words,
    words.originalities.find(({ originality }) => originality === value.origin)?.words,
    words.lights.find(({ light }) => light === value.light)?.words,
  ];
  const sure = words.certainties.filter(({ certainty }) => certainty !== "told");
  return (
    <details>
      <summary>{sureness.filter(Boolean).join(", ") || "How sure, is it going on"}</summary>
      <Choice
        label="How sure"
        options={sure.map(({ certainty, words }) => [certainty, words] as const)}
        value={value.certainty}
        choose={(certainty) => change({ certainty })}
      />
      <Choice
        label="Is it going on?"
        options={activities(book)}
        value={value.activity}
        choose={(activity) => change({ activity })}
      />
      <Select
        label="What was done to it"
        options={originalities(book)}
        value={value.origin}
        empty="Nothing to say"
        choose={(origin) => change({ origin: origin || null })}
      />
      <Select
        label="What showed it"
        options={words.lights.map(({ light, words }) => [light, words] as const)}
        value={value.light ?? null}
        empty="What the zone was examined with"
        choose={(light) => change({ light: light || null })}
      />
    </details>
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

type OtherSideOf = { value: FindingValue; item: ItemRecord; step: Step };

/** The same finding on the mirrored member, by one tap of a person who looked at it. */
function OtherSide({ value, item, step }: OtherSideOf) {
  const other = mirrored(step.member);
  const zone = `${step.zone.zone}/${other}`;
  if (!other || !Array.isArray(step.zone.members) || !step.zone.members.includes(other)) return null;
  if (findingsOn(item, zone).some((found) => found.value.term === value.term)) return null;
  const repeat = () =>
    attempt(async () => {
      const item_id = item.record_id;
      const finding = { ...NOTHING_MEASURED, ...value, zone, side: other };
      await keep("record_finding", { item_id, finding_id: newId(), ...finding });
      if (fieldValue(item, `zones/${zone}`)?.state !== "finding") {
        const light = step.state?.light ?? null;
        await keep("examine_zone", { item_id, zone, state: "finding", reason: null, light, count: null });
      }
      sayDone(`The same on ${zoneName(zone)}.`);
    });
  return (
    <p>
      <button type="button" class="chip" onClick={repeat}>
        The same on the {spaced(other)}
      </button>
    </p>
  );
}
