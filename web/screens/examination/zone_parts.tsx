/** The pieces of a zone's screen: in which light, why not, how many, what has happened to it, pictures of it. */

import { useState } from "preact/hooks";
import { type Step, zoneName } from "../../job/progress.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue, TO_LOOK_AT } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { amend, keep } from "../../local/outbox.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Counted, Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { originalities } from "./finding_words.ts";

type LightOf = {
  book: PlanBook;
  light: string;
  /** Those with which something was looked for on it besides. */
  also?: readonly string[];
  choose: (light: string) => unknown;
  isOpen: boolean;
  toggle: () => void;
};

/**
 * So many are asked about at once: the lights, before the tools that are seldom what a whole zone is looked at with.
 */
const FIRST_LIGHTS = 6;

const WITH = "Looked at with";

/** The light or tool: asked once, then one key. */
export function Light({ book, light, also = [], choose, isOpen, toggle }: LightOf) {
  const options = book.words.lights.map((known) => [known.light, known.words] as const);
  const nameOf = (name: string) => options.find(([known]) => known === name)?.[1] ?? name;
  const [isWhole, setWhole] = useState(false);
  return (
    <>
      {light && (
        <button type="button" class="chosen-light" aria-expanded={isOpen} onClick={toggle}>
          <Sign of="lamp" />
          <span class="unseen">{WITH}</span> {firstUpper([light, ...also].map(nameOf).join(", "))}
          <Sign of="down" />
        </button>
      )}
      {(!light || isOpen) && (
        <Choice
          label={light ? WITH : `${WITH} what? Then say what was found`}
          options={isWhole ? options : options.slice(0, FIRST_LIGHTS)}
          value={light}
          choose={async (chosen) => {
            await choose(chosen);
            if (isOpen) toggle();
          }}
        />
      )}
      {(!light || isOpen) && !isWhole && options.length > FIRST_LIGHTS && (
        <button type="button" class="quiet" onClick={() => setWhole(true)}>
          Other tools
        </button>
      )}
    </>
  );
}

/** What a table says most often comes first: it never had it, no time, covered. */
const MOST_USED = ["not-applicable", "no-time", "covered"];

function mostUsedFirst<Row extends { reason: string }>(rows: readonly Row[]): Row[] {
  const rank = (reason: string) =>
    MOST_USED.includes(reason) ? MOST_USED.indexOf(reason) : MOST_USED.length;
  return [...rows].sort((a, b) => rank(a.reason) - rank(b.reason));
}

export function WhyNot({
  book,
  skip,
  rest,
}: {
  book: PlanBook;
  skip: (reason: string) => Promise<void>;
  rest?: (() => void) | undefined;
}) {
  return (
    <section>
      <h2>Why not?</h2>
      <div class="chips">
        {mostUsedFirst(book.words.reasons.filter(({ reason }) => reason !== TO_LOOK_AT)).map(
          ({ reason, words }) => (
            <button type="button" key={reason} class="chip" onClick={() => attempt(() => skip(reason))}>
              {words}
            </button>
          ),
        )}
      </div>
      {rest && (
        <button type="button" class="quiet" onClick={rest}>
          The same of all that is left …
        </button>
      )}
    </section>
  );
}

export function Origin({ item, book, zone }: { item: ItemRecord; book: PlanBook; zone: string }) {
  const known = fieldValue(item, `origins/${zone}`);
  const item_id = item.record_id;
  return (
    <section>
      <Select
        label="What has happened to it since it was made"
        options={originalities(book)}
        value={known?.origin}
        empty="Nothing to say"
        choose={(origin) =>
          amend("record_origin", { item_id, zone, ...(known ? {} : { note: "" }), origin: origin || null })
        }
      />
      {known?.origin && (
        <Typed
          label="Note on that"
          value={known.note}
          save={(note) => amend("record_origin", { item_id, zone, note })}
        />
      )}
    </section>
  );
}

/** Some zones are counted, such as the spindles of a chair. */
export function HowMany({ item, step, light }: { item: ItemRecord; step: Step; light: string }) {
  const state = step.state?.state;
  if (step.zone.members !== "counted" || !state || state === "not-examined") return null;
  const save = (count: number) =>
    keep("examine_zone", {
      item_id: item.record_id,
      zone: step.key,
      state,
      reason: null,
      light: light || null,
      count,
    });
  return <Counted of={step.key} label="How many were counted" value={step.state?.count} save={save} />;
}

export function ZonePhotos({ item, step }: { item: ItemRecord; step: Step }) {
  const about = { item_id: item.record_id, view: null, zone: step.key, finding_id: null };
  return (
    <section>
      <h3>
        Photos of this zone <span class="count">{step.photos.length}</span>
      </h3>
      <PictureButtons take={(blob) => keepPhoto(blob, about)} />
      <div class="pictures">
        {step.photos.map(({ id, value }) => (
          <Thumb key={id} sha256={value.thumb_sha256} words={`photo of ${zoneName(step.key)}`} />
        ))}
      </div>
    </section>
  );
}
