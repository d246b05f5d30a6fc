/**
 * A day is set up as the office takes it, and no text is typed whose length nobody has asked the office's models for.
 */
import assert from "node:assert/strict";
import { globSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { formAfter, peopleAgain, wrongWithCurrency, wrongWithDay } from "../../web/job/day_form.ts";
import { longestText } from "../../web/job/kinds_read.ts";
import { dayAfter, dayWordsApart, doublesOf, isDue, whoSetUp } from "../../web/job/next_day.ts";

const GOOD = {
  house: "Quillfeather",
  place: "Old mill",
  held_on: "2026-03-14",
  currency: "gbp",
  tables: "3",
  people: "nobody",
};

test("what the office would refuse is said in the form", () => {
  assert.equal(wrongWithDay({ ...GOOD, house: "x".repeat(400) }), "");
  for (const tables of ["1", "3", "30"]) assert.equal(wrongWithDay({ ...GOOD, tables }), "");
  for (const [wrong, said] of [
    [{ house: " " }, "The house is missing."],
    [{ house: "x".repeat(401) }, "The house has more than 400 letters: make it shorter."],
    [{ place: "" }, "The place is missing."],
    [{ held_on: "" }, "The date is missing."],
    [{ tables: "0" }, "A day has 1 to 30 tables."],
    [{ tables: "31" }, "A day has 1 to 30 tables."],
    [{ currency: "XXY" }, "XXY is no currency: three letters such as GBP, EUR or USD."],
    [{ currency: "" }, "The currency is missing: three letters such as GBP, EUR or USD."],
  ])
    assert.equal(wrongWithDay({ ...GOOD, ...wrong }), said);
});

const person = (name, left = false) => ({ person_id: name, name, roles: ["valuer"], left });
function dayOn(record_id, held_on, values = {}) {
  const tables = ["Table 1", "Table 2"].map((name) => ({ table_id: name, name }));
  const fields = Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, { value, made_at: `${held_on}T17:00:00.000Z` }]),
  );
  const head = {
    opened_at: "2026-03-01T08:00:00.000Z",
    kind: "day",
    record_id,
    house: "Quillfeather",
    place: "Old mill",
    currency: "EUR",
  };
  return { ...head, held_on, tables, fields };
}

test("another day begins as the one before it was, with its people", () => {
  const ada = { "people/ada": person("ada"), "people/bo": person("bo", true) };
  const before = dayOn("d", "2026-03-14", ada);
  const as = { house: "Quillfeather", place: "Old mill", currency: "EUR", tables: "2", people: "again" };
  assert.deepEqual(formAfter(before, "2026-03-14"), { ...as, held_on: "2026-03-15" });
  assert.deepEqual(formAfter(before, "2026-04-01"), { ...as, held_on: "2026-04-01" });
  assert.equal(formAfter(dayOn("d", "2026-02-28"), "2026-02-27").held_on, "2026-03-01");
  assert.deepEqual(peopleAgain(before), [person("ada")]);
  assert.deepEqual([formAfter(undefined, "2026-03-14").people, peopleAgain(undefined)], ["nobody", []]);
});

const CLOSED = { closed: { closed_by: "ada" } };

test("from a closed day the work goes on with the first open one that is held then or later", () => {
  const [before, day] = [dayOn("a", "2026-03-13"), dayOn("b", "2026-03-14", CLOSED)];
  const [same, next, over] = [
    { ...dayOn("c", "2026-03-14"), opened_at: "2026-03-14T17:30:00.000Z" },
    dayOn("d", "2026-03-15"),
    dayOn("e", "2026-03-14", CLOSED),
  ];
  const today = "2026-03-14";
  assert.equal(dayAfter(day, [before, day, over, next], today), next);
  assert.equal(dayAfter(day, [next, same, day], today), same, "set up after the closing");
  assert.equal(dayAfter(day, [before, day, over], today), undefined);
  assert.ok(isDue(next, day, today));
});

test("from a day that nobody closed the work goes on too, by the date with today's first", () => {
  const [own, second, third] = ["14", "15", "16"].map((date) => dayOn(date, `2026-03-${date}`));
  const days = [third, own, second];
  const from = (day, today) => dayAfter(day, days, `2026-03-${today}`);
  assert.equal(from(own, "14"), second);
  assert.ok(!isDue(second, own, "2026-03-14"), "tomorrow's is offered, and no next step");
  assert.equal(from(own, "15"), second);
  assert.ok(isDue(second, own, "2026-03-15"));
  assert.equal(from(own, "16"), third);
  assert.equal(from(own, "20"), third, "of those that are over the last");
  assert.equal(from(second, "14"), own, "whoever went on too early is led back");
  assert.equal(from(third, "14"), own);
  assert.equal(from(third, "13"), undefined);
  const closed = dayOn("18", "2026-03-18", CLOSED);
  assert.equal(dayAfter(own, [own, closed], "2026-03-14"), undefined, "nobody works on a closed one");
});

