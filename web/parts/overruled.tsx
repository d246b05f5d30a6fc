/** What somebody said at this device and gave way, with what holds in its place and why; gone once it was seen. */

import { useEffect } from "preact/hooks";
import { claimIn, thingName } from "../job/custody.ts";
import type { Lists } from "../job/list_words.ts";
import { type Overruled as Gave, overruledOn } from "../job/overruled.ts";
import { shown } from "../job/tag.ts";
import { fieldWords, valueWords } from "../job/value_words.ts";
import { fieldValue, listed } from "../job/values.ts";
import { firstUpper } from "../job/words.ts";
import { derived } from "../local/derived.ts";
import { device, recordOf, records } from "../local/memory.ts";
import { seenOverruled, seeOverruled } from "../local/overruled.ts";
import { listsOf } from "../local/plan_book.ts";
import { get } from "../sync/office.ts";
import { status } from "../sync/status.ts";
import { useTold } from "./as_told.ts";
import { attempt } from "./notices.tsx";

export const gaveWay = derived((device_id: string) => {
  const seen = seenOverruled();
  const all = (["item", "visit", "container", "day"] as const).flatMap((kind) => records(kind) ?? []);
  return seen ? overruledOn(all, device_id, seen) : [];
});

export function Overruled() {
  const device_id = device.value?.device_id;
  return (device_id ? gaveWay(device_id) : []).map((gave) => (
    <GaveWay key={gave.between.disagreement_id} {...gave} />
  ));
}

export function GaveWay({ record, between, said, holds, settled_by, note }: Gave) {
  const why = useWhy(between.disagreement_id, note);
  const day = recordOf("day", record.day_id);
  const by = day && listed(day, "people/").find(({ id }) => id === settled_by)?.value.name;
  const what =
    record.kind === "visit"
      ? `visit ${fieldValue(record, "ticket") ?? ""}`
      : record.kind === "day"
        ? "the day"
        : thingName(record);
  return (
    <div class="bar gave-way" role="status">
      <p>
        {`${firstUpper(what)}: ${holdsWords(listsOf(record), between, holds, said)}`}; this device said
        otherwise. {by ? `${by} settled it` : "It was settled at the desk"}
        {why === null ? ". Why is told once the office is reached." : why}
      </p>
      {why !== null && (
        <button type="button" onClick={() => attempt(() => seeOverruled(between.disagreement_id))}>
          Seen
        </button>
      )}
    </div>
  );
}

/**
 * Why it was settled so. A device may not hold such a note, which can name the owner: the office tells it to the one
 * whose value gave way, where it reads the owner. Null until it is reached, and while an erasure has it asked for anew.
 */
function useWhy(disagreement_id: string, note: string): string | null {
  const [reply, ask] = useTold<string>();
  const at = status.value.lastContactAt;
  useEffect(() => {
    if (note || reply !== null) return;
    const asked = () => get<{ note: string; kept_back?: boolean }>(`/settlements/${disagreement_id}`);
    // What fails is asked again once the office is heard.
    ask(() => asked().then(({ note, kept_back }) => whyWords(note, kept_back))).catch(() => null);
  }, [disagreement_id, note, at, reply]);
  return note ? whyWords(note) : reply;
}

const whyWords = (note: string, kept_back = false) =>
  note ? `: ${note}` : kept_back ? ". Ask the desk why: the note may name the owner." : ". Nobody wrote why.";

/** What holds and what does not; of a number that two things claimed, where it is. */
function holdsWords(lists: Lists, between: Gave["between"], holds: Gave["holds"], said: Gave["said"]) {
  const claim = claimIn(between);
  if (claim)
    return `the tag ${shown(claim.tag)} is on ${holds === between.other ? "this thing" : "another thing"}`;
  const [yes, no] = [holds, said].map(({ value }) => valueWords(value, between.field, lists));
  return `${fieldWords(between.field, lists)}, “${yes}” holds, not “${no}”`;
}
