/** An incident that two devices told or settled otherwise: what each said, and which holds. */

import { sidesOf } from "../job/between.ts";
import type { IncidentEnd, IncidentValue } from "../job/fields.ts";
import { endWords, incidentWords } from "../job/incidents.ts";
import { mayMake } from "../job/kinds_read.ts";
import type { SettleDisagreement } from "../job/operations.ts";
import type { DayRecord, Disagreement } from "../job/types.ts";
import { fieldValue } from "../job/values.ts";
import { Typed } from "./controls.tsx";
import { clockWords } from "./moments.ts";
import { attempt, sayDone } from "./notices.tsx";
import { AskWhy, useSettling } from "./two_values.tsx";
import { useDevice } from "./use.ts";

/**
 * Two devices told or settled it otherwise before they had heard of each other: it stands until somebody says which
 * holds.
 */
export function TwoSaid({ day, between }: { day: DayRecord; between: Disagreement }) {
  const device = useDevice();
  const may = device && mayMake(device.role, "settle_disagreement");
  const { field } = between;
  const { note, setNote, asked, press } = useSettling(day, between);
  const holds = async (choose: SettleDisagreement["choose"], reason?: string) => {
    if (await press(choose, undefined, reason))
      sayDone("It is settled. What the other said stays on record.");
  };
  const by = (person_id: string) =>
    fieldValue(day, `people/${person_id}`)?.name ?? (person_id || "nobody named");
  return (
    <div class="between">
      <p class="bar wrong">
        Two people {field.startsWith("incident-ends/") ? "settled this otherwise" : "told this otherwise"}. It
        stands until {may ? "you say which holds" : "the desk or the manager says which holds"}.
      </p>
      <div class="sides">
        {sidesOf(day, between).map(({ choose, set }) => (
          <div class="side" key={choose}>
            <p class="said">{saidWords(field, set.value)}</p>
            <p class="hint">
              {by(set.made_by)}, {clockWords(set.made_at)}
            </p>
            {may && (
              <button
                type="button"
                aria-pressed={asked === choose}
                onClick={() => attempt(() => holds(choose))}
              >
                This one holds
              </button>
            )}
          </div>
        ))}
      </div>
      {may && asked && <AskWhy choose={(reason) => holds(asked, reason)} />}
      {may && (
        <Typed
          of={between.disagreement_id}
          label="Why (kept with the decision)"
          value={note}
          save={setNote}
        />
      )}
    </div>
  );
}

function saidWords(field: string, value: unknown) {
  return field.startsWith("incident-ends/")
    ? endWords(value as IncidentEnd)
    : incidentWords({ value: value as IncidentValue });
}