test("of two days set up out of each other's reach all are led to one, until it is let go", () => {
  const at = (day, hour) => ({ ...day, opened_at: `2026-03-14T${hour}:00:00.000Z`, opened_by: "ada" });
  const today = "2026-03-15";
  const own = at(dayOn("own", "2026-03-14"), "08");
  const first = at(dayOn("f", "2026-03-15", { "people/ada": person("ada") }), "18");
  const second = at(dayOn("s", "2026-03-15"), "19");
  const elsewhere = { ...at(dayOn("e", "2026-03-15"), "20"), place: "Corn hall" };
  const days = [second, own, elsewhere, first];
  assert.deepEqual([doublesOf(first, days), doublesOf(second, days)], [[second], [first]]);
  assert.deepEqual(doublesOf(elsewhere, days), []);
  assert.equal(dayAfter(own, [second, own, first], today), first);
  const words = dayWordsApart(first, days, (instant) => instant.slice(11, 16));
  assert.equal(words, "15 March 2026: Quillfeather, Old mill, set up by ada, 18:00");
  assert.equal(dayWordsApart(elsewhere, days, String), "15 March 2026: Quillfeather, Corn hall");

  const gone = { ...first, fields: { ...first.fields, let_go: { value: "the other goes on" } } };
  assert.equal(dayAfter(own, [second, own, gone], today), second);
  assert.deepEqual([doublesOf(gone, [second, gone]), doublesOf(second, [second, gone])], [[], []]);
  assert.equal(dayAfter(gone, [second, own, gone], today), second, "whoever was on it is led on");
  assert.ok(isDue(second, gone, "2026-03-14"));

  const dayAfterIt = at(dayOn("a", "2026-03-16"), "08");
  for (const later of ["2026-03-16", "2026-03-17"])
    assert.equal(
      dayAfter(gone, [dayAfterIt, second, gone], later),
      second,
      "in its place, though that is over",
    );
  assert.equal(
    dayAfter(gone, [dayAfterIt, elsewhere, gone], "2026-03-16"),
    dayAfterIt,
    "nothing is in its place",
  );

  const closed = { closed: { value: { closed_by: "ada" }, made_at: "2026-03-15T18:00:00.000Z" } };
  const worked = { ...second, fields: closed };
  const next = at(dayOn("n", "2026-03-16"), "21");
  assert.equal(dayAfter(worked, [first, worked, next], today), next, "never to the empty double");
  const secondPart = { ...first, opened_at: "2026-03-15T19:00:00.000Z" };
  assert.equal(dayAfter(worked, [secondPart, worked, next], today), secondPart, "set up after the closing");
});

test("nobody is led from an open day to another hall's of the same date, and who set up a day may be all that is known", () => {
  const [own, elsewhere] = [dayOn("o", "2026-03-14"), { ...dayOn("e", "2026-03-14"), place: "Corn hall" }];
  assert.equal(dayAfter(own, [elsewhere, own], "2026-03-14"), undefined);
  assert.equal(
    dayAfter({ ...own, fields: dayOn("o", "2026-03-14", CLOSED).fields }, [elsewhere], ""),
    elsewhere,
  );
  const of = {
    ...own,
    opened_at: undefined,
    opened_by: "ada",
    fields: { "people/ada": { value: person("ada") } },
  };
  assert.equal(whoSetUp(of, String), "set up by ada");
});

// ISO 4217:2015 lists these for funds, metals, tests and "no currency"; money of a day comes in none without a coin.
test("a code is a currency's if money comes in it", () => {
  for (const code of ["GBP", "EUR", "USD", "JPY", "chf"]) assert.equal(wrongWithCurrency(code), "");
  for (const code of ["XAU", "XTS", "XXX", "GB", "POUND"]) assert.notEqual(wrongWithCurrency(code), "");
});

test("a person's name is as long as the office takes it", () => {
  assert.equal(longestText("add_person.person.name"), 400);
});

/** Fields whose text becomes no member of an operation: it is looked for, or read as a number or a code. */
const NO_OPERATION = {
  "parts/caution_signs.tsx": ["sign-words"],
  "parts/tag_entry.tsx": ["tag"],
  "screens/pairing/pair.tsx": ["code"],
  "screens/custody/porter_keyed.tsx": ["porter-tag"],
  "screens/examination/finding.tsx": ["term-words"],
  "screens/cataloguing/queue_search.tsx": ["{WORDS}"],
  "screens/cataloguing/filters_saved.tsx": ["{NAME}"],
  "screens/office/devices_new.tsx": ["device-name"], // goes to a route of its own, which says its own length
  "screens/office/copies.tsx": ["copy-folder"],
  "screens/office/copy_key.tsx": ["key-signs"],
};
const WEB = new URL("../../web/", import.meta.url);

/** The tags of this name in a file of screens, whole, whatever stands in their braces. */
function tagsIn(source) {
  return [...source.matchAll(/<(input|textarea)\b/g)].map(({ index }) => {
    let depth = 0;
    for (let end = index; ; end++) {
      if (source[end] === "{") depth += 1;
      else if (source[end] === "}") depth -= 1;
      else if (source[end] === ">" && depth === 0) return source.slice(index, end);
    }
  });
}

test("every text that is typed has a model that says how long it may be", () => {
  const files = globSync(["parts/**/*.tsx", "screens/**/*.tsx"], { cwd: WEB });
  assert.ok(files.length > 100);
  for (const file of files) {
    if (file === "parts/controls.tsx") continue; // the control itself, which asks the table of kinds
    for (const tag of tagsIn(readFileSync(new URL(file, WEB), "utf-8"))) {
      const free = (NO_OPERATION[file] ?? []).some((name) => tag.includes(name));
      const limited = tag.includes('type="file"') || tag.includes("maxLength={longestText(");
      assert.ok(
        free || limited,
        `${file}: use <Typed into="kind.member">, or say with longestText() what may be typed here: ${tag}`,
      );
    }
  }
});
