/** What an item is, by whom and when: seen, concluded and told are three different places. */

import type { ComponentChildren } from "preact";
import type { WordsField } from "../../job/fields.ts";
import { offersFor } from "../../job/naming.ts";
import type { Plan, PlanBook } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { DATE_CERTAINTIES, MAKER_CERTAINTIES } from "../../job/words.ts";
import { recordOf, records } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { DateField } from "../../parts/date_field.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useField, useSelected } from "../../parts/use.ts";

type WordsOf = {
  item_id: string;
  field: WordsField;
  label: string;
  hint?: string;
  lines?: number;
  max?: number;
  below?: (text: string, write: (text: string) => void) => ComponentChildren;
};

/** One field of an item in words. */
function Words({ item_id, field, ...more }: WordsOf) {
  const save = (value: string) => keep("set_item", { item_id, field, value });
  return <Typed into="set_item.value" value={useField(item_id, field)} save={save} {...more} />;
}

/** The short descriptions of the other things of its class on this device, the newest first. */
function useDescriptions(item_id: string): string {
  return useSelected(() => {
    const class_id = fieldValue(recordOf("item", item_id), "class_id");
    const others = (records("item") ?? []).filter(
      (item) => item.record_id !== item_id && fieldValue(item, "class_id") === class_id,
    );
    const described = others.map((item) => fieldValue(item, "short_description") ?? "");
    return described.reverse().join("\n");
  }, [item_id]);
}

export function WhatItIs({ item_id, plan }: { item_id: string; plan: Plan | null }) {
  const used = useDescriptions(item_id);
  const offers = (text: string, write: (text: string) => void) => (
    <div class="chips offers">
      {offersFor(text, used.split("\n"), plan?.called ?? []).map(({ words, becomes }) => (
        <button type="button" key={words} class="chip" onClick={() => write(becomes)}>
          {words}
        </button>
      ))}
    </div>
  );
  return (
    <section id="what-it-is">
      <h2>What it is</h2>
      <Words
        item_id={item_id}
        field="short_description"
        label="Short description"
        hint="A few words, as on the tag's list"
        max={200}
        below={plan ? offers : undefined}
      />
      <Words
        item_id={item_id}
        field="seen_words"
        label="Seen"
        hint="What anybody could see: shape, colour, marks, wear"
        lines={3}
      />
      <Words
        item_id={item_id}
        field="concluded_words"
        label="Concluded"
        hint="What we think follows from it"
        lines={2}
      />
      <Words
        item_id={item_id}
        field="told_words"
        label="Told by the owner"
        hint="Their words. It is never printed as ours"
        lines={2}
      />
      <Words
        item_id={item_id}
        field="materials"
        label="Materials"
        hint="As seen; “tests as” only after a test"
      />
      <div class="pair">
        <Words item_id={item_id} field="colour_now" label="Colour now" />
        <Words
          item_id={item_id}
          field="colour_was"
          label="Colour where light did not reach"
          hint="Only if it was seen"
        />
      </div>
    </section>
  );
}

/** An opinion so sure rests on two kinds of evidence at least. */
const STRONG = ["by", "attributed-to", "workshop-of"];

export function MakerAndDate({ item_id, book }: { item_id: string; book: PlanBook | null }) {
  const set = (field: "maker_certainty" | "dates_certainty") => (value: string) =>
    keep("set_item", { item_id, field, value });
  const maker_certainty = useField(item_id, "maker_certainty");
  const dates_certainty = useField(item_id, "dates_certainty");
  return (
    <section>
      <h2>Maker and date</h2>
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
        strong={STRONG.includes(maker_certainty ?? "")}
      />
      <DateField
        conventions={book?.words.dates}
        date={useField(item_id, "dates")}
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
        strong={dates_certainty === "certain"}
      />
    </section>
  );
}

type EvidenceOf = {
  label: string;
  item_id: string;
  field: "maker_evidence" | "dates_evidence";
  book: PlanBook | null;
  strong: boolean;
};

/** Kinds of evidence; two at least for anything stronger than "probably". */
function Evidence({ label, item_id, field, book, strong }: EvidenceOf) {
  const chosen = useField(item_id, field) ?? [];
  const toggle = (evidence: string) => {
    const others = chosen.filter((kind) => kind !== evidence);
    const value = chosen.includes(evidence) ? others : [...chosen, evidence];
    return attempt(() => keep("set_item", { item_id, field, value }));
  };
  if (!book) return null;
  return (
    <div class="field" role="group" aria-label={label}>
      <span class="label">{label}</span>
      {strong && chosen.length < 2 && (
        <p class="hint">So sure an opinion rests on two kinds of evidence at least.</p>
      )}
      <div class="chips">
        {book.words.evidences.map(({ evidence, words, strength }) => (
          <button
            type="button"
            key={evidence}
            class="chip"
            title={strength}
            aria-pressed={chosen.includes(evidence)}
            onClick={() => toggle(evidence)}
          >
            {words}
          </button>
        ))}
      </div>
    </div>
  );
}

export function Packaging({ item_id }: { item_id: string }) {
  return (
    <section>
      <h2>Packaging</h2>
      <Words item_id={item_id} field="packaging" label="How it is wrapped for the van" />
    </section>
  );
}
