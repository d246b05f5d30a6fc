/** The view in hand is not taken: the thing has no such side, or it cannot be shown. Why stands on record. */

import type { PlanBook } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import type { ViewShot } from "../../parts/with_words.ts";
import { WhyNot } from "./zone_parts.tsx";

type SkippedOf = {
  item_id: string;
  shot: ViewShot;
  book: PlanBook | null | undefined;
  isAsking: boolean;
  setAsking: (asking: boolean) => void;
  /** What is done once it is said: the next view is in hand. */
  onward: () => void;
};

export function Skipped({ item_id, shot, book, isAsking, setAsking, onward }: SkippedOf) {
  const { view } = shot.about;
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
      <p>
        <button type="button" onClick={() => setAsking(true)}>
          No picture of: {shot.words}
        </button>
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

function wordsOf(book: PlanBook, reason: string) {
  return book.words.reasons.find((row) => row.reason === reason)?.words ?? reason;
}
