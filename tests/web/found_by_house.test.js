/** What the house found of a thing since its owner left it stands on what they sign as they fetch it. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { foundByHouse, foundInWords } from "../../web/job/found_by_house.ts";
import { lineOfReturned } from "../../web/job/receipt.ts";
import { besideSince } from "../../web/job/receipt_changes.ts";
import { record, tag } from "./made.js";

const file = new URL("../../fixtures/found-by-house.json", import.meta.url);
const { people, cases } = JSON.parse(readFileSync(file, "utf-8"));

const set = ([value, made_by, made_at]) => ({ value, operation_id: "", made_by, made_at, device_id: "" });
const setAll = (values) =>
  Object.fromEntries(Object.entries(values).map(([name, said]) => [name, set(said)]));

function made(values, noted) {
  const item = record("item", "set", {
    short_description: "dinner service",
    "tags/00002Y": tag("00002Y", { gone: "taken-back" }),
  });
  const names = Object.entries(people).map(([id, name]) => [`people/${id}`, { name }]);
  const day = record("day", "d", Object.fromEntries(names));
  return {
    item: { ...item, fields: { ...item.fields, ...setAll(values) } },
    day: { ...day, fields: { ...day.fields, ...setAll(noted) } },
  };
}

for (const { is, item: values, day: noted, missing, line } of cases)
  test(`what is signed for as a thing is fetched: ${is}`, () => {
    const { item, day } = made(values, noted);
    const found = foundByHouse(item, day);
    assert.equal(found.missing, missing);
    assert.equal(lineOfReturned(item, new Set(), found).words, line);
  });

const LONG = "a long crack from the rim to the foot ".repeat(12).trim();

test("what was found is told before any fault, and its words are cut where there is no room for them", () => {
  const [value, ...who] = cases.find(({ is }) => is.startsWith("one short, as it")).item["check-in"];
  const chips = Array.from({ length: 9 }, (_, index) => [
    `findings/${index}`,
    [{ zone: `rim/part ${index}`, term: "chip", severity: 4, withdrawn: false }, ...who],
  ]);
  const long = { ...value, words: LONG };
  const { item, day } = made({ "check-in": [long, ...who], ...Object.fromEntries(chips) }, {});
  const { words } = lineOfReturned(item, new Set(), foundByHouse(item, day));
  assert.match(words, /^dinner service; a long crack .+ …: found by the house on .+Stout\)(; |$)/);
  assert.ok(words.length <= 400, words);
});

test("however much was found, and by whomever, it fits beside the longest name", () => {
  const who = "Wilhelmina Featherstonehaugh ".repeat(7);
  const check = { state: "differs", words: LONG, second_by: who };
  const damage = (index) => [
    `differences/${index}`,
    [{ difference: "new-damage", thing_id: "set", words: LONG }, "bram", `2026-03-16T10:0${index}:00.000Z`],
  ];
  for (const count of [0, 1, 2, 3, 9]) {
    const noted = Object.fromEntries(Array.from({ length: count }, (_, index) => damage(index)));
    const at = "2026-03-15T10:00:00.000Z";
    const named = [`${"a vase of some length ".repeat(20)}`, "bram", at];
    const values = { short_description: named, pieces: [300, "ana", ""], "check-in": [check, "ana", at] };
    const { item, day } = made(values, noted);
    const { words } = lineOfReturned(item, new Set(), foundByHouse(item, day));
    assert.ok(words.length <= 400, words);
    assert.match(
      words,
      /; 300 pieces; (not as it was recorded|a long.*): found by the house on 15 March 2026/,
    );
    if (count > 2) assert.match(words, /; more was found by the house$/);
  }
});

test("of pieces with a number each those went that were given back by it, whatever is missing", () => {
  const one = cases.find(({ is }) => is.startsWith("pieces by their numbers"));
  const { item, day } = made(one.item, one.day);
  const back = (piece, number) => tag(number, { piece, of: 3, gone: "taken-back" });
  const numbers = { "tags/00002Y": back(1, "00002Y"), "tags/00003W": back(2, "00003W") };
  const three = { ...item.fields, ...record("item", "set", numbers).fields };
  const stays = record("item", "set", { "tags/00004V": tag("00004V", { piece: 3, of: 3 }) }).fields;
  const line = lineOfReturned(
    { ...item, fields: { ...three, ...stays } },
    new Set(),
    foundByHouse(item, day),
  );
  assert.match(line.words, /^dinner service; 2 of 3 pieces; 2 pieces missing: /);
  assert.deepEqual(line.tags, ["00002Y", "00003W"]);
});

test("who reads what they signed before it was found is told what was found since, and of nothing from before", () => {
  const { item, day } = made(...["item", "day"].map((of) => cases[2][of]));
  const here = { ...item.fields, ...record("item", "set", { "tags/00002Y": tag("00002Y") }).fields };
  const line = { item_id: "set", tags: ["00002Y"], words: "dinner service; 72 pieces" };
  const signed = (made_at) => ({ id: "r", made_at, device_id: "p", lines: [line] });
  const words = (made_at) => besideSince(signed(made_at), [{ ...item, fields: here }], day);
  const found = foundInWords(foundByHouse(item, day));
  assert.deepEqual(
    words("2026-03-14T12:00:00.000Z").map((one) => one.words),
    found,
  );
  assert.deepEqual(words("2026-03-16T12:00:00.000Z"), []);
});
