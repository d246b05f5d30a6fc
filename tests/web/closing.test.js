/**
 * The closing of a day: on a day in order it names nothing, and what is amiss is named as what it is and nothing else.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { changedSince } from "../../web/job/changed_since.ts";
import { KINDS } from "../../web/job/closing_kinds.ts";
import { foundSince, namedIn, saidBeside, signedBeside } from "../../web/job/closing_reasons.ts";
import { differencesHere } from "./closing_here.js";

process.env.TZ = "UTC"; // the clock on the wall by which the cases were written
const CASES = JSON.parse(readFileSync(new URL("../../fixtures/closing.json", import.meta.url), "utf-8"));

/** A record as the cases write it: its values alone, by whoever `by` names, at `made_at`. */
function recordOf(
  { values, by, made_at, device_id, device_seq, between, ...head },
  before = { fields: {}, disagreements: [] },
) {
  const made = { operation_id: "", made_by: by ?? "hester", made_at: made_at ?? "" };
  const from = { device_id: device_id ?? "", ...(device_seq ? { device_seq } : {}) };
  const set = (value) => ({ value, ...made, ...from });
  const fields = { ...before.fields };
  for (const [name, value] of Object.entries(values ?? {}))
    if (value === null) delete fields[name];
    else fields[name] = set(value);
  const disagreements = (between ?? []).map(({ field, kept, other }) => ({
    disagreement_id: field,
    field,
    kept: set(kept),
    other: set(other),
    settled: null,
  }));
  return { ...before, ...head, fields, disagreements: [...before.disagreements, ...disagreements] };
}

/** The day in order with some changes, as its records. */
function dayWith(changes) {
  const records = new Map(CASES.in_order.map((record) => [record.record_id, recordOf(record)]));
  for (const change of changes)
    records.set(change.record_id, recordOf(change, records.get(change.record_id)));
  return [...records.values()];
}

test("a day in order has nothing to name", () => {
  assert.deepEqual(differencesHere({ ...CASES, records: dayWith([]) }), []);
});

for (const { says, changes, differences } of CASES.cases.filter((one) => !one.not_read_by_all))
  test(`the closing names ${says}`, () => {
    const found = differencesHere({ ...CASES, records: dayWith(changes) });
    assert.deepEqual(
      found.map((difference) => difference.slice(0, 3)),
      differences,
    );
  });

test("a day that is gone through in shares names each of its things and visits, and each once", () => {
  for (const count of [1, 7, 8, 9, 41]) {
    const ids = Array.from({ length: count }, (_, index) => `m${index}`);
    const more = ids.flatMap((id) => [
      { kind: "visit", record_id: `v-${id}`, day_id: "d", values: { ticket: id } },
      { kind: "item", record_id: `i-${id}`, day_id: "d", visit_id: `v-${id}`, values: {} },
    ]);
    const found = differencesHere({ ...CASES, records: dayWith(more) });
    const named = (kind) => found.flatMap(([of, , at]) => (of === kind ? [at] : []));
    assert.deepEqual(
      named("class"),
      ids.map((id) => `#/item/i-${id}`),
    );
    assert.deepEqual(
      named("visit"),
      ids.map((id) => `#/visit/v-${id}`),
    );
  }
});

/** The records as a device has them: told of what not everyone reads, whose words come last or not at all. */
function asRead(records, families, { isRead }) {
  const isHidden = ({ field }) => families.some((family) => field.startsWith(family));
  return records.map((record) => {
    const hidden = record.disagreements.filter(isHidden);
    const open = record.disagreements.filter((between) => !isHidden(between));
    const beside = hidden.map(({ disagreement_id, field }) => ({
      disagreement_id,
      family: families.find((family) => field.startsWith(family)),
    }));
    const disagreements = [...open, ...(isRead ? hidden.toReversed() : [])];
    return { ...record, disagreements, ...(beside.length && { contested_beside: beside }) };
  });
}

