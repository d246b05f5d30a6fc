/** Cautions that were raised, and the decisions on them: a person outside decides, never the tool. */

import { useEffect, useRef } from "preact/hooks";
import { DECISIONS } from "../../job/decided.ts";
import type { CautionDecision, CautionValue } from "../../job/fields.ts";
import type { ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { firstUpper } from "../../job/words.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { FirstMinute, Rules } from "../../parts/caution_card.tsx";
import { decides } from "../../parts/with_words.ts";

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
  const Decide = decides.value;
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
        Decide && <Decide id={id} item={item} book={book} decided={decided} close={() => setOpen(false)} />
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
