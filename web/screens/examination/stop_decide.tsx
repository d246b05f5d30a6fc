/** What whoever was called has decided on a caution: asked long after the first minute. */

import { useEffect, useRef } from "preact/hooks";
import { DECISIONS } from "../../job/decided.ts";
import type { CautionDecision } from "../../job/fields.ts";
import { mayGoHome } from "../../job/goes_home.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

export type DecideOf = {
  id: string;
  item: ItemRecord;
  book: PlanBook;
  decided: CautionDecision | undefined;
  close: () => void;
};

type Deciding = Omit<CautionDecision, "decision"> & { decision: CautionDecision["decision"] | null };
const BLANK: Deciding = {
  decision: null,
  decided_by: "",
  cleared_for: "",
  place: "",
  paper_given: false,
  note: "",
};

export function Decide({ id, item, book, decided, close }: DecideOf) {
  const { form, set, drop } = useHeld<Deciding>(`decision ${id}`, { ...BLANK, ...decided });
  const { decision } = form;
  const home = mayGoHome(item, book.cautions);
  const offered = DECISIONS.filter(([key]) => key !== "returned" || home || decided?.decision === "returned");
  const ready = decision && form.decided_by.trim();
  const isCleared = decision === "cleared";
  const asked = useRef<HTMLDivElement>(null);
  useEffect(() => asked.current?.scrollIntoView(), []); // it is asked far below the key that leads to it
  const record = () =>
    attempt(async () => {
      const said = { ...form, cleared_for: isCleared ? form.cleared_for : "" };
      if (decision)
        await keep("decide_caution", { item_id: item.record_id, caution_id: id, ...said, decision });
      drop();
      close();
    });
  return (
    <div ref={asked} class="decide">
      <Choice label="Decided" options={offered} value={decision} choose={set("decision")} />
      {!home && (
        <p class="hint">
          It does not go home with the owner: keeping or moving it may be unlawful or dangerous.
        </p>
      )}
      <Typed
        of={id}
        label="Decided by"
        hint="Name and office of whoever decided; not the person who asked"
        value={form.decided_by}
        save={set("decided_by")}
      />
      {isCleared && (
        <Typed
          of={id}
          label="Cleared for what"
          hint="For example: taking in, description, sale"
          value={form.cleared_for}
          save={set("cleared_for")}
        />
      )}
      <Typed of={id} label="Where it goes, and who saw it go" value={form.place} save={set("place")} />
      <Choice
        label="Was the owner given a paper?"
        options={[
          ["yes", "Yes"],
          ["no", "No"],
        ]}
        value={form.paper_given ? "yes" : "no"}
        choose={(to) => set("paper_given")(to === "yes")}
      />
      <InDock>
        <button type="button" onClick={close}>
          Not now
        </button>
        <button type="button" class="main" disabled={!ready} onClick={record}>
          {ready ? "Record the decision" : "Say what and who first"}
        </button>
      </InDock>
    </div>
  );
}
