/** What is said before the class of an examined thing is changed, and where its findings stand afterwards. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isMoreThanNamed, lostFromView } from "../../web/job/other_class.ts";
import { zonesBeyond } from "../../web/job/zones_beyond.ts";
import { book } from "./plan_book.js";

const { doll, "soft-toy": toy } = book.plans;
const found = (zone, term, more = {}) => ({
  value: { zone, term, severity: 2, activity: "n", note: "", withdrawn: false, ...more },
});
const of = (fields) => ({
  item: { kind: "item", record_id: "i", fields, disagreements: [] },
  visit: null,
  day: null,
});
const DRESS = found("dress", "stain");
const [ARM, HEAD] = [found("arms/proper-left", "missing-part"), found("head", "hole")];

test("findings on zones that the other class does not have are named, and stand below its zones", () => {
  const all = of({ "findings/1": ARM, "findings/2": HEAD, "findings/3": DRESS });
  assert.ok(
    lostFromView(all, toy, doll).includes(
      "3 findings stay, 1 of them on a zone that the other does not have (dress), below its list.",
    ),
  );
  const steps = zonesBeyond(doll, all.item);
  assert.deepEqual(
    steps.map(({ key, findings }) => [key, findings.map(({ value }) => value.term)]),
    [["dress", ["stain"]]],
  );
  assert.deepEqual(zonesBeyond(toy, all.item), []);
});

test("where the two have all of them alike, or one alone is elsewhere, it is said so", () => {
  const said = (fields) => lostFromView(of(fields), toy, doll).at(-1);
  assert.equal(said({ "findings/1": ARM }), "1 finding stays, on zones that the two have alike.");
  assert.equal(
    said({ "findings/3": DRESS }),
    "1 finding stays, on a zone that the other does not have (dress), below its list.",
  );
  assert.deepEqual(
    zonesBeyond(doll, of({ "findings/3": found("dress", "stain", { withdrawn: true }) }).item),
    [],
  );
});

/** A record beside the item, with these fields. */
const beside = (kind, fields) => ({ kind, record_id: kind, fields, disagreements: [] });
const receipt = (item_id) =>
  beside("visit", { "receipts/1": { value: { lines: [{ item_id: "x" }, { item_id }] } } });
const CLOSED = beside("day", { closed: { value: { closed_by: "ada" } } });
const CLEAR = { value: { state: "clear", reason: null, light: null, count: null } };

test("a change of class is asked about once anything is on record that it bears on", () => {
  const named = of({ short_description: { value: "doll" }, class_id: { value: "doll" } });
  assert.equal(isMoreThanNamed(named), false);
  assert.equal(isMoreThanNamed({ ...named, visit: beside("visit", {}), day: beside("day", {}) }), false);
  assert.equal(isMoreThanNamed({ ...named, visit: receipt("another") }), false, "its owner left another");
  for (const more of [
    of({ "zones/head": CLEAR }),
    of({ "findings/1": HEAD }),
    of({ "tests/squeaker": { value: { result: "works" } } }),
    { ...named, visit: receipt("i") },
    { ...named, day: CLOSED },
  ])
    assert.equal(isMoreThanNamed(more), true);
  assert.equal(isMoreThanNamed(of({ "findings/1": found("head", "hole", { withdrawn: true }) })), false);
});

test("the zones that were said, a signature and a closing each have a sentence, and nothing else has", () => {
  assert.deepEqual(lostFromView(of({}), toy, doll), []);
  const going = { visit: beside("visit", {}), day: beside("day", {}) };
  assert.deepEqual(lostFromView({ ...of({}), ...going }, toy, doll), [], "unsigned, on a day that is open");
  const zones = Object.fromEntries(["head", "dress"].map((zone) => [`zones/${zone}`, CLEAR]));
  const counted = (plan) => plan.zones.flatMap(({ members }) => (members.length ? members : [0])).length;
  const said = lostFromView({ item: of(zones).item, visit: receipt("i"), day: CLOSED }, doll, toy);
  assert.deepEqual(said.slice(1), [
    "Its owner signed for it under the class that it has: the receipt will say so.",
    "The day is closed: the closing will name the change.",
  ]);
  const [, before, all, after, others] = /^(\d+) of (\d+) zones become (\d+) of (\d+)\.$/.exec(said[0]) ?? [];
  const has = (plan) =>
    Object.keys(zones).filter((key) => plan.zones.some(({ zone }) => key === `zones/${zone}`));
  assert.deepEqual([before, after].map(Number), [has(doll).length, has(toy).length]);
  assert.deepEqual([all, others].map(Number), [counted(doll), counted(toy)]);
});

test("of several zones that the other class does not have each is named, with how many findings are on them", () => {
  const all = of({ "findings/1": DRESS, "findings/2": found("tail", "hole"), "findings/3": HEAD });
  const [said] = lostFromView(all, toy, doll);
  assert.equal(
    said,
    "3 findings stay, 2 of them on zones that the other does not have (dress; tail), below its list.",
  );
  const alone = of({ "findings/1": DRESS, "findings/2": found("tail", "hole") });
  assert.match(
    lostFromView(alone, toy, doll)[0],
    /^2 findings stay, on zones that the other does not have \(/,
  );
});
