/**
 * The condition paragraph: made from the record alone, in a fixed order, so that the same record gives the same words.
 *
 * Order: the overall word and why; what is serious, worst first; the rest in the order of the walk, structure before
 * surface; what is original, replaced or later; function; what was looked for and not found; what was not examined;
 * what goes on or holds the item; and how it was examined. Source of the order: common practice, worst first and
 * then top to bottom; its exact steps are the house's.
 */

import { holdingCautions } from "./cautions.ts";
import { gradeOf } from "./condition.ts";
import type { FindingValue } from "./fields.ts";
import { keysOf, walk } from "./progress.ts";
import type { Plan, PlanBook, RecordCopy } from "./types.ts";
import type { Listed } from "./values.ts";
import { fieldValue, listed } from "./values.ts";
import type { Sentence } from "./wording.ts";
import {
  countInWords,
  findingInWords,
  listInWords,
  ORIGIN_WORDS,
  placesInWords,
  sentence,
} from "./wording.ts";

/** Structure first. */
const FAMILIES: string[] = [
  "structural",
  "loss",
  "previous intervention",
  "mechanical and function",
  "biological",
  "chemical",
  "surface",
  "colour and light",
  "dirt and odour",
];
const SERIOUS = 3;
/** A light worth naming beside what it showed. */
const SEEN: Record<string, string | undefined> = {
  ultraviolet: "under ultraviolet",
  behind: "with light from behind",
  "inside-lamp": "with a lamp inside",
};

export function conditionParagraph(plan: Plan, book: PlanBook, record: RecordCopy): Sentence[] {
  return [
    ...overall(plan, record),
    ...findings(plan, book, record),
    ...origins(plan, record),
    ...functions(plan, book, record),
    ...denials(plan, book, record),
    ...notExamined(plan, book, record),
    ...holds(record),
    ...howExamined(book, record),
  ];
}

/** The sentences as one text. */
export function asText(sentences: Sentence[]) {
  return sentences.map(({ words }) => words).join(" ");
}

/** A class with a scale of its own is graded on that one in print. */
function overall(plan: Plan, record: RecordCopy): Sentence[] {
  const grade = gradeOf(plan, record);
  const states = Object.keys(record.fields).filter((name) => name.startsWith("zones/"));
  if (plan.scale.length && grade.not_graded !== "held") {
    const own = fieldValue(record, "class_grade");
    return own
      ? [
          sentence(`${own}, on the scale of its class${grade.so_far ? ", so far as examined" : ""}`, [
            "class_grade",
          ]),
        ]
      : [];
  }
  if (!grade.word)
    return states.length
      ? [
          sentence(
            grade.not_graded === "held" ? "Not graded: held" : "Not graded: too little was examined",
            states,
          ),
        ]
      : [];
  const why = grade.moved ? `, ${grade.reason}` : grade.because[0] ? `, because of ${grade.because[0]}` : "";
  const so_far = grade.so_far ? ", so far as examined" : "";
  return [sentence(grade.word + why + so_far, [...states, ...(grade.moved ? ["grade"] : [])])];
}

/** The live findings of the plan's zones, and of zones that an older plan had. */
function ordered(plan: Plan, book: PlanBook, record: RecordCopy) {
  const order = plan.zones.flatMap(keysOf);
  const family = (term: string) =>
    FAMILIES.indexOf(book.vocabulary.terms.find((one) => one.term === term)?.family ?? "");
  const place = (zone: string) => (order.includes(zone) ? order.indexOf(zone) : order.length);
  const serious = ({ value }: Listed<FindingValue>) => (value.severity >= SERIOUS ? value.severity : 0);
  return listed(record, "findings/")
    .filter(({ value }) => !value.withdrawn)
    .sort(
      (one, other) =>
        serious(other) - serious(one) ||
        place(one.value.zone) - place(other.value.zone) ||
        family(one.value.term) - family(other.value.term) ||
        other.value.severity - one.value.severity ||
        one.value.term.localeCompare(other.value.term) ||
        JSON.stringify(one.value).localeCompare(JSON.stringify(other.value)),
    );
}

/**
 * The same finding on several members of a zone is said once. Severity 0 is a fact and no fault: it is said only
 * where a note says why it matters.
 */
function findings(plan: Plan, book: PlanBook, record: RecordCopy): Sentence[] {
  const groups = new Map<
    string,
    { value: FindingValue; zones: string[]; from: string[]; light: string | undefined }
  >();
  for (const { id, value } of ordered(plan, book, record)) {
    if (value.severity === 0 && !value.note?.trim()) continue;
    const light = SEEN[fieldValue(record, `zones/${value.zone}`)?.light ?? ""];
    const [zone, member] = value.zone.split("/");
    const key = JSON.stringify([
      zone,
      light,
      { ...value, zone, side: value.side === member ? null : value.side },
    ]);
    const group = groups.get(key) ?? { value, zones: [] as string[], from: [] as string[], light };
    group.zones.push(value.zone);
    group.from.push(`findings/${id}`, ...zoneFields(record, value.zone));
    groups.set(key, group);
  }
  return [...groups.values()].map(({ value, zones, from, light }) =>
    sentence(findingInWords(plan, book, value, zones, light), from),
  );
}

