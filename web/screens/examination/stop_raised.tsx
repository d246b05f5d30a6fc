/** Cautions that were raised, and the decisions on them: a person outside decides, never the tool. */

import { useEffect, useRef } from "preact/hooks";
import { DECISIONS } from "../../job/decided.ts";
import type { CautionDecision, CautionValue } from "../../job/fields.ts";
import { mayGoHome } from "../../job/stopped.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { FirstMinute, Rules } from "../../parts/caution_card.tsx";
import { Choice } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { InDock } from "../../parts/in_dock.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

type RaisedOf = {
  id: string;
  value: CautionValue;
  item: ItemRecord;
  book: PlanBook;
  /** Whether the decision on it is being told. */
  isOpen: boolean;
  setOpen: (open: boolean) => void;
};

/** A caution that was raised, and what whoever was called has decided. */
export function Raised({ id, value, item, book, isOpen, setOpen }: RaisedOf) {
  const caution = book.cautions.cautions.find(({ hazard }) => hazard === value.hazard);
  const decided = fieldValue(item, `caution-decisions/${id}`);
  const article = useRef<HTMLElement>(null);
  const wasOpen = useRef(isOpen);
  useEffect(() => {
    if (wasOpen.current && !isOpen) article.current?.scrollIntoView(); // what was decided is at its head
    wasOpen.current = isOpen;
  }, [isOpen]);
  return (
    <article class="finding" ref={article}>
      {caution && !decided && <FirstMinute caution={caution} pack={book.cautions} />}
      <h3>
        {LEVEL_WORDS[value.level]}: {caution?.name ?? value.hazard}
      </h3>
      {caution && <p class="hint">{caution.subject}</p>}
      {decided && <Decided decided={decided} />}
      <p>
        {value.sign ? `Seen: ${value.sign}` : "Nobody has written what was seen"}
        {value.called ? `. Called: ${value.called}` : ""}
        {value.place ? `. Place: ${value.place}` : ""}
      </p>
      {caution && <Rules caution={caution} />}
      {isOpen ? (
        <Decide id={id} item={item} book={book} decided={decided} close={() => setOpen(false)} />
      ) : (
        <>
          {!decided && <p class="hint">The wrong sign? Whoever says so is named here, too.</p>}
          <button type="button" onClick={() => setOpen(true)}>
            {decided ? "Change the decision" : "What was decided"}
          </button>
        </>
      )}
    </article>
  );
}

function Decided({ decided }: { decided: CautionDecision }) {
  return (
    <p class="lead">
      <strong>{DECISIONS.find(([key]) => key === decided.decision)?.[1]}</strong> by {decided.decided_by}
      {decided.cleared_for ? `, for ${decided.cleared_for}` : ""}
      {decided.place ? `. ${firstUpper(decided.place)}` : ""}.{" "}
      {decided.paper_given ? "The owner was given a paper." : "The owner has no paper of it."}
    </p>
  );
}

type Deciding = Omit<CautionDecision, "decision"> & { decision: CautionDecision["decision"] | null };
const BLANK: Deciding = {
  decision: null,
  decided_by: "",
  cleared_for: "",
  place: "",
  paper_given: false,
  note: "",
};
type DecideOf = {
  id: string;
  item: ItemRecord;
  book: PlanBook;
  decided: CautionDecision | undefined;
  close: () => void;
};

function Decide({ id, item, book, decided, close }: DecideOf) {
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
