/** That somebody has signed first, and waits for a second: whichever device they did it on. */
import type { SignedFirst } from "../../job/closing_reasons.ts";
import { countWords } from "../../job/words.ts";
import { momentWords } from "../../parts/moments.ts";

/** `isAtOwn`: whoever is at this device may be the second, here. */
export function WaitsForSecond({ signings, isAtOwn }: { signings: SignedFirst[]; isAtOwn: boolean }) {
  const [first, ...later] = signings;
  if (!first) return null;
  return (
    <p class="bar">
      <strong>{first.by}</strong> has signed {countWords(first.marks.length, "difference")},{" "}
      {momentWords(first.at)}, and waits for a second{isAtOwn ? ": you can be that, here" : ""}.
      {later.map(({ by, at }) => ` ${by} signed as well, ${momentWords(at)}, and can be the second.`)}
    </p>
  );
}
