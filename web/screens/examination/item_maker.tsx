/** By whom and when a thing was made, how sure that is, and what speaks for it. */

import { useRef } from "preact/hooks";
import type { PlanBook } from "../../job/types.ts";
import { DATE_CERTAINTIES, MAKER_CERTAINTIES } from "../../job/words.ts";
import { keep } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { DateField } from "../../parts/date_field.tsx";
import { attempt } from "../../parts/notices.tsx";
import { Several } from "../../parts/several.tsx";
import { useField } from "../../parts/use.ts";
import { Words } from "./item_words.tsx";

/** An opinion so sure rests on two kinds of evidence at least. */
const STRONG = ["by", "attributed-to", "workshop-of"];

export function MakerAndDate({ item_id, book }: { item_id: string; book: PlanBook | null }) {
  const set = (field: "maker_certainty" | "dates_certainty") => (value: string) =>
    keep("set_item", { item_id, field, value });
  const maker = useField(item_id, "maker");
  const maker_certainty = useField(item_id, "maker_certainty");
  const dates = useField(item_id, "dates");
  const dates_certainty = useField(item_id, "dates_certainty");
  const isUsed = useRef(false); // nothing folds away again under whoever empties a field
  isUsed.current ||= Boolean(maker || maker_certainty || dates || dates_certainty);
  const neither = async () => {
    await keep("set_item", { item_id, field: "maker_certainty", value: "unknown" });
    await keep("set_item", { item_id, field: "dates_certainty", value: "not-determined" });
  };
  return (
    <details id="made" class="folded" open={isUsed.current}>
      <summary>
        <h2>Maker and date</h2>
      </summary>
      {!(maker || maker_certainty || dates || dates_certainty) && (
        <button type="button" onClick={() => attempt(neither)}>
          Neither is determined
        </button>
      )}
      <Words item_id={item_id} field="maker" label="Maker" />
      <Select
        label="How sure of the maker"
        options={MAKER_CERTAINTIES}
        value={maker_certainty}
        choose={set("maker_certainty")}
      />
      <Evidence
        label="What speaks for the maker"
        item_id={item_id}
        field="maker_evidence"
        book={book}
        wanted={Boolean(maker || (maker_certainty && maker_certainty !== "unknown"))}
        strong={STRONG.includes(maker_certainty ?? "")}
      />
      <DateField
        conventions={book?.words.dates}
        date={dates}
        save={(date) => keep("record_date", { item_id, ...date })}
      />
      <Choice
        label="How sure of the date"
        options={DATE_CERTAINTIES}
        value={dates_certainty}
        choose={set("dates_certainty")}
      />
      <Evidence
        label="What speaks for the date"
        item_id={item_id}
        field="dates_evidence"
        book={book}
        wanted={Boolean(dates || (dates_certainty && dates_certainty !== "not-determined"))}
        strong={dates_certainty === "certain"}
      />
    </details>
  );
}

type EvidenceOf = {
  label: string;
  item_id: string;
  field: "maker_evidence" | "dates_evidence";
  book: PlanBook | null;
  /** Whether anything is said that something could speak for. */
  wanted: boolean;
  strong: boolean;
};

/** Kinds of evidence; two at least for anything stronger than "probably". */
function Evidence({ label, item_id, field, book, wanted, strong }: EvidenceOf) {
  const chosen = useField(item_id, field) ?? [];
  if (!book || !(wanted || chosen.length)) return null;
  return (
    <Several
      label={label}
      options={book.words.evidences.map(
        ({ evidence, words, strength }) => [evidence, words, strength] as const,
      )}
      chosen={chosen}
      choose={(value) => keep("set_item", { item_id, field, value })}
    >
      {strong && chosen.length < 2 && (
        <p class="hint">So sure an opinion rests on two kinds of evidence at least.</p>
      )}
    </Several>
  );
}
