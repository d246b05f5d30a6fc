/** Dates in words against published readings and the house's own, and against what must hold for any words. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { DATE_CONVENTIONS, dateOf, readDate } from "../../web/job/dates.ts";
import { chance } from "./chance.js";
import { isEdtf } from "./edtf.js";

const { groups, problems, made, not_made, edtf } = JSON.parse(
  readFileSync(new URL("../../fixtures/dates.json", import.meta.url), "utf-8"),
);
const CENTURIES = ["5th century BC", "1st century AD", "12th century", "19th century", "20th century"];

const houseOf = (group) => ({ ...DATE_CONVENTIONS, ...group.conventions });
const everyCase = groups.flatMap((group) => group.cases.map((one) => ({ ...one, house: houseOf(group) })));
const earliest = ({ date }) => date.earliest ?? -Infinity;
const latest = ({ date }) => date.latest ?? Infinity;
const inside = (inner, outer) => earliest(inner) >= earliest(outer) && latest(inner) <= latest(outer);

for (const group of groups) {
  for (const { words, ...expected } of group.cases) {
    test(`${group.name}: ${words}`, () => {
      const { date, problem } = readDate(words, houseOf(group));
      assert.equal(problem, undefined);
      assert.deepEqual(date, {
        words,
        earliest: expected.earliest,
        latest: expected.latest,
        edtf: expected.edtf,
      });
    });
  }
}

for (const { words, says } of problems.cases) {
  test(`no date, and why: "${words}"`, () => {
    const { date, problem } = readDate(words);
    assert.equal(date, undefined);
    assert.ok(problem.includes(says), problem);
    assert.match(problem, /write|give/i);
  });
}

for (const { typed, words } of made.cases) {
  test(`years and switches in words: ${words}`, () => {
    const { date } = dateOf(typed);
    assert.equal(date.words, words);
    assert.deepEqual(readDate(words), { date });
  });
}

test("years that make no date are a problem with words", () => {
  for (const typed of not_made.cases)
    assert.equal(typeof dateOf(typed).problem, "string", JSON.stringify(typed));
});

test("any two years in order, with either switch, keep the years and read back the same", () => {
  const years = [-2990, -500, -43, 0, 1, 9, 99, 100, 760, 999, 1000, 1500, 1868, 1869, 1900, 2000, 2090];
  for (const from of years) {
    for (const to of years.filter((year) => year >= from)) {
      for (const about of [false, true]) {
        for (const probably of [false, true]) {
          const { date, problem } = dateOf({ from, to, about, probably });
          assert.ok(date, problem);
          const margin = about ? DATE_CONVENTIONS.circa : 0;
          assert.deepEqual([date.earliest, date.latest], [from - margin, to + margin], date.words);
          assert.deepEqual(readDate(date.words), { date });
        }
      }
    }
  }
});

test("the earliest year is never after the latest, the words are as typed, the EDTF is well formed", () => {
  for (const { words, house } of everyCase) {
    const typed = `  ${words.toUpperCase()} `;
    const read = readDate(typed, house);
    assert.ok(read.date, read.problem);
    assert.ok(earliest(read) <= latest(read));
    assert.equal(read.date.words, typed);
    assert.ok(isEdtf(read.date.edtf), read.date.edtf);
  }
});

test("circa, probably and a question mark never narrow", () => {
  for (const { words, house } of everyCase.filter((one) => one.edtf !== "XXXX")) {
    const read = readDate(words, house);
    for (const more of [`circa ${words}`, `probably ${words}`, `possibly circa ${words}`, `${words}?`]) {
      const wider = readDate(more, house);
      assert.ok(wider.date, `${more}: ${wider.problem}`);
      assert.ok(inside(read, wider), more);
      assert.ok(isEdtf(wider.date.edtf), wider.date.edtf);
    }
  }
});

test("early, mid and late lie inside their century or decade, in that order; halves and quarters lie inside and fill it", () => {
  for (const house of [DATE_CONVENTIONS, ...groups.map(houseOf)]) {
    for (const whole of [...CENTURIES, "1920s", "490s BC"]) {
      const outer = readDate(whole, house);
      const parts = ["early", "mid", "late"].map((part) => readDate(`${part} ${whole}`, house));
      for (const part of parts) assert.ok(inside(part, outer), part.date.words);
      assert.ok(latest(parts[0]) < earliest(parts[1]) && latest(parts[1]) < earliest(parts[2]), whole);
    }
    for (const whole of CENTURIES) {
      const outer = readDate(whole, house);
      for (const names of [
        ["first half", "second half"],
        ["first quarter", "second quarter", "third quarter", "fourth quarter"],
      ]) {
        const parts = names.map((name) => readDate(`${name} of the ${whole}`, house));
        assert.equal(earliest(parts[0]), earliest(outer));
        assert.equal(latest(parts.at(-1)), latest(outer));
        for (const [index, part] of parts.slice(1).entries())
          assert.equal(earliest(part), latest(parts[index]) + 1);
      }
    }
  }
});

test("anything at all is a date or a problem, soon", () => {
  const bits = [
    "circa",
    "probably",
    "1840",
    "19th century",
    "-",
    "/",
    " or ",
    "?",
    "(",
    "before",
    "BC",
    "early",
    "1920s",
    "to",
    "+",
    "'",
    "٣",
    "between",
    "and",
    "9",
  ];
  const below = chance(20260314);
  for (let round = 0; round < 4000; round += 1) {
    const words = Array.from({ length: 1 + below(8) }, () => bits[below(bits.length)]).join(
      below(2) ? " " : "",
    );
    const read = readDate(words);
    if (read.date)
      assert.ok(earliest(read) <= latest(read) && isEdtf(read.date.edtf), `${words}: ${read.date.edtf}`);
    else assert.ok(read.problem.length > 0);
  }
  for (const words of ["? ".repeat(5000), "1-or ".repeat(5000), "circa".repeat(5000)])
    assert.ok(readDate(words).problem);
});

test("a month has the days that the language's own calendar gives it", () => {
  // Source: ECMA-262, whose calendar is the proleptic Gregorian one.
  const months = "January February March April May June July August September October November December";
  for (const year of [1900, 1999, 2000, 2024]) {
    for (const [index, month] of months.split(" ").entries()) {
      const days = new Date(Date.UTC(year, index + 1, 0)).getUTCDate();
      assert.ok(readDate(`${days} ${month} ${year}`).date, `${days} ${month} ${year}`);
      assert.ok(readDate(`${days + 1} ${month} ${year}`).problem, `${days + 1} ${month} ${year}`);
    }
  }
});

test("EDTF of our forms is accepted, and what is no EDTF is refused", () => {
  for (const text of edtf.accepted) assert.ok(isEdtf(text), text);
  for (const text of edtf.refused) assert.ok(!isEdtf(text), text);
});
