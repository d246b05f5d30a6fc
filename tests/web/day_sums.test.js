/** What has to agree at the end of a day, and how long somebody has waited. Source: common practice. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { minutesSince, sumsOf } from "../../web/job/day_sums.ts";
import { record, STOP, tag } from "./made.js";

const tagged = { "tags/00002Y": tag("00002Y") };
const item = (record_id, visit_id, values = tagged) =>
  record("item", record_id, { short_description: record_id, ...values }, { visit_id });
const back = { whereabouts: { to_place: "returned", at: "", signed: true } };
const left = (...items) => ({
  "receipts/1": {
    number: "1",
    what: "left",
    lines: items.map((item_id) => ({ item_id, tags: ["00002Y"], words: item_id, class_id: null })),
    replaces: null,
  },
});
const visit = (record_id, values) => record("visit", record_id, { stage: "left", ...values });
const sums = (visits, items) => sumsOf({ visits, items, containers: [] });

test("things here and back with their owners are as many as the tables counted", () => {
  const { things } = sums(
    [visit("v", { item_count: 3 }), visit("w", {})],
    [item("jug", "v"), item("clock", "v", back), item("doll", "w")],
  );
  const sum = { here: 2, back: 1, referred: 0, stopped: 0, counted: 4 };
  assert.deepEqual(things, sum, "a visit that nobody counted is as on record");
});

test("what is stopped and not decided is a part of its own, as long as no receipt names it", () => {
  const shell = item("shell", "v", { "cautions/1": STOP });
  const whole = { here: 1, back: 0, referred: 0, stopped: 1, counted: 2 };
  assert.deepEqual(sums([visit("v", {})], [item("jug", "v"), shell]).things, whole);
  const signed = visit("v", left("jug", "shell"));
  assert.deepEqual(sums([signed], [item("jug", "v"), shell]).things, { ...whole, here: 2, stopped: 0 });
});

test("a record that stands behind another one is no thing of its own", () => {
  const merged = item("jug twice", "v", { ...tagged, merged: { into_id: "jug" } });
  assert.deepEqual(sums([visit("v", { item_count: 1 })], [item("jug", "v"), merged]).things, {
    here: 1,
    back: 0,
    referred: 0,
    stopped: 0,
    counted: 1,
  });
});

test("each visit is signed for, by an owner who left or is still here, left nothing, or is open", () => {
  const lost = { "tags/00002Y": tag("00002Y", { gone: "lost" }) };
  const apart = { ...left("jug"), "receipts/2": left("bowl")["receipts/1"] };
  const renamed = item("jug", "v", { ...tagged, short_description: "ewer" });
  const cases = [
    ["signed", visit("v", left("jug")), [item("jug", "v")]],
    ["renew", visit("v", left("jug")), [item("jug", "v"), item("bowl", "v")]],
    ["renew", visit("v", { stage: "at-table", ...left("jug") }), [item("jug", "v"), item("bowl", "v")]],
    ["open", visit("v", {}), [item("jug", "v")]],
    ["open", visit("v", left("jug")), [item("jug", "v"), item("no number yet", "v", {})]],
    ["stays", visit("v", { stage: "at-table", ...left("jug") }), [item("jug", "v")]],
    ["renew", visit("v", { stage: "at-table", ...left("jug") }), [renamed]],
    ["open", visit("v", { stage: "at-table" }), [item("jug", "v")]],
    ["open", visit("v", { stage: "waiting" }), []],
    ["renew", visit("v", left("jug")), [item("jug", "v", lost)]],
    ["renew", visit("v", left("jug")), [item("jug", "v", { ...tagged, "cautions/1": STOP })]],
    ["renew", visit("v", left("jug")), [renamed]],
    ["renew", visit("v", left("jug")), [renamed, item("no number yet", "v", {})]],
    ["signed", visit("v", apart), [item("jug", "v"), item("bowl", "v")]],
    ["nothing", visit("v", {}), [item("clock", "v", back)]],
    ["nothing", visit("v", {}), []],
    [
      "open",
      visit("v", {}),
      [item("clock", "v", { ...tagged, whereabouts: { to_place: "returned", at: "" } })],
    ],
  ];
  for (const [word, of, items] of cases) {
    const none = { signed: 0, stays: 0, renew: 0, nothing: 0, open: 0 };
    assert.deepEqual(sums([of], items).receipts, { ...none, [word]: 1 }, `${word}: ${JSON.stringify(items)}`);
  }
});

test("a wait is counted in whole minutes, unless the figure would say nothing", () => {
  const came = "2026-03-14T10:00:00.000Z";
  const at = (time) => minutesSince(came, Date.parse(`2026-03-14T${time}Z`));
  assert.equal(at("10:00:59"), 0);
  assert.equal(at("10:22:00"), 22);
  assert.equal(at("12:59:59"), 179);
  assert.equal(at("13:00:00"), null, "the day is over");
  assert.equal(at("09:59:59"), null, "a clock is wrong");
});
