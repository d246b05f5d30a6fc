/** How an incident ended: asked long after the first minute, so that it comes with the words' pack. */

import { useState } from "preact/hooks";
import { peopleHere } from "../job/day_facts.ts";
import type { IncidentEnd } from "../job/fields.ts";
import { goesHome } from "../job/goes_home.ts";
import { endsOffered } from "../job/incidents.ts";
import { keep } from "../local/outbox.ts";
import { Choice } from "./choices.tsx";
import { Typed } from "./controls.tsx";
import type { IncidentOf } from "./incidents.tsx";
import { attempt, sayDone } from "./notices.tsx";
import { usePlanBook } from "./use.ts";
import { useHeld } from "./use_held.ts";

type Ending = Omit<IncidentEnd, "ended"> & { ended: IncidentEnd["ended"] | null };
const BLANK: Ending = { ended: null, settled_by: "", present: "", words: "" };

const HOW = "How it ended";
const BY = "Settled by";

export function Settling({ day, incident }: IncidentOf) {
  const [day_id, incident_id] = [day.record_id, incident.id];
  const pack = usePlanBook()?.cautions;
  const ends = endsOffered(pack ? goesHome(incident.value.hazard, pack) : false);
  const people = peopleHere(day).map(({ name }): [string, string] => [name, name]);
  const { form, set, drop, isOld } = useHeld<Ending>(`incident ${incident_id}`, BLANK);
  const [open, setOpen] = useState(isOld);
  const { ended } = form;
  const ready = ended && form.settled_by.trim();
  const settle = () =>
    attempt(async () => {
      if (ended) await keep("settle_incident", { day_id, incident_id, ...form, ended });
      drop();
      sayDone("It is settled, and stays on the day's record.");
    });
  if (!open)
    return (
      <button type="button" onClick={() => setOpen(true)}>
        {HOW}
      </button>
    );
  return (
    <>
      <Choice label={HOW} options={ends} value={ended} choose={set("ended")} />
      {people.length > 0 && (
        <Choice label={BY} options={people} value={form.settled_by} choose={set("settled_by")} />
      )}
      <div class="pair">
        {!people.length && (
          <Typed
            of={incident_id}
            label={BY}
            hint="Name of whoever says so"
            into="settle_incident.settled_by"
            value={form.settled_by}
            save={set("settled_by")}
          />
        )}
        <Typed
          of={incident_id}
          label="Who was there"
          into="settle_incident.present"
          value={form.present}
          save={set("present")}
        />
      </div>
      <Typed
        of={incident_id}
        label="What was done"
        into="settle_incident.words"
        value={form.words}
        save={set("words")}
        lines={2}
      />
      <p class="inline">
        <button type="button" class="main" disabled={!ready} onClick={settle}>
          {ready ? "Settle it" : "Say how it ended and who says so"}
        </button>
        <button type="button" class="quiet" onClick={() => setOpen(false)}>
          Not now
        </button>
      </p>
    </>
  );
}
