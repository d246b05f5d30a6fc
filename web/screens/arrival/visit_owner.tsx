/** Who the owner of a visit is, as they say it. */

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { SetConsignor } from "../../job/operations.ts";
import { isPrivate, ownerWords } from "../../job/values.ts";
import { asksTheOffice } from "../../local/device.ts";
import { itemsOfVisit, recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { useDevice, useField, useSelected } from "../../parts/use.ts";
import { Namesakes } from "./visit_namesakes.tsx";
import { Privately } from "./visit_private.tsx";

const ACTING_AS = [
  ["owner", "Owner"],
  ["executor", "Executor"],
  ["attorney", "Attorney"],
  ["spouse", "Spouse"],
  ["other", "Other"],
] as const;

type WordsOf = {
  visit_id: string;
  field: SetConsignor["field"];
  label: string;
  hint?: string;
  lines?: number;
  type?: "tel" | "email";
};

/** One personal word: kept out of the log, and erased when it is asked for. */
function Words({ visit_id, field, type, ...more }: WordsOf) {
  const save = (value: string) => keep("set_consignor", { visit_id, field, value });
  return (
    <Typed
      into="set_consignor.value"
      value={useField(visit_id, `consignor/${field}`)}
      save={save}
      type={type}
      inputmode={type}
      {...more}
    />
  );
}

/** Who they are: asked of everybody, so it stands by itself. */
export function OwnerName({ visit_id }: { visit_id: string }) {
  const known = useSelected(() => isKnownElsewhere(visit_id), [visit_id]);
  const asked = useRef(""); // a field that somebody may be typing into stays
  if (!known) asked.current = visit_id;
  const [isOpen, setOpen] = useState(() => !isNamedPrivately(visit_id)); // and stays so under whoever types
  const [, drawAnew] = useState({});
  const whole = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    if (isNew(visit_id)) whole.current?.querySelector("input")?.focus({ preventScroll: true });
  }, [visit_id]);
  return (
    <section ref={whole}>
      <Namesakes visit_id={visit_id} />
      {asked.current !== visit_id ? (
        <KnownAtDoor
          visit_id={visit_id}
          typeIt={() => {
            asked.current = visit_id;
            drawAnew({});
          }}
        />
      ) : isOpen ? (
        <Words visit_id={visit_id} field="name" label="Name" />
      ) : (
        <button type="button" onClick={() => setOpen(true)}>
          Show the owner’s name
        </button>
      )}
      <Privately visit_id={visit_id} turned={() => setOpen(!isNamedPrivately(visit_id))} />
    </section>
  );
}

/** A visit of which nothing is known but its ticket begins with the name, so that it can be typed at once. */
function isNew(visit_id: string) {
  const visit = recordOf("visit", visit_id);
  return Boolean(visit && !ownerWords(visit) && !itemsOfVisit(visit_id)?.length);
}

/** Whether there is a name that the hall is not to read over somebody's shoulder. */
function isNamedPrivately(visit_id: string) {
  const visit = recordOf("visit", visit_id);
  return isPrivate(visit) && Boolean(visit?.fields["consignor/name"]?.value);
}

/** Whether the owner's name stands on record and is not read here: an empty field would ask for it once more. */
export function isKnownElsewhere(visit_id: string) {
  const fields = recordOf("visit", visit_id)?.fields;
  return Boolean(fields?.called && !fields["consignor/name"]);
}

function KnownAtDoor({ visit_id, typeIt }: { visit_id: string; typeIt: () => void }) {
  const called = useField(visit_id, "called");
  const device = useDevice();
  const who = device && asksTheOffice(device) ? "this device" : "this table has taken the visit and";
  return (
    <p>
      <strong>{called || "The name"}</strong> is known at the door.{" "}
      <small>The whole name comes once {who} reaches the office.</small>{" "}
      <button type="button" class="chip" onClick={typeIt}>
        Type it from a paper
      </button>
    </p>
  );
}

export function Owner({ visit_id }: { visit_id: string }) {
  const acting_as = useField(visit_id, "consignor/acting_as") as (typeof ACTING_AS)[number][0] | undefined;
  const actAs = (value: string) => keep("set_consignor", { visit_id, field: "acting_as", value });
  return (
    <section>
      <Words visit_id={visit_id} field="address" label="Address" lines={2} />
      <div class="pair">
        <Words visit_id={visit_id} field="telephone" label="Telephone" type="tel" />
        <Words visit_id={visit_id} field="email" label="Email" type="email" />
      </div>
      <Words visit_id={visit_id} field="preferred_contact" label="How they like to be reached" />
      <Choice label="Acting as" options={ACTING_AS} value={acting_as} choose={actAs} />
      {acting_as && acting_as !== "owner" && (
        <Words visit_id={visit_id} field="acting_for" label="Acting for" />
      )}
      <Words
        visit_id={visit_id}
        field="identity_seen"
        label="Identity seen"
        hint="The kind of document only, never its number. What must be checked is a matter of local law."
      />
    </section>
  );
}
