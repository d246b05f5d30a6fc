/** The view in hand is not taken: the thing has no such side, or it cannot be shown. Why stands on record. */

import { useState } from "preact/hooks";
import { viewName } from "../../job/progress.ts";
import type { PlanBook } from "../../job/types.ts";
import { countWords, firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import type { ViewShot } from "../../parts/with_words.ts";
import { WhyNot } from "./zone_parts.tsx";

type SkippedOf = {
  item_id: string;
  shot: ViewShot;
  /** All that is still to be taken. */
  open: readonly ViewShot[];
  book: PlanBook | null | undefined;
  isAsking: boolean;
  setAsking: (asking: boolean) => void;
  /** What is done once it is said: the next view is in hand. */
  onward: () => void;
};

export function Skipped({ item_id, shot, open, book, isAsking, setAsking, onward }: SkippedOf) {
  const [isOfRest, setOfRest] = useState(false);
  const { view } = shot.about;
  const views = open.filter(({ about }) => about.view);
  const leave = () => {
    setOfRest(false);
    onward();
  };
  if (isOfRest && book && views.length)
    return <RestSkipped item_id={item_id} views={views} book={book} close={leave} />;
  if (!view || shot.photo || !book) return null;
  const say = (reason: string | null) => keep("skip_view", { item_id, view, reason, note: "" });
  if (shot.skipped)
    return (
      <p class="bar">
        {firstUpper(shot.words)}: not taken. {wordsOf(book, shot.skipped)}.{" "}
        <button type="button" class="quiet" onClick={() => attempt(() => say(null))}>
          Ask for it again
        </button>
      </p>
    );
  if (!isAsking)
    return (
      <p class="inline">
        <button type="button" onClick={() => setAsking(true)}>
          No picture of: {shot.words}
        </button>
        {views.length > 1 && (
          <button type="button" onClick={() => setOfRest(true)}>
            Rest: no picture ({views.length})
          </button>
        )}
      </p>
    );
  const skip = async (reason: string) => {
    await say(reason);
    setAsking(false);
    onward();
    sayDone(`Not taken: ${shot.words}.`, () => say(null));
  };
  return <WhyNot book={book} skip={skip} />;
}

type RestOf = { item_id: string; views: readonly ViewShot[]; book: PlanBook; close: () => void };

/** Views that nobody takes, for one reason: each is named, and one press leaves one out. */
function RestSkipped({ item_id, views, book, close }: RestOf) {
  const [without, setWithout] = useState<readonly string[]>([]);
  const skipped = views.flatMap(({ about }) => about.view ?? []).filter((view) => !without.includes(view));
  const toggle = (view: string) =>
    setWithout(without.includes(view) ? without.filter((other) => other !== view) : [...without, view]);
  const say = (reason: string | null) =>
    skipped.reduce(
      (before, view) => before.then(() => keep("skip_view", { item_id, view, reason, note: "" })),
      Promise.resolve<unknown>(null),
    );
  const skip = async (reason: string) => {
    await say(reason);
    close();
    sayDone(`${countWords(skipped.length, "view")} not taken.`, () => say(null));
  };
  return (
    <section class="card">
      <h2>Rest: no picture</h2>
      <p>This says that nobody takes these. Press one that is still to be taken:</p>
      <div class="chips">
        {views.map(({ about: { view }, words }) => (
          <button
            type="button"
            key={view}
            class="chip"
            aria-pressed={skipped.includes(view ?? "")}
            onClick={() => toggle(view ?? "")}
          >
            {firstUpper(viewName(words))}
          </button>
        ))}
      </div>
      {skipped.length > 0 && <WhyNot book={book} skip={skip} />}
      <p>
        <button type="button" class="quiet" onClick={close}>
          Not now
        </button>
      </p>
    </section>
  );
}

function wordsOf(book: PlanBook, reason: string) {
  return book.words.reasons.find((row) => row.reason === reason)?.words ?? reason;
}
