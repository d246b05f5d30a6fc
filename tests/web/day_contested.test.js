/**
 * What two people said otherwise of a day, in words: no id, no code, no member of a record; and what a settlement does.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { sidesOf, unsettled } from "../../web/job/between.ts";
import { contestedWords } from "../../web/job/contested_words.ts";
import { namesOn } from "../../web/job/day_facts.ts";
import { applyOperation } from "../../web/job/record.ts";
import { valueWords } from "../../web/job/value_words.ts";

const ID = "019cebae-7930-775f-8dc5-196c875cade5";
const ana = (more) => ({ person_id: ID, name: "Ana Thistle", roles: ["door"], left: false, ...more });
const closing = (closed_by, named) => ({ closed_by, second_by: "Otis Cratehope", named, second_device: ID });
const incident = { hazard: "H26", level: "red", sign: "white dust", seen_at: "2026-03-14T09:00:00.000Z" };
const end = {
  ended: "taken-away",
  settled_by: "Ana Thistle",
  present: "the fire brigade",
  words: "in a drum",
};
const run = { first: 1, last: 40, given_to: "Left door", for_device_id: ID };
const raised = { difference: "count", thing_id: ID, words: "one spoon short", owner_told: "no", told: "" };

const SAID = [
  ["house", "Quillfeather", "house", "Quillfeather"],
  ["held_on", "2026-03-14", "date of the day", "2026-03-14"],
  [`people/${ID}`, ana(), "what the day's list says of Ana Thistle", "Ana Thistle: door"],
  [
    `people/${ID}`,
    ana({ roles: ["valuer", "porter"], left: true }),
    null,
    "Ana Thistle: valuer, porter; has left",
  ],
  [`people/${ID}`, ana({ roles: [] }), null, "Ana Thistle: no work named"],
  [`tables/${ID}`, { name: "Window", gone: false }, "the table called Window", "Window"],
  [`tables/${ID}`, { name: "Window", gone: true }, "the table called Window", "Window, taken away"],
  [`ticket-runs/${ID}`, run, "a run of tickets", "tickets 1 to 40, given to Left door"],
  [`roll-holders/${ID}`, { given_to: "", for_device_id: "" }, "who has a roll", "given to nobody"],
  [
    "closed",
    closing("Ned Lanternfield", []),
    "how the day was closed",
    "closed by Ned Lanternfield and Otis Cratehope, naming no difference",
  ],
  [
    "closed",
    closing("Ned Lanternfield", ["Q04: no seal", "Q05: no tag", "Q06: apart", "Q07: not here"]),
    "how the day was closed",
    "closed by Ned Lanternfield and Otis Cratehope, naming Q04: no seal; Q05: no tag; Q06: apart; 1 more",
  ],
  [`differences/${ID}`, raised, "a difference", "one spoon short"],
  [
    `difference-ends/${ID}`,
    { ended: "found", words: "under the cloth", second_by: "Otis Cratehope" },
    "how a difference ended",
    "found, with Otis Cratehope, under the cloth",
  ],
  [
    `incidents/${ID}`,
    { ...incident, ticket: "Q04", place: "Table 2" },
    "an incident",
    "red caution: white dust, ticket Q04, Table 2",
  ],
  [
    `incident-ends/${ID}`,
    end,
    "how an incident ended",
    "taken away, settled by Ana Thistle, with the fire brigade, in a drum",
  ],
];

for (const [field, value, about, words] of SAID)
  test(`${field.replace(ID, "…")}: ${words}`, () => {
    assert.equal(valueWords(value, field), words);
    if (about) assert.equal(contestedWords({ field, kept: { value } }), about);
    assert.doesNotMatch(words + about, /[0-9a-f]{8}-|[_{}[\]]|undefined|\bH\d\d\b/);
  });

const set = (value, operation_id, made_at) => ({
  value,
  operation_id,
  made_by: "hester",
  made_at,
  device_id: "d",
});
const dayWith = (field, kept, other) => ({
  kind: "day",
  record_id: "day",
  fields: {
    [field]: kept,
    "people/hester": set({ name: "Hester Quillfeather", roles: ["manager"] }, "o", ""),
  },
  disagreements: [{ disagreement_id: "two", field, kept, other, settled: null }],
});
const settle = (choose) => ({
  kind: "settle_disagreement",
  operation_id: "settled",
  record_id: "day",
  disagreement_id: "two",
  choose,
  note: "asked both",
  made_by: "hester",
  made_at: "2026-03-20T10:00:00.000Z",
  device_id: "d",
  device_seq: 9,
});

test("both sides are offered with who said them, until one of them holds", () => {
  const day = dayWith(`people/${ID}`, set(ana(), "k", ""), set(ana({ left: true }), "t", ""));
  assert.equal(namesOn(day)("hester"), "Hester Quillfeather");
  assert.equal(namesOn(day)("gone"), "somebody not on a list");
  const [between] = unsettled(day);
  assert.deepEqual(
    sidesOf(day, between).map(({ choose, isInForce }) => [choose, isInForce]),
    [
      ["kept", true],
      ["other", false],
    ],
  );
  const { record } = applyOperation(day, settle("other"));
  assert.equal(record.fields[`people/${ID}`].value.left, true);
  assert.equal(record.fields["settlement-notes/two"].value, "asked both");
  assert.deepEqual(unsettled(record), []);
});

test("settled on the second closing, the day stays closed since the first", () => {
  const first = set(closing("Winifred Thimblewick", []), "k", "2026-03-14T18:00:00.000Z");
  const second = set(closing("Ned Lanternfield", ["Q04: no seal"]), "t", "2026-03-14T19:00:00.000Z");
  const { record } = applyOperation(dayWith("closed", first, second), settle("other"));
  assert.deepEqual(record.fields.closed, { ...first, operation_id: "settled", value: second.value });
});
