/**
 * What was noted as a thing was unpacked becomes a finding here: where, what, how grave, how large. Until it is one,
 * the thing has no grade and its answers deny nothing for certain.
 */

import { sizeOf } from "../../job/bare_sizes.ts";
import { checkOf } from "../../job/compared.ts";
import { findingWords } from "../../job/list_words.ts";
import { type Step, walk, zoneName } from "../../job/progress.ts";
import { termsFound } from "../../job/terms_found.ts";
import type { ItemRecord, Plan, PlanBook, Term } from "../../job/types.ts";
import { piecesOf } from "../../job/which_piece.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { Choice, Select } from "../../parts/choices.tsx";
import { Typed, wholeNumber } from "../../parts/controls.tsx";
import { Correct, type Corrected } from "./entry_correct.tsx";
import { alikeOn, onHowMany, putDamage } from "./entry_damage_put.ts";

const MOST_OFFERED = 12;
const BLANK: Corrected = {
  zone: "",
  said: "",
  term: "",
  instead: "",
  severity: "",
  length: "",
  across: "",
  count: "",
  share: "",
  pieces: "",
  which: "",
  light: "",
  note: "",
};

type DamageOf = { item: ItemRecord; plan: Plan; book: PlanBook; isFirst: boolean };

/** Shown of what differed as it was unpacked alone; a second fault of the same words is recorded by the same key. */
export function RecordDamage({ item, plan, book, isFirst }: DamageOf) {
  if (checkOf(item)?.value.state !== "differs") return null;
  const { terms } = book.vocabulary;
  const steps = walk(plan, item);
  const stepIn = ({ zone }: Corrected) => steps.find(({ key }) => key === zone);
  const termIn = ({ term }: Corrected) => terms.find((known) => known.term === term);
  return (
    <Correct
      called="what differed as it was unpacked"
      says={isFirst ? "Record it as a finding" : "Record another finding"}
      held={`correct ${item.record_id} damage`}
      now={BLANK}
      why="noted as it was unpacked"
      fields={(form, set) => (
        <>
          <Select
            label="Where"
            options={steps.map(({ key }) => [key, firstUpper(zoneName(key))] as const)}
            value={form.zone}
            choose={set("zone")}
          />
          <WhatItIs terms={terms} step={stepIn(form)} form={form} set={set} />
          <InsteadOf item={item} plan={plan} book={book} form={form} set={set} />
          <Choice
            label="Severity"
            options={book.words.severities.map((row) => [`${row.severity}`, firstUpper(row.words)] as const)}
            value={form.severity || null}
            choose={set("severity")}
          />
          <HowLarge term={termIn(form)} form={form} set={set} />
          {piecesOf(item) > 1 && <WhichPieces count={piecesOf(item)} form={form} set={set} />}
          <Select
            label="What showed it"
            options={book.words.lights.map(({ light, words }) => [light, words] as const)}
            value={form.light}
            empty="Seen as it was unpacked"
            choose={set("light")}
          />
          <Typed
            label="Note"
            hint="Printed as it stands; what the words above do not say"
            of="damage"
            into="record_finding.note"
            value={form.note}
            save={set("note")}
          />
        </>
      )}
      wrong={(form) => wrongIn(form, termIn(form), item)}
      put={async (form, correction) => {
        const step = stepIn(form);
        const term = termIn(form);
        if (step && term) await putDamage(item, step, { term, form, correction });
      }}
    />
  );
}

type SetOf = { form: Corrected; set: (name: string) => (text: string) => Promise<void> };

/** The usual terms of the zone; with words typed, every term that they find. */
function WhatItIs({ terms, step, form, set }: SetOf & { terms: readonly Term[]; step: Step | undefined }) {
  if (!step) return null;
  const { said = "", term = "" } = form;
  const usual = step.zone.usual.flatMap((name) => terms.find((known) => known.term === name) ?? []);
  const found = said.trim() ? termsFound(terms, step.zone, said).slice(0, MOST_OFFERED) : usual;
  const chosen = terms.filter((known) => known.term === term && !found.includes(known));
  const choose = async (name: string) => {
    await set("term")(name);
    await set("severity")(`${terms.find((known) => known.term === name)?.severity ?? ""}`);
  };
  return (
    <>
      <Typed label="Search all terms" of="damage" value={said} save={set("said")} />
      <Choice
        label="What it is"
        options={[...chosen, ...found].map((one) => [one.term, firstUpper(spaced(one.term))] as const)}
        value={term}
        choose={choose}
      />
    </>
  );
}

/** What the table found of the same kind there: grown on the way it is that one, and would else be two. */
function InsteadOf({ item, plan, book, form, set }: SetOf & Omit<DamageOf, "isFirst">) {
  const alike = alikeOn(item, form);
  if (!alike.length) return null;
  return (
    <Choice
      label="Is it one that was found before?"
      options={[
        ["", "No, another one"] as const,
        ...alike.map(({ id, value }) => [id, `Yes: ${findingWords({ book, plan }, value)}`] as const),
      ]}
      value={form.instead ?? ""}
      choose={set("instead")}
    />
  );
}

/** In the ways that its term allows. */
function HowLarge({ term, form, set }: SetOf & { term: Term | undefined }) {
  if (!term) return null;
  const allows = new Set(term.extents);
  const isArea = allows.has("mm2");
  const field = (name: string, label: string) => (
    <Typed key={name} label={label} of="damage" value={form[name]} save={set(name)} />
  );
  return (
    <div class="pair">
      {(isArea || allows.has("mm")) &&
        field("length", isArea ? "Longest, such as 12 mm" : "Length, such as 12 mm")}
      {isArea && field("across", "Across")}
      {allows.has("n") && field("count", "How many")}
      {allows.has("%") && field("share", "Share of the zone in %")}
    </div>
  );
}

function WhichPieces({ count, form, set }: SetOf & { count: number }) {
  return (
    <div class="pair">
      <Typed
        label={`On how many of the ${count} pieces`}
        of="damage"
        value={form.pieces}
        save={set("pieces")}
        inputmode="numeric"
      />
      <Typed
        label="Which"
        hint="In a few words, as they are printed: the bent one"
        of="damage"
        into="record_finding.piece_words"
        value={form.which}
        save={set("which")}
      />
    </div>
  );
}

function wrongIn(form: Corrected, term: Term | undefined, item: ItemRecord) {
  const pieces = piecesOf(item);
  const { length = "", across = "", count = "", share = "", pieces: on = "" } = form;
  const isNoLength = (text: string) => text.trim() !== "" && sizeOf(text, "mm") === null;
  const isNoNumber = (text: string, most: number) =>
    text.trim() !== "" && !(wholeNumber(text) && Number(text) <= most);
  if (!form.zone) return "Say where it is";
  if (!term) return "Say what it is";
  if (!form.severity) return "Say how grave it is";
  if (isNoLength(length) || isNoLength(across)) return "Give a length such as 12 mm";
  if (isNoNumber(count, 100_000)) return "Give how many as a whole number";
  if (isNoNumber(share, 100)) return "Give the share as a number up to 100";
  const tooMany = `Give a number of pieces up to ${pieces}`;
  if (isNoNumber(on, pieces)) return tooMany;
  // What is typed is never dropped: of words alone it has to be plain on how many pieces that is.
  if (!form.which?.trim() || pieces < 2) return "";
  const number = onHowMany(item, form);
  if (number === null) return `Say on how many of the ${pieces} pieces that is`;
  return number > pieces ? tooMany : "";
}
