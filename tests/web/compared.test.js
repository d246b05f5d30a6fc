/** What was compared as it was unpacked goes by number: one that lay elsewhere was not before anybody. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { differsBy } from "../../web/job/closing_items.ts";
import {
  checkOf,
  checksOf,
  lackingIn,
  leftToCompare,
  notCompared,
  numbersToName,
} from "../../web/job/compared.ts";
import { piecesHere } from "../../web/job/contents.ts";
import { isNotCome } from "../../web/job/not_come.ts";
import { checkInSentences } from "../../web/job/paragraph.ts";

const { cases } = JSON.parse(readFileSync(new URL("../../fixtures/compared.json", import.meta.url), "utf8"));
const TAGS = ["00002Y", "00003W", "00004V"];
const [CLOCK, PENDULUM] = TAGS;
const at = (hour) => `2026-03-14T${String(hour).padStart(2, "0")}:00:00.000Z`;
const set = (value, hour = 1) => ({ value, operation_id: "", made_by: "", made_at: at(hour), device_id: "" });
const tied = ([piece, of, mark, gone], index) => [
  `tags/${TAGS[index]}`,
  set({ tag: TAGS[index], piece, of, mark, gone, replaced_by: null, parts: true }, 2),
];
const thing = (fields) => ({ kind: "item", record_id: "i", disagreements: [], fields });

function itemOf({ numbers, checks, moved = [] }) {
  return thing({
    short_description: set("mantel clock"),
    ...Object.fromEntries(numbers.map(tied)),
    ...Object.fromEntries(
      checks.map(([number, state, hour, words]) => [
        number === null ? "check-in" : `check-in/${TAGS[number]}`,
        set({ state, words, second_by: "Bo" }, hour),
      ]),
    ),
    ...Object.fromEntries(
      moved.map(([number, hour]) => [
        `whereabouts/${TAGS[number]}`,
        set({ move_id: "m", from_place: null, to_place: "store", at: "", tag: TAGS[number] }, hour),
      ]),
    ),
  });
}

for (const each of cases)
  test(`what is compared goes by number as the office has it: ${each.says}`, () => {
    const item = itemOf(each);
    const stands = checksOf(item).map(({ set }) =>
      each.checks.findIndex(([, , hour]) => at(hour) === set.made_at),
    );
    assert.deepEqual(stands.sort(), each.stands);
    assert.deepEqual(
      notCompared(item),
      each.left.map((place) => TAGS[place] ?? ""),
    );
    assert.equal(differsBy(item)?.state ?? null, each.differs);
    assert.equal(isNotCome(item), each.not_come);
  });

const crate = (record_id, place = "store") => ({
  kind: "container",
  record_id,
  number: "00005T",
  kind_of: "crate",
  disagreements: [],
  fields: { whereabouts: set({ move_id: "m", from_place: null, to_place: place, at: "" }) },
});
const [FIRST, OTHER] = [crate("first"), crate("other")];
const byId = new Map([FIRST, OTHER].map((one) => [one.record_id, one]));
const NUMBERS = Object.fromEntries(
  [
    [1, 2, "", null],
    [2, 2, "the pendulum", null],
  ].map(tied),
);
const apart = (more) =>
  thing({
    ...NUMBERS,
    [`inside/${CLOCK}`]: set({ container_id: "first" }, 3),
    [`inside/${PENDULUM}`]: set({ container_id: "other" }, 3),
    ...more,
  });

test("each container asks of what lies in it, and of all of a thing only where all of it lies", () => {
  const compared = apart({ [`check-in/${PENDULUM}`]: set({ state: "as-recorded", words: "" }, 10) });
  assert.deepEqual(numbersToName(apart({}), FIRST, byId), [CLOCK]);
  assert.deepEqual(leftToCompare(compared, FIRST, byId), [CLOCK]);
  assert.deepEqual(leftToCompare(compared, OTHER, byId), []);
  const together = apart({ [`inside/${PENDULUM}`]: set({ container_id: "first" }, 4) });
  assert.deepEqual(numbersToName(together, FIRST, byId), []);
});

test("what differs is told of the number that it was said of, with how many pieces were there", () => {
  const differs = { state: "differs", words: "the plane is not there", second_by: "", pieces: 4, of: 5 };
  const item = apart({ [`check-in/${PENDULUM}`]: set(differs, 10) });
  const [said] = checkInSentences(item);
  assert.equal(
    said.words,
    "Noted when the pendulum was checked in: 4 of 5 pieces are there; the plane is not there.",
  );
  assert.equal(checkOf(item).value.words, "4 of 5 pieces are there; the plane is not there");
});

test("what was not there as it was counted is not counted in its crate, until somebody counts the thing anew", () => {
  const check = { state: "differs", words: "", second_by: "", pieces: 4, of: 5 };
  const tools = (more) =>
    thing({
      [`tags/${CLOCK}`]: set({ tag: CLOCK, piece: 1, of: 1, gone: null }, 2),
      pieces: set(5, 2),
      inside: set({ container_id: "first" }, 3),
      "check-in": set(check, 10),
      ...more,
    });
  const words = (item) => piecesHere(item, "first", lackingIn(item, "first"));
  assert.equal(words(tools({})), "4 of 5 here");
  assert.equal(words(tools({ pieces: set(4, 11) })), "4 of 4 here");
});