for (const { says, changes, differences, not_read_by_all } of CASES.cases.filter(
  (one) => one.not_read_by_all,
))
  for (const isRead of [true, false])
    test(`whoever reads ${isRead ? "all" : "no word"} of them names ${says}`, () => {
      const records = asRead(dayWith(changes), not_read_by_all, { isRead });
      const found = differencesHere({ ...CASES, records });
      assert.deepEqual(
        found.map((difference) => difference.slice(0, 3)),
        differences,
      );
    });

test("what was settled on this device, and the office has not heard of, is named no more", () => {
  const between = [{ field: "told_words", kept: "from an aunt", other: "from a sale" }];
  const records = asRead(dayWith([{ record_id: "vase", between }]), ["told_words"], { isRead: true });
  const settled = { choose: "kept", made_by: "hester", made_at: "", operation_id: "s" };
  const here = records.map((record) => ({
    ...record,
    disagreements: record.disagreements.map((one) => ({ ...one, settled })),
  }));
  assert.equal(differencesHere({ ...CASES, records }).length, 1);
  assert.deepEqual(differencesHere({ ...CASES, records: here }), []);
});

for (const { says, changes, changed } of CASES.changed)
  test(`after the closing it names ${says}`, () => {
    const records = dayWith(changes);
    const of = (kind) => records.filter((record) => record.kind === kind);
    const found = changedSince({
      day: of("day")[0],
      visits: of("visit"),
      items: of("item"),
      containers: of("container"),
    });
    assert.deepEqual(
      found.map(({ key, words, at }) => [key, words, at]),
      changed,
    );
  });

for (const { says, changes, beside, signed } of CASES.gave_way)
  test(`a day that is closed tells ${says}`, () => {
    const day = dayWith(changes).find(({ kind }) => kind === "day");
    const { value: closed } = day.fields.closed;
    assert.deepEqual(Object.fromEntries(saidBeside(day, namedIn(day, closed))), beside);
    assert.deepEqual(signedBeside(day, closed), signed);
  });

test("what was said of tables of one name is not said of another one that gets it, nor of another name", () => {
  const called = (...names) => {
    const tables = names.map((name, index) => [`tables/t${index + 7}`, { name, gone: false }]);
    const records = dayWith([{ record_id: "d", values: Object.fromEntries(tables) }]);
    const found = differencesHere({ ...CASES, records });
    return found.flatMap(([kind, , , key]) => (kind === "one-table" ? [key] : []));
  };
  const [two, three, other] = [
    called("Hall", "hall"),
    called("Hall", "hall", "Hall"),
    called("Door", "door"),
  ];
  assert.deepEqual([two.length, three.length, other.length], [1, 1, 1]);
  assert.equal(new Set([...two, ...three, ...other]).size, 3);
  assert.deepEqual(called("Hall", "hall", "Other"), two);
});

for (const { says, kind, changes, then } of CASES.renamed)
  test(`by what it is of, and not by names, is known ${says}`, () => {
    const ofKind = (records) => {
      const found = differencesHere({ ...CASES, records }).filter(([of]) => of === kind);
      assert.equal(found.length, 1);
      const [, words, at, key, former] = found[0];
      return { kind, words, at, key, former };
    };
    const [before, after] = [ofKind(dayWith(changes)), ofKind(dayWith([...changes, ...then]))];
    assert.notEqual(after.words, before.words);
    assert.equal(after.key, before.key);
    const signed = (key) => [{ key, words: before.words, reason: "It is known", said_by: "" }];
    assert.deepEqual(foundSince([after], signed(before.key)), []);
    assert.deepEqual(foundSince([before], signed(before.former)), []);
  });

test("every kind of difference comes about in some case", () => {
  const kinds = new Set(CASES.cases.flatMap(({ differences }) => differences.map(([kind]) => kind)));
  assert.deepEqual(kinds, new Set(KINDS.map(([kind]) => kind)));
});
