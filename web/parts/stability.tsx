/** How a thing stands for keeping and moving it, in a word; what it may come to is a sentence behind it. */

import type { Stability } from "../job/condition.ts";

type StabilityOf = Stability & { isSeen: boolean };

/** Nothing speaks against a thing that nobody looked at, and nothing for it. */
export function StabilityWords({ level, because, isSeen }: StabilityOf) {
  if (!because.length && !isSeen) return <strong>not known, nothing was looked at</strong>;
  return (
    <>
      <strong>{level}</strong>
      {!because.length && ", as far as was seen"}
    </>
  );
}
