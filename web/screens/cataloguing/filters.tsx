/** What the list is narrowed to, each choice with how many there would be, and the ways that were saved. */

import { dateWords } from "../../job/day_facts.ts";
import type { Asked, Counts } from "../../job/desk.ts";
import { LIST_STATES, SEVERITY_WORDS, TROUBLES } from "../../job/queue_words.ts";
import { tablesOfDays } from "../../job/tables_of_days.ts";
import type { PlanBook } from "../../job/types.ts";
import { useFrameLater } from "../../parts/below.tsx";
import { shortName } from "../../parts/class_drawing.tsx";
import { useRecords } from "../../parts/use.ts";
import { Line } from "./filter_line.tsx";
import { Saved } from "./filters_saved.tsx";

type FiltersOf = {
  asked: Asked;
  ask: (change: Partial<Asked>) => void;
  counts: Counts | null;
  days: Record<string, string>;
  book: PlanBook | null;
};
type Choice = readonly [value: string, words: string];

/** The heading's id. */
const TO_LOOK_AT = "to-look-at";

/** How many there would be follows the list by a frame. */
export function Filters({ book, ...listed }: FiltersOf) {
  const counts = standing(useFrameLater(listed.counts));
  const given = { ...listed, counts };
  const { asked, ask } = given;
  const only = asked.only.split(",").filter(Boolean);
  const troubles = TROUBLES.filter(([value]) => value in (counts?.only ?? {}) || only.includes(value));
  const turn = (trouble: string) => {
    const next = only.includes(trouble) ? only.filter((value) => value !== trouble) : [...only, trouble];
    ask({ only: next.join(",") });
  };
  return (
    <>
      <Saved asked={asked} ask={ask} />
      <Group {...given} title="State" of="state" all="All" choices={LIST_STATES} />
      {troubles.length > 0 && (
        <section class="filter-group" aria-labelledby={TO_LOOK_AT}>
          <h3 id={TO_LOOK_AT}>To look at</h3>
          {troubles.map(([value, words]) => (
            <Line
              key={value}
              words={words}
              count={counts?.only[value]}
              isChosen={only.includes(value)}
              choose={() => turn(value)}
            />
          ))}
        </section>
      )}
      <Group {...given} title="Day" of="day_id" all="All days" choices={daysOf(given.days)} />
      <Group {...given} title="Worst finding" of="worst" all="Any" choices={SEVERITY_WORDS} />
      <Group {...given} title="Table" of="table_id" all="All tables" choices={useTables()} />
      <Group {...given} title="Class" of="class_id" all="All classes" choices={classesOf(book, counts)} />
    </>
  );
}

/** What each group had to choose from when last it had anything: it outlives this screen, as what was asked does. */
const lastOf = new Map<string, string[]>();

/**
 * The counts, and in a group in which nothing is as asked its choices of before, of which there are none now: whoever
 * looked for a word that nothing has would find no way to narrow the list.
 */
function standing(counts: Counts | null): Counts | null {
  if (!counts) return null;
  const groups = Object.entries(counts).map(([group, found]) => {
    const choices = mostFirst(found).map(([value]) => value);
    if (choices.length) lastOf.set(group, choices);
    const gone = choices.length ? [] : (lastOf.get(group) ?? []);
    return [group, { ...found, ...Object.fromEntries(gone.map((value) => [value, 0])) }];
  });
  return Object.fromEntries(groups);
}

type GroupOf = Omit<FiltersOf, "book"> & {
  title: string;
  of: "state" | "class_id" | "table_id" | "worst" | "day_id";
  all: string;
  choices: readonly Choice[];
};

/** One of several; of those that nothing would come of only the chosen one is shown. */
function Group({ title, of, all, choices, asked, ask, counts }: GroupOf) {
  const shown = choices.filter(([value]) => value in (counts?.[of] ?? {}) || asked[of] === value);
  if (!shown.length) return null;
  return (
    <section class="filter-group" aria-label={title}>
      <h3>{title}</h3>
      {([["", all], ...shown] as Choice[]).map(([value, words]) => (
        <Line
          key={value}
          words={words}
          severity={of === "worst" && value && value !== "none" ? Number(value) : undefined}
          count={counts?.[of][value]}
          isChosen={asked[of] === value}
          choose={() => ask({ [of]: value })}
        />
      ))}
    </section>
  );
}

/** The tables of the open days, by id; of those of other days the id is the number on the table. */
function useTables(): Choice[] {
  const days = useRecords("day") ?? [];
  const known = tablesOfDays(days);
  for (let number = 1; number <= 12; number += 1)
    for (const id of [`${number}`, `t${number}`]) if (!known.has(id)) known.set(id, `Table ${number}`);
  return [...known, ["none", "No table"] as const];
}

/** The latest first. */
function daysOf(days: Record<string, string>): Choice[] {
  return Object.entries(days)
    .sort(([, one], [, other]) => (one < other ? 1 : -1))
    .map(([day_id, held_on]) => [day_id, dateWords(held_on)]);
}

/** Every class that something has, those with the most first. */
function classesOf(book: PlanBook | null, counts: Counts | null): Choice[] {
  return mostFirst(counts?.class_id ?? {}).map(([value]) => {
    const plan = book?.plans[value];
    return [value, plan ? shortName(plan) : value === "none" ? "No class yet" : "Other class"];
  });
}

function mostFirst(found: Record<string, number>) {
  return Object.entries(found)
    .filter(([value]) => value)
    .sort(([, a], [, b]) => b - a);
}
