/**
 * What a device keeps for itself alone: labels to print, filters somebody wants again, what was seen, its plans.
 * The database is fake-indexeddb, which follows the W3C's Indexed Database API 3.0.
 */
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";
import assert from "node:assert/strict";
import { test } from "node:test";
import { wholePlan } from "../../web/job/plan.ts";
import { write } from "../../web/local/changes.ts";
import { settingIn, transact } from "../../web/local/database.ts";
import { rememberDevice } from "../../web/local/device.ts";
import { keepLabels, labelsOf } from "../../web/local/labels.ts";
import { device, isLoaded, olderPlans, plans } from "../../web/local/memory.ts";
import { seenOverruled, seeOverruled } from "../../web/local/overruled.ts";
import { listsOf, planBook, planNamed, planNameOf, planOf, rowName } from "../../web/local/plan_book.ts";
import { plansTag, storeOlderPlan, storePlans } from "../../web/local/plans.ts";
import { dropFilter, savedFilters, saveFilter } from "../../web/local/saved_filters.ts";
import { effect } from "../../web/node_modules/@preact/signals-core/dist/signals-core.mjs";

test("the labels of a roll are there again, and those of another are not", async () => {
  const pdf = new TextEncoder().encode("%PDF-1.4").buffer;
  await keepLabels("roll", pdf);
  assert.deepEqual(new Uint8Array(await labelsOf("roll")), new Uint8Array(pdf));
  assert.equal(await labelsOf("another"), undefined);
});

test("a filter stands once under its name, and goes when it is dropped", async () => {
  assert.deepEqual(await savedFilters(), []);
  const filter = (name, words) => ({ name, asked: { words } });
  await saveFilter(filter("clocks", "brass"));
  await saveFilter(filter("rings", "gold"));
  const both = [filter("rings", "gold"), filter("clocks", "steel")];
  assert.deepEqual(await saveFilter(filter("clocks", "steel")), both);
  assert.deepEqual(await savedFilters(), both);
  assert.deepEqual(await dropFilter("rings"), [filter("clocks", "steel")]);
  assert.deepEqual(await savedFilters(), [filter("clocks", "steel")]);
});

test("what was seen of two values is known from then on, and nothing is known before it was asked", async () => {
  const known = [];
  await new Promise((resolve) => {
    effect(() => {
      const seen = seenOverruled();
      known.push(seen && [...seen]);
      if (seen) resolve();
    });
  });
  assert.deepEqual(known, [null, []]);
  await seeOverruled("one");
  await seeOverruled("two");
  await seeOverruled("one");
  assert.deepEqual(known.slice(2), [["one"], ["one", "two"], ["two", "one"]]);
});

test("each version of a plan stays once it was here, whichever came first", async () => {
  const plan = (version) => ({ class_id: "bell", version, words: `as of ${version}` });
  const versions = async () =>
    Object.keys((await transact(["setting"], "readonly", (tx) => settingIn(tx, "older plans"))) ?? {});
  assert.equal(plansTag(), null);
  await storeOlderPlan(plan("1"));
  assert.deepEqual(await versions(), ["bell 1"]);
  await storePlans({ plans: { bell: plan("2") } }, "tag 2");
  await storePlans({ plans: { bell: plan("3") } }, "tag 3");
  await storeOlderPlan(plan("0"));
  assert.deepEqual(await versions(), ["bell 1", "bell 2", "bell 3", "bell 0"]);
  assert.equal(plansTag(), "tag 3");
  assert.equal(plans.value.book.plans.bell.words, "as of 3");
  plans.value = null;
  olderPlans.value = {};
});

