/**
 * A day is set up as the office takes it, and no text is typed whose length nobody has asked the office's models for.
 */
import assert from "node:assert/strict";
import { globSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { dayAfter, isDue } from "../../web/job/day_facts.ts";
import { formAfter, peopleAgain, wrongWithCurrency, wrongWithDay } from "../../web/job/day_form.ts";
import { longestText } from "../../web/job/kinds_read.ts";

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
  const fields = Object.fromEntries(Object.entries(values).map(([name, value]) => [name, { value }]));
  const head = { kind: "day", record_id, house: "Quillfeather", place: "Old mill", currency: "EUR" };
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
    dayOn("c", "2026-03-14"),
    dayOn("d", "2026-03-15"),
    dayOn("e", "2026-03-14", CLOSED),
  ];
  const today = "2026-03-14";
  assert.equal(dayAfter(day, [before, day, over, next], today), next);
  assert.equal(dayAfter(day, [next, same, day], today), same);
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