function zoneFields(record: RecordCopy, zone: string) {
  return record.fields[`zones/${zone}`] ? [`zones/${zone}`] : [];
}

function lightWords(book: PlanBook, light: string) {
  return book.words.lights.find((one) => one.light === light)?.words ?? light.replaceAll("-", " ");
}

/** What happened to zones whose findings have not said it. */
function origins(plan: Plan, record: RecordCopy): Sentence[] {
  const order = plan.zones.flatMap(keysOf);
  const said = listed(record, "origins/").filter(({ value }) => value.origin);
  return Object.entries(ORIGIN_WORDS).flatMap(([origin, words]) => {
    const zones = said
      .filter(({ value }) => value.origin === origin)
      .sort((one, other) => order.indexOf(one.id) - order.indexOf(other.id));
    if (!zones.length) return [];
    const plain = zones.filter(({ value }) => !value.note?.trim()).map(({ id }) => id);
    const noted = zones.filter(({ value }) => value.note?.trim());
    return [
      ...(plain.length
        ? [
            sentence(
              `${placesInWords(plan, plain).replace(/^the /, "")}: ${words}`,
              plain.map((id) => `origins/${id}`),
            ),
          ]
        : []),
      ...noted.map(({ id, value }) =>
        sentence(`${placesInWords(plan, [id]).replace(/^the /, "")}: ${words}, ${value.note.trim()}`, [
          `origins/${id}`,
        ]),
      ),
    ];
  });
}

function functions(plan: Plan, book: PlanBook, record: RecordCopy): Sentence[] {
  return plan.tests.flatMap(({ test, said }) => {
    const done = fieldValue(record, `tests/${test}`);
    if (!done) return [];
    const name = test.replaceAll("-", " ");
    const note = done.note?.trim() ? `: ${done.note.trim()}` : "";
    const from = [`tests/${test}`];
    switch (done.result) {
      case "works":
        return [sentence((said ?? `${name}: worked when tried`) + note, from)];
      case "works-in-part":
        return [sentence(`tried: ${name}, which worked in part${note}`, from)];
      case "no-response":
        return [sentence(`tried: ${name}, with no response${note}`, from)];
      default: {
        const why = ` (${book.words.reasons.find(({ reason }) => reason === done.why)?.words.toLowerCase() ?? done.why})`;
        const light = book.words.lights.find((one) => one.light === test);
        return [sentence(light ? `${light.words} not used${why}` : `not tested: ${name}${why}`, from)];
      }
    }
  });
}

/** A denial holds only where the zone was examined and the fault was not found after all. */
export function standingDenials(record: RecordCopy) {
  const found = listed(record, "findings/")
    .map(({ value }) => value)
    .filter((value) => !value.withdrawn);
  return listed(record, "denials/").filter(({ value }) => {
    const state = fieldValue(record, `zones/${value.zone}`)?.state;
    return (
      !value.withdrawn &&
      (state === "clear" || state === "finding") &&
      !found.some((one) => one.zone === value.zone && one.term === value.term)
    );
  });
}

function denials(plan: Plan, book: PlanBook, record: RecordCopy): Sentence[] {
  const order = plan.zones.flatMap(keysOf);
  const vocabulary = book.vocabulary.terms.map(({ term }) => term);
  const standing = standingDenials(record).sort(
    (one, other) =>
      order.indexOf(one.value.zone) - order.indexOf(other.value.zone) ||
      vocabulary.indexOf(one.value.term) - vocabulary.indexOf(other.value.term) ||
      one.id.localeCompare(other.id),
  );
  /** Zone by zone the terms denied there in one light; then the zones of which the same is denied. */
  const byZone: Map<string, { zone: string; light: string; terms: string[]; from: string[] }> = new Map();
  for (const { id, value } of standing) {
    const says = book.vocabulary.terms.find((one) => one.term === value.term)?.says;
    const key = `${value.zone} ${value.light} ${Boolean(says)}`;
    const group = byZone.get(key) ?? {
      zone: value.zone,
      light: value.light,
      terms: [] as string[],
      from: [] as string[],
    };
    group.terms.push(value.term);
    group.from.push(`denials/${id}`, `zones/${value.zone}`);
    byZone.set(key, group);
  }
  const byTerms: Map<string, { terms: string[]; light: string; zones: string[]; from: string[] }> = new Map();
  for (const { zone, light, terms, from } of byZone.values()) {
    const key = `${terms.join()} ${light}`;
    const same = byTerms.get(key) ?? { terms, light, zones: [] as string[], from: [] as string[] };
    same.zones.push(zone);
    same.from.push(...from);
    byTerms.set(key, same);
  }
  const statements = listed(record, "statements/")
    .filter(({ value }) => !value.withdrawn)
    .sort((one, other) => one.id.localeCompare(other.id));
  return [
    ...[...byTerms.values()].map(({ terms, light, zones, from }) =>
      sentence(
        `${deniedInWords(book, terms, placesInWords(plan, zones))} (${lightWords(book, light)})`,
        from,
      ),
    ),
    ...statements.map(({ id, value }) => sentence(value.words, [`statements/${id}`])),
  ];
}

