/** What is seldom said of a finding: how sure, the same on the other side, what its word means. */

import type { FindingValue } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { type Step, zoneName } from "../../job/progress.ts";
import { mirrored } from "../../job/sides.ts";
import type { ItemRecord, Operation, Term } from "../../job/types.ts";
import { findingsOn, zoneSaid } from "../../job/values.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { recordOf } from "../../local/memory.ts";
import { amend, keep, takeAllBack } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import type { FindingBack } from "../../parts/with_words.ts";
import { NOTHING_MEASURED } from "./finding.tsx";
import type { PartOf } from "./finding_severity.tsx";
import { activities, originalities } from "./finding_words.ts";

export function Meaning({ term }: { term: Term }) {
  return (
    <p class="hint">
      {firstUpper(term.definition)}.
      {term.lookalikes.length > 0 && ` Looks like: ${term.lookalikes.map(spaced).join(", ")}.`}
    </p>
  );
}

/** How sure, whether it goes on, what was done to it: seldom changed, so folded away behind what is so. */
export function HowSure({ value, book, change }: PartOf) {
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

/** The way back from a finding: as if it never was, or withdrawn where the office may have it; its zone as before. */
export async function findingBack(
  made: readonly Operation[],
  { item_id, finding_id, zone, before }: FindingBack,
) {
  const stays = await takeAllBack(made, true);
  if (!stays.length) return;
  await amend("record_finding", { item_id, finding_id, withdrawn: true });
  if (made.length > 1 && before) await keep("examine_zone", { item_id, zone, ...before });
}

/** The way back from a withdrawal: it stands, and its zone as before. */
export async function standsAgain(change: PartOf["change"], item_id: string, { key, state }: Step) {
  await change({ withdrawn: false });
  const now = recordOf("item", item_id);
  if (now && state && !zoneSaid(now, key)) await keep("examine_zone", { item_id, zone: key, ...state });
}

type OtherSideOf = { value: FindingValue; item: ItemRecord; step: Step };

/** The same finding on the mirrored member, by one tap of a person who looked at it. */
export function OtherSide({ value, item, step }: OtherSideOf) {
  const other = mirrored(step.member);
  const zone = `${step.zone.zone}/${other}`;
  if (!other || !Array.isArray(step.zone.members) || !step.zone.members.includes(other)) return null;
  if (findingsOn(item, zone).some((found) => found.value.term === value.term)) return null;
  const repeat = () =>
    attempt(async () => {
      const item_id = item.record_id;
      const finding = { ...NOTHING_MEASURED, ...value, zone, side: other };
      const finding_id = newId();
      const before = zoneSaid(item, zone);
      const made = [await keep("record_finding", { item_id, finding_id, ...finding })];
      if (before?.state !== "finding") {
        const light = step.state?.light ?? null;
        const found = { state: "finding", reason: null, light, count: null } as const;
        made.unshift(await keep("examine_zone", { item_id, zone, ...found }));
      }
      sayDone(`The same on ${zoneName(zone)}.`, () =>
        findingBack(made, { item_id, finding_id, zone, before }),
      );
    });
  return (
    <p>
      <button type="button" class="chip" onClick={repeat}>
        The same on the {spaced(other)}
      </button>
    </p>
  );
}
