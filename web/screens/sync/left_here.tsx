/** That records have left this device since it may hold them no longer: when, why, and what stays for now. */
import { countWords } from "../../job/words.ts";
import type { Left } from "../../local/database.ts";
import { left } from "../../local/memory.ts";
import { momentWords } from "../../parts/moments.ts";

const WHY: Record<Left["why"], string> = {
  over: "The day is over",
  "another day": "This device works on another day now",
  "signed off": "This device was taken off the office",
};

export function LeftHere() {
  const last = left.value;
  if (!last) return null;
  return (
    <section>
      <h2>No longer here</h2>
      <p>
        {WHY[last.why]}: {countWords(last.records, "record")} left it, {momentWords(last.at)}. All that was
        sent is at the office.
        {last.owed > 0 &&
          ` ${countWords(last.owed, "record")} stayed, since something of them was still to be sent or looked at.`}
      </p>
    </section>
  );
}