/** "No chip or crack seen on the rim"; "no sign seen of the dial being repainted". */
function deniedInWords(book: PlanBook, names: string[], places: string) {
  const terms = names.map(
    (name) =>
      book.vocabulary.terms.find((one) => one.term === name) ?? {
        says: null,
        noun: name.replaceAll("-", " "),
        term: name,
      },
  );
  const either = (words: string[]) =>
    words.length > 1 ? `${words.slice(0, -1).join(", ")} or ${words.at(-1)}` : words.join("");
  const says = terms.flatMap((term) => term.says ?? []);
  if (says.length) return `no sign seen of ${places} being ${either(says)}`;
  return `no ${either(terms.map(({ noun, term }) => noun ?? term.replaceAll("-", " ")))} seen on ${places}`;
}

function notExamined(plan: Plan, book: PlanBook, record: RecordCopy): Sentence[] {
  const steps = walk(plan, record);
  const skipped = steps.filter(
    ({ state }) => state?.state === "not-examined" && state.reason !== "not-applicable",
  );
  const reasons = [...new Set(skipped.map(({ state }) => state?.reason ?? ""))];
  const without = plan.zones.filter(
    (zone) =>
      zone.optional &&
      keysOf(zone).every((key) => fieldValue(record, `zones/${key}`)?.reason === "not-applicable"),
  );
  return [
    ...reasons.map((reason) => {
      const zones = skipped.filter(({ state }) => state?.reason === reason).map(({ key }) => key);
      const why = book.words.reasons.find((one) => one.reason === reason)?.words ?? reason;
      return sentence(
        `not examined: ${placesInWords(plan, zones)} (${why.charAt(0).toLowerCase() + why.slice(1)})`,
        zones.map((zone) => `zones/${zone}`),
      );
    }),
    ...(without.length
      ? [
          sentence(
            `without ${listInWords(without.map(({ zone }) => zone.replaceAll("-", " ")))}`,
            without.flatMap((zone) => keysOf(zone).map((key) => `zones/${key}`)),
          ),
        ]
      : []),
  ];
}

function holds(record: RecordCopy): Sentence[] {
  const active = listed(record, "findings/").filter(({ value }) => !value.withdrawn);
  const going = active.filter(({ value }) => value.activity === "P");
  const spreading = active.filter(({ value }) => value.activity === "Q");
  const standing = holdingCautions(record);
  const words = (some: Listed<FindingValue>[]) =>
    listInWords([...new Set(some.map(({ value }) => value.term.replaceAll("-", " ")))].sort());
  return [
    ...(going.length
      ? [
          sentence(
            `still going on: ${words(going)}`,
            going.map(({ id }) => `findings/${id}`),
          ),
        ]
      : []),
    ...(spreading.length
      ? [
          sentence(
            `held apart: ${words(spreading)}`,
            spreading.map(({ id }) => `findings/${id}`),
          ),
        ]
      : []),
    ...(standing.length
      ? [
          sentence(
            `held under ${countInWords(standing.length)} caution${standing.length > 1 ? "s" : ""}: not offered until cleared`,
            standing.map(({ id }) => `cautions/${id}`),
          ),
        ]
      : []),
  ];
}

function howExamined(book: PlanBook, record: RecordCopy): Sentence[] {
  const zones = listed(record, "zones/").filter(({ value }) => value.light && value.state !== "not-examined");
  const denied = standingDenials(record);
  const used = new Set([...zones, ...denied].map(({ value }) => value.light ?? ""));
  const order = book.words.lights.map(({ light }) => light);
  const lights = [...used].sort(
    (one, other) => order.indexOf(one) - order.indexOf(other) || one.localeCompare(other),
  );
  if (!lights.length) return [];
  return [
    sentence(`examined with ${listInWords(lights.map((light) => lightWords(book, light)))}`, [
      ...zones.map(({ id }) => `zones/${id}`),
      ...denied.map(({ id }) => `denials/${id}`),
    ]),
  ];
}
