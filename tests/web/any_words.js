/** Records for the tests of what is printed: as written by hand, and by chance over every class. */
import { keysOf } from "../../web/job/progress.ts";

/** A record of values by their fields' names. */
export function recordOf(values) {
  const fields = Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, { value, made_at: "" }]),
  );
  return { fields, disagreements: [] };
}

const BLANK_FINDING = {
  side: null,
  severity: 1,
  extent_mm: null,
  extent_mm_across: null,
  extent_percent: null,
  extent_count: null,
  extent_words: null,
  activity: "n",
  certainty: "certain",
  origin: null,
  note: "",
  withdrawn: false,
};

/** A finding of which only what matters is said. */
export function finding(said) {
  return { ...BLANK_FINDING, ...said };
}

export function clear(light = "lamp", count = null) {
  return { state: "clear", reason: null, light, count };
}

function skipped(reason) {
  return { state: "not-examined", reason, light: null, count: null };
}

/**
 * The values of a record written short: every zone of the plan is clear in `light`, but for those named. A name stands
 * for all members of its zone.
 */
export function written(plan, short) {
  const {
    light = "lamp",
    lights = {},
    counts = {},
    not_examined = {},
    not_there = [],
    untouched = [],
  } = short;
  const values = { ...short.facts };
  for (const zone of plan.zones)
    for (const key of keysOf(zone)) {
      if (untouched.includes(zone.zone) || untouched.includes(key)) continue;
      const reason = not_there.includes(zone.zone)
        ? "not-applicable"
        : (not_examined[key] ?? not_examined[zone.zone]);
      values[`zones/${key}`] = reason
        ? skipped(reason)
        : clear(lights[key] ?? lights[zone.zone] ?? light, counts[zone.zone] ?? null);
    }
  for (const [number, said] of Object.entries(short.findings ?? [])) {
    values[`findings/${number}`] = finding(said);
    const state = values[`zones/${said.zone}`];
    if (state?.state === "clear") values[`zones/${said.zone}`] = { ...state, state: "finding" };
  }
  for (const [zone, term, with_light] of short.denials ?? [])
    values[`denials/${zone}/${term}`] = { zone, term, light: with_light, withdrawn: false };
  for (const [zone, [origin, note]] of Object.entries(short.origins ?? {}))
    values[`origins/${zone}`] = { origin, note };
  for (const [name, [result, why, note]] of Object.entries(short.tests ?? {}))
    values[`tests/${name}`] = { result, why, note };
  for (const [name, words] of Object.entries(short.statements ?? {}))
    values[`statements/${name}`] = { words, withdrawn: false };
  return values;
}

/**
 * A record of any class by a seeded generator: states, findings and denials that may contradict each other, origins,
 * tests, statements, marks and measures. `below(n)` gives a whole number below n.
 */
export function anyRecord(book, plan, below) {
  const one = (list) => list[below(list.length)];
  const rarely = (value) => (below(8) === 0 ? value : null);
  const lights = book.words.lights.map(({ light }) => light);
  const terms = book.vocabulary.terms;
  const values = { short_description: "thing", told_words: "SECRET told" };
  const keys = plan.zones.flatMap(keysOf);
  for (const key of keys) {
    if (rarely(true)) continue;
    const reason = rarely(one(book.words.reasons).reason);
    values[`zones/${key}`] = reason ? skipped(reason) : clear(one(lights), rarely(2 + below(5)));
  }
  for (let number = 0, all = below(9); number < all; number += 1) {
    const usual = one(plan.zones).usual;
    const zone = one(keys);
    const term = below(2) ? one(terms) : (terms.find(({ term }) => term === one(usual)) ?? one(terms));
    const across = term.extents.includes("mm2") && below(2) ? 2 + below(9) : null;
    values[`findings/${number}`] = finding({
      zone,
      term: term.term,
      side: rarely("centre"),
      severity: below(5),
      extent_mm: across || below(3) === 0 ? 1 + below(400) : null,
      extent_mm_across: across,
      extent_percent: rarely(below(3) ? 30 : 100),
      extent_count: below(3) === 0 ? 1 + below(14) : null,
      extent_words: rarely("traces"),
      activity: one(["n", "w", "P"]),
      certainty: one(["certain", "certain", "probable", "possible", "not-determined", "told"]),
      origin: rarely(one(["replaced", "repaired", "original-probably"])),
      light: rarely(one(lights)),
      note: rarely("noted") ?? "",
      withdrawn: below(8) === 0,
    });
    if (values[`zones/${zone}`]?.state === "clear")
      values[`zones/${zone}`] = { ...values[`zones/${zone}`], state: "finding" };
  }
  const found = Object.entries(values).filter(([name]) => name.startsWith("findings/"));
  for (let number = 0, all = below(7); number < all; number += 1) {
    const beside = found.length && below(2) ? one(found)[1] : { zone: one(keys), term: one(terms).term };
    const covering = terms.find(({ covers }) => covers.includes(beside.term))?.term;
    const term = below(2) ? beside.term : (covering ?? one(terms).term);
    values[`denials/${beside.zone}/${term}`] = {
      zone: beside.zone,
      term,
      light: one(lights),
      withdrawn: below(8) === 0,
    };
    values[`origins/${one(keys)}`] = {
      origin: one(["replaced", "original-probably", "restored", null]),
      note: "",
    };
  }
  for (const { test } of plan.tests)
    if (below(2))
      values[`tests/${test}`] = {
        result: one(["works", "works-in-part", "no-response", "not-done"]),
        why: one(["no-time", "nothing-seen"]),
        note: rarely("heard") ?? "",
      };
  for (const { negative, zones, words } of plan.negatives)
    if (!zones.length && below(2)) values[`statements/${negative}`] = { words, withdrawn: false };
  for (const { measure, unit, bases } of plan.measures)
    if (below(2))
      values[`measures/${measure}`] = {
        value: 1 + below(900),
        unit,
        typed: "",
        ...(bases.length && below(2) ? { basis: one(bases) } : {}),
      };
  values["marks/0"] = {
    place: "base",
    technique: one(["printed", "label", null]),
    colour: "",
    completeness: one(["complete", "worn", "illegible"]),
    text: "ABC\nDEF",
    reading: "",
    withdrawn: below(4) === 0,
    ...(below(2) ? { standing: one(["makers-own", "borne", "not-relied-on"]) } : {}),
  };
  if (below(4) === 0)
    values["cautions/0"] = {
      hazard: one([...plan.hazards, "H90"]),
      level: one(["amber", "note"]),
      sign: "a sign",
      zone: below(3) ? one(keys) : null,
      called: "",
      place: "",
    };
  if (below(4) === 0)
    values["check-in"] = { state: "differs", words: one(["a new dent", ""]), second_by: "SECRET second" };
  if (below(4) === 0) values.concluded_words = one(["Part of a set.", "All of it belongs"]);
  return values;
}
