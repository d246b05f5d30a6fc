/** What two people said otherwise of a container, until the desk or the manager says which holds, and why. */

import { sidesOf, unsettled } from "../../job/between.ts";
import { containerContested } from "../../job/closing_places.ts";
import { type ById, thingName } from "../../job/custody.ts";
import { namesOn } from "../../job/day_facts.ts";
import { SEALS } from "../../job/entered_words.ts";
import type { ValueAt } from "../../job/fields.ts";
import { mayMake } from "../../job/kinds_read.ts";
import type { ContainerRecord, DayRecord, Disagreement, ThingRecord } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { Typed } from "../../parts/controls.tsx";
import { AskWhy, Side, useSettling } from "../../parts/two_values.tsx";
import { useDevice, useRecord } from "../../parts/use.ts";

type OtherwiseOf = { container: ContainerRecord; byId: Map<string, ThingRecord> };

/** Its seal, and what it stands in: each with its two sides, for whoever may settle it. */
export function SaidOtherwise({ container, byId }: OtherwiseOf) {
  const role = useDevice()?.role;
  const day = useRecord("day", container.day_id);
  if (!day || !role || !mayMake(role, "settle_disagreement"))
    return (
      <>
        {containerContested(container, byId).map(([, words]) => (
          <p key={words} class="bar wrong">
            {firstUpper(words)}. Look which it is, and tell the manager, who says here which holds.
          </p>
        ))}
      </>
    );
  return (
    <>
      {unsettled(container).map((between) => (
        <Otherwise key={between.disagreement_id} {...{ container, between, byId, day }} />
      ))}
    </>
  );
}

type OneOf = { container: ContainerRecord; between: Disagreement; byId: ById; day: DayRecord };

function Otherwise({ container, between, byId, day }: OneOf) {
  const { note, setNote, asked, press } = useSettling(container, between);
  const what = between.field === "seal" ? "recorded its seal otherwise" : "put it otherwise";
  return (
    <section class="between" aria-label={`Two people ${what}`}>
      <p class="bar wrong">Two people {what}. Look which it is; it stands until you say which holds.</p>
      <div class="sides">
        {sidesOf(container, between).map(({ choose, set, isInForce }) => (
          <Side
            key={choose}
            title={isInForce ? "In force" : "Said as well"}
            set={set}
            who={namesOn(day)}
            button="This one holds"
            isAsked={asked === choose}
            choose={() => press(choose)}
          >
            <p class="said">{saidWords(between.field, set.value, byId)}</p>
          </Side>
        ))}
      </div>
      {asked && <AskWhy choose={(reason) => press(asked, undefined, reason)} />}
      <Typed of={between.disagreement_id} label="Why (kept with the decision)" value={note} save={setNote} />
    </section>
  );
}

function saidWords(field: string, value: unknown, byId: ById): string {
  if (field === "seal") {
    const { seal, state, second_by } = value as ValueAt<"seal">;
    const words = SEALS.find(([key]) => key === state)?.[1].toLowerCase() ?? "";
    return `${seal}: ${words}, second person ${second_by || "not named"}`;
  }
  const { container_id } = value as ValueAt<"inside">;
  const outer = byId.get(container_id ?? "");
  if (!container_id) return "in no container";
  return `in ${outer ? thingName(outer) : "a container that is not on this device"}`;
}
