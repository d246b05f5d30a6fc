/** What the second person of a closing reads: what came up since the first one signed, and what that one signed. */
import type { Found } from "../../job/closing_found.ts";
import { besideSigned, type SignedFirst } from "../../job/closing_reasons.ts";
import type { Person } from "../../job/operations.ts";
import type { DayRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { useDevice } from "../../parts/use.ts";
import { readCode, useOtherDevices } from "./closing_code_read.ts";
import { Differences, type Naming } from "./closing_differences.tsx";

type SecondReads = {
  day: DayRecord;
  found: readonly Found[];
  first: SignedFirst;
  naming: Naming;
  second: Person | null | undefined;
  isAtOwn: boolean;
  code: string;
};

/**
 * What came up since the first person signed, which the second explains, and apart from it what was signed. At the
 * first one's device nothing is said in their name before their code: whoever is there can choose any.
 */
export function ForTheSecond({ day, found, first, naming, second, isAtOwn, code }: SecondReads) {
  const { since, stands, mended } = besideSigned(found, naming.reasons, first);
  const own = useDevice()?.device_id ?? "";
  const others = useOtherDevices(day, own);
  const reading = { code: code.trim(), day_id: day.record_id, own, others: others.ids };
  const isTheirs = isAtOwn || (second && !readCode(second, reading).lacking);
  return (
    <div class="found">
      {since.length > 0 && (
        <Differences
          title={`Come up since ${first.by} signed`}
          found={since}
          naming={{ ...naming, say: isTheirs ? naming.say : null }}
        />
      )}
      {since.length > 0 && !isTheirs && (
        <p class="hint">Choose the second person and type their code first: they explain these.</p>
      )}
      <Differences
        title={`What ${first.by} signed`}
        found={stands}
        naming={{ ...naming, say: null }}
        signed={first.marks.length}
      />
      {mended > 0 && <p class="hint">{countWords(mended, "difference")} of these mended since.</p>}
    </div>
  );
}
