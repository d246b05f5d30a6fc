/**
 * What was found, numbered as on drawing and photo, then what was not looked at, what was denied, and what was told.
 */

import { checkOf } from "../../job/compared.ts";
import { differedSince } from "../../job/condition.ts";
import { toldFindings, withToldNote } from "../../job/families.ts";
import { severityWords } from "../../job/graded.ts";
import { lightWords, reasonWords, termWords } from "../../job/list_words.ts";
import { photosOf, walk, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan, PlanBook } from "../../job/types.ts";
import { fieldValue, groupedBy, listed } from "../../job/values.ts";
import { findingInWords } from "../../job/wording.ts";
import { countWords, firstUpper, spaced } from "../../job/words.ts";
import { listsOf } from "../../local/plan_book.ts";
import { Nick } from "../../parts/nick.tsx";
import { ZoneSign } from "../../parts/sign.tsx";
import { ToldNote } from "../../parts/told_note.tsx";
import { CorrectFinding } from "./entry_corrections.tsx";
import { RecordDamage } from "./entry_damage.tsx";

export type Numbered = ReturnType<typeof numberedFindings>[number];

/** The findings with the numbers that they have everywhere in an entry: the gravest first, then as the plan walks. */
export function numberedFindings(item: ItemRecord, plan: Plan | null) {
  const live = listed(item, "findings/").filter(({ value }) => !value.withdrawn);
  const order = new Map(plan ? walk(plan, item).map((step, index) => [step.key, index]) : []);
  const index = (zone: string) => order.get(zone) ?? order.size;
  const photos = photosOf(item);
  return [...live]
    .sort(
      (a, b) =>
        (b.value.severity ?? 0) - (a.value.severity ?? 0) || index(a.value.zone) - index(b.value.zone),
    )
    .map(({ id, value }, at) => {
      const shows = photos.findIndex((photo) => photo.value.finding_id === id);
      const near = photos.findIndex((photo) => photo.value.zone === value.zone);
      return { number: at + 1, id, value: withToldNote(item, id, value), photo: shows < 0 ? near : shows };
    });
}

type FindingsOf = {
  item: ItemRecord;
  plan: Plan | null;
  book: PlanBook;
  findings: Numbered[];
  chosen: number;
  choose: (number: number) => void;
};

export function Findings({ item, plan, book, findings, chosen, choose }: FindingsOf) {
  const checkIn = checkOf(item)?.value;
  const isOpen = differedSince(item);
  return (
    <section>
      <h3>
        Findings <span class="count">{findings.length}</span>
      </h3>
      <ul class="findings">
        {checkIn?.state === "differs" && (
          <li>
            <strong>Otherwise as it was unpacked</strong>: {checkIn.words || "nothing written"}{" "}
            {isOpen && <small>not recorded as a finding yet</small>}
            {plan && <RecordDamage item={item} plan={plan} book={book} isFirst={isOpen} />}
          </li>
        )}
        {findings.map(({ number, id, value }) => (
          <li key={id}>
            <button
              type="button"
              class="finding-line"
              aria-pressed={number === chosen}
              onClick={() => choose(number)}
            >
              <span class="finding-number">{number}</span>
              <span>
                {firstUpper(plan ? findingInWords({ plan, book, record: item }, value) : spaced(value.term))}
              </span>
              <span class="finding-nick">
                <Nick severity={value.severity ?? 1} /> {severityWords({ book }, value.severity)}
              </span>
            </button>
            {number === chosen && (
              <CorrectFinding
                item={item}
                book={book}
                id={id}
                finding={fieldValue(item, `findings/${id}`) ?? value}
                called={`finding ${number}, ${spaced(value.term)}`}
              />
            )}
          </li>
        ))}
        {plan && <NotLookedAt item={item} plan={plan} />}
        <Denied item={item} />
      </ul>
    </section>
  );
}

function NotLookedAt({ item, plan }: { item: ItemRecord; plan: Plan }) {
  const steps = walk(plan, item);
  const lists = listsOf(item);
  const skipped = steps.filter((step) => step.state?.state === "not-examined");
  const untouched = steps.filter((step) => !step.state && !step.findings.length);
  return (
    <>
      {skipped.map((step) => (
        <li key={step.key} class="not-found">
          <ZoneSign state="not-examined" /> {firstUpper(zoneName(step.key))}{" "}
          <small>{reasonWords(lists, step.state?.reason ?? "", step.key)}</small>
        </li>
      ))}
      {untouched.length > 0 && (
        <li class="not-found">
          <ZoneSign state={undefined} /> {countWords(untouched.length, "zone")} nobody looked at{" "}
          <small>{untouched.map((step) => zoneName(step.key)).join("; ")}</small>
        </li>
      )}
    </>
  );
}

/** What was looked for and not seen: one line a term and light, with how many zones. */
function Denied({ item }: { item: ItemRecord }) {
  const live = listed(item, "denials/").filter(({ value }) => !value.withdrawn);
  const lists = listsOf(item);
  const zones = groupedBy(live, ({ value }) => `${value.term}|${value.light}`);
  return [...zones].map(([key, denied]) => {
    const [term = "", light = ""] = key.split("|");
    return (
      <li key={key} class="not-found">
        <ZoneSign state="clear" /> No {termWords(lists, term)} seen{" "}
        <small>
          {lightWords(lists, light)}, {countWords(denied.length, "zone")}
        </small>
      </li>
    );
  });
}

/** The owner's words, as told; those of a finding can be put right. */
export function Told({ item }: { item: ItemRecord }) {
  const told = fieldValue(item, "told_words");
  const lists = listsOf(item);
  const noted = toldFindings(item).filter(({ id }) => fieldValue(item, `finding-notes/${id}`) !== undefined);
  if (!told && !noted.length) return null;
  return (
    <section>
      <h3>Told by the owner, not checked</h3>
      {told && <blockquote class="told">“{told}”</blockquote>}
      {noted.map(({ id, value }) => (
        <ToldNote
          key={id}
          id={id}
          item={item}
          value={value}
          label={`Of ${termWords(lists, value.term)}, ${zoneName(value.zone)}`}
        />
      ))}
    </section>
  );
}