test("a record is read with the plan it was made with, else with that of its class as it is now", () => {
  const lists = { zones: [], tests: [], views: [], measures: [], negatives: [], questions: [] };
  const plan = (words) => ({ class_id: "clock", words, ...lists });
  const item = (values) => ({
    fields: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, { value }])),
  });
  assert.equal(planBook(), undefined, "nobody knows yet");
  isLoaded.value = true;
  assert.equal(planBook(), null, "there is none");
  assert.equal(rowName("H02"), "");
  assert.equal(planNamed({ class_id: "clock", plan_version: "1" }), null);
  const now = plan("now");
  plans.value = {
    book: {
      plans: { clock: now },
      vocabulary: { terms: [] },
      cautions: { cautions: [{ hazard: "H02", name: "Row" }] },
    },
  };
  olderPlans.value = { "clock 1": plan("older") };
  assert.equal(planOf(item({ class_id: "clock", plan_version: "1" })).words, "older");
  assert.equal(planOf(item({ class_id: "clock", plan_version: "2" })).words, "now");
  assert.equal(planOf(item({ class_id: "ring" })), null);
  assert.equal(planOf(item({})), null);
  assert.deepEqual(planNameOf(item({ class_id: "clock" })), { class_id: "clock", plan_version: "" });
  assert.equal(planOf(item({ class_id: "clock" })), planOf(item({ class_id: "clock" })), "it is made once");
  assert.equal(planBook(), planBook(), "it is made once");
  const clock = item({ class_id: "clock" });
  assert.deepEqual(
    [listsOf({ ...clock, kind: "item" }), listsOf({ ...clock, kind: "visit" }), listsOf(null)].map(
      ({ plan }) => plan?.words,
    ),
    ["now", undefined, undefined],
  );
  assert.equal(rowName("H02"), "Row");
  assert.equal(rowName("H03"), "");
});

test("of what a record names only a container is called by its name", async () => {
  const crate = {
    record_id: "c",
    kind: "container",
    kind_of: "crate",
    number: "7K3QW5",
    fields: {},
    disagreements: [],
  };
  await write(["record"], async (tx) => {
    await tx.put("record", crate);
    await tx.put("record", { ...crate, record_id: "i", kind: "item" });
  });
  const { container: called } = listsOf(null);
  assert.deepEqual([called("c"), called("i"), called("gone")], ["crate 7K3-QW5", "", ""]);
});

test("what a plan of before did not say is empty, and what is weighed is in grams", () => {
  const plan = wholePlan({
    zones: [{ zone: "body" }],
    tests: [{ test: "rings", how: "strike it", never_when: "" }],
    measures: [
      { measure: "weight", words: "weight in grams" },
      { measure: "height", words: "height" },
      { measure: "depth", words: "depth", unit: "mm", most: 90 },
    ],
    negatives: [
      { words: "No crack seen", needs: [] },
      { negative: "chips", words: "No chip seen", needs: [] },
    ],
    questions: ["Has it cracks?", { question: "Is it whole?", terms: ["crack"] }],
  });
  assert.deepEqual(
    plan.measures.map(({ unit, most }) => [unit, most]),
    [
      ["g", Infinity],
      ["mm", Infinity],
      ["mm", 90],
    ],
  );
  assert.deepEqual(
    plan.negatives.map(({ negative }) => negative),
    ["negative-1", "chips"],
  );
  assert.deepEqual(
    plan.questions.map(({ question, terms }) => [question, terms]),
    [
      ["Has it cracks?", []],
      ["Is it whole?", ["crack"]],
    ],
  );
  assert.deepEqual([plan.called, plan.scale, plan.tests[0].lights, plan.tests[0].said], [[], [], [], null]);
  assert.deepEqual([plan.zones[0].optional, plan.zones[0].holds], [false, []]);
});

test("a device that was just paired has read nothing, works nowhere yet, and takes its clock for right", async () => {
  await rememberDevice({ device_id: "d", role: "door", name: "Door" });
  const { cursor, clock_offset_ms, epoch, day_id, table_id, person_id } = device.value;
  assert.deepEqual([cursor, clock_offset_ms, epoch, day_id, table_id, person_id], [0, 0, "", "", "", ""]);
  await rememberDevice({ cursor: 7, day_id: "a day" });
  await rememberDevice({ table_id: "t1" });
  assert.deepEqual(
    [device.value.cursor, device.value.day_id, device.value.table_id, device.value.name],
    [7, "a day", "t1", "Door"],
  );
});
