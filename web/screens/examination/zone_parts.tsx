/** The pieces of a zone's screen: in which light, where on it, why not, what has happened to it. */

import { useState } from "preact/hooks";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { amend } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { Outline } from "../../parts/outline.tsx";
import { NewFinding } from "./finding.tsx";
import { originalities } from "./finding_words.ts";
import type { ZoneGiven } from "./zone.tsx";
import type { Examining } from "./zone_state.ts";
import { zoneAddress } from "./zone_steps.ts";

export function WhereOnIt({ item, plan, book, steps, step }: ZoneGiven) {
  const drawings = book.outlines?.[plan.class_id] ?? [];
  if (!drawings.some(({ shapes }) => shapes.some(({ zone }) => zone === step.key))) return null;
  const go = (key: string) => {
    location.hash = zoneAddress(item.record_id, key);
  };
  return (
    <details class="where">
      <summary>Where on it</summary>
      <Outline drawings={drawings} steps={steps} chosen={step.key} choose={go} />
    </details>
  );
}

type LightOf = { book: PlanBook; light: string; choose: (light: string) => unknown };

/** The light or tool: asked once, then one line. */
export function Light({ book, light, choose }: LightOf) {
  const [open, setOpen] = useState(!light);
  if (!open)
    return (
      <p class="chosen-light">
        Looked at with{" "}
        <strong>{book.words.lights.find((known) => known.light === light)?.words ?? light}</strong>
        <button type="button" class="quiet" onClick={() => setOpen(true)}>
          Change
        </button>
      </p>
    );
  return (
    <Choice
      label={light ? "Looked at with" : "Looked at with what? Then say what was found"}
      options={book.words.lights.map((known) => [known.light, known.words] as const)}
      value={light}
      choose={(chosen) => {
        setOpen(false);
        return choose(chosen);
      }}
    />
  );
}

export function WhyNot({ book, skip }: { book: PlanBook; skip: (reason: string) => Promise<void> }) {
  return (
    <section>
      <h2>Why not?</h2>
      <div class="chips">
        {book.words.reasons.map(({ reason, words }) => (
          <button type="button" key={reason} class="chip" onClick={() => attempt(() => skip(reason))}>
            {words}
          </button>
        ))}
      </div>
    </section>
  );
}

export function Origin({ item, book, zone }: { item: ItemRecord; book: PlanBook; zone: string }) {
  const known = fieldValue(item, `origins/${zone}`);
  const item_id = item.record_id;
  return (
    <section>
      <Select
        label="What has happened to it since it was made"
        options={originalities(book)}
        value={known?.origin}
        empty="Nothing to say"
        choose={(origin) =>
          amend("record_origin", { item_id, zone, ...(known ? {} : { note: "" }), origin: origin || null })
        }
      />
      {known?.origin && (
        <Typed
          label="Note on that"
          value={known.note}
          save={(note) => amend("record_origin", { item_id, zone, note })}
        />
      )}
    </section>
  );
}

type ChangeOf = ZoneGiven & { examining: Examining; ask: () => void };

export function ChangeWhatWasSaid({ item, book, step, examining, ask }: ChangeOf) {
  const { state, light, examine, found } = examining;
  const usable = step.findings.length === 0;
  return (
    <section>
      <h2>Change what was said</h2>
      <div class="chips">
        {state !== "clear" && (
          <button
            type="button"
            class="chip"
            disabled={!light || !usable}
            onClick={() => attempt(() => examine("clear"))}
          >
            {usable ? "Clear" : "Clear (withdraw the findings first)"}
          </button>
        )}
        {state !== "not-examined" && (
          <button type="button" class="chip" onClick={ask}>
            Not examined
          </button>
        )}
      </div>
      {state === "clear" && <NewFinding item_id={item.record_id} step={step} book={book} found={found} />}
    </section>
  );
}
