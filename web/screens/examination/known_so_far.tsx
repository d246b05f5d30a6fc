/**
 * What is known of a thing, beside the walk where the screen is wide enough: its record, views, findings, and words.
 */

import { useEffect, useState } from "preact/hooks";
import { outlinesOf } from "../../job/outlines_of.ts";
import { asked, photosOf, tagsOf, viewName, viewsInOrder, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { worded } from "../../job/worded.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { planBook } from "../../local/plan_book.ts";
import { Below } from "../../parts/below.tsx";
import { Nick } from "../../parts/nick.tsx";
import { Tags } from "../../parts/tag.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { ViewDrawing } from "../../parts/view_drawing.tsx";
import type { KnownOf } from "./so_far.ts";
import { WordsSoFar } from "./words_so_far.tsx";
import { zoneAddress } from "./zone_steps.ts";

/** From here on the walk has two columns; the styles say the same. */
const WIDE = "(min-width: 46em)";

export function KnownSoFar(given: KnownOf) {
  const isWide = useWide();
  if (!isWide) return null;
  return (
    <aside class="known-so-far" aria-label="What is known so far">
      <Below>
        <Recorded item={given.item} />
        <Views {...given} />
        <Findings item={given.item} />
        <WordsSoFar {...given} />
      </Below>
    </aside>
  );
}

function useWide() {
  const [isWide, setWide] = useState(() => matchMedia(WIDE).matches);
  useEffect(() => {
    const wide = matchMedia(WIDE);
    const change = () => setWide(wide.matches);
    change(); // the screen may have been turned since it was drawn
    wide.addEventListener("change", change);
    return () => wide.removeEventListener("change", change);
  }, []);
  return isWide;
}

function Recorded({ item }: { item: ItemRecord }) {
  const tags = tagsOf(item);
  const facts = [
    ["Seen", fieldValue(item, "seen_words") || fieldValue(item, "short_description")],
    ["Concluded", fieldValue(item, "concluded_words")],
    ["Told", fieldValue(item, "told_words")],
    ["Maker", fieldValue(item, "maker")],
  ].filter(([, words]) => words);
  return (
    <section class="card">
      <Tags tags={tags} of={item} />
      <dl class="facts">
        {facts.map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class="read">{words}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** The views of the plan, those that were taken as pictures. */
function Views({ item, plan }: KnownOf) {
  const photos = photosOf(item);
  const drawings = outlinesOf(planBook(), plan, item);
  const wanted = asked(plan, item, plan.views);
  const isShown = (view: Plan["views"][number]) =>
    wanted.includes(view) || photos.some(({ value }) => value.view === view.view);
  const views = viewsInOrder(plan.views.filter(isShown)).map((view) => ({
    ...worded(plan, item, view),
    photo: photos.find(({ value }) => value.view === view.view)?.value,
  }));
  const taken = views.filter(({ photo }) => photo).length;
  const skipped = views.filter(
    ({ photo, view }) => !photo && fieldValue(item, `views/${view}`)?.reason,
  ).length;
  return (
    <a class="card" href={`#/item/${item.record_id}/photos`}>
      <h2>
        Photos{" "}
        <span class="count">
          {taken} of {views.length - skipped} views
        </span>
      </h2>
      <span class="view-tiles">
        {views.map(({ view, words, photo }) => (
          <span key={view} class={`button view-tile ${photo ? "taken" : "missing"}`}>
            {photo ? (
              <Thumb sha256={photo.thumb_sha256} words="" />
            ) : (
              <ViewDrawing class_id={plan.class_id} drawings={drawings} words={words} />
            )}
            {viewName(words)}
          </span>
        ))}
      </span>
    </a>
  );
}

function Findings({ item }: { item: ItemRecord }) {
  const findings = listed(item, "findings/").filter(({ value }) => !value.withdrawn);
  if (!findings.length) return null;
  return (
    <section class="card">
      <h2>
        Findings so far <span class="count">{findings.length}</span>
      </h2>
      <ul class="gaps">
        {findings.map(({ id, value }) => (
          <li key={id}>
            <a href={zoneAddress(item.record_id, value.zone)}>
              <strong>{firstUpper(spaced(value.term))}</strong> {zoneName(value.zone)}
            </a>
            <Nick severity={value.severity} /> {value.severity}
          </li>
        ))}
      </ul>
    </section>
  );
}
