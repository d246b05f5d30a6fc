/** Where marks are looked for: nobody looked into what was not opened, nor at what was not examined. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isInReach } from "../../web/job/mark_places.ts";
import { book } from "./plan_book.js";

const zone = (name, tests = []) => ({ zone: name, members: [], tests });
const PLAN = { zones: [zone("dial"), zone("movement", ["open-back"]), zone("bow")] };

/** A thing of which that was said, field by field. */
const said = (values = {}) => ({
  fields: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, { value }])),
});
const reach = (values, of) => isInReach(PLAN, said(values), of);

test("a place of no zone, and one of which nobody has spoken, is looked at", () => {
  assert.deepEqual([reach({}, []), reach({}, ["dial"]), reach({}, ["dial", "movement"])], [true, true, true]);
});

test("what shows only once it was opened is looked at once it was, or was spoken of all the same", () => {
  const test = (result) => ({ "tests/open-back": { result } });
  const spoken = { "zones/movement": { state: "clear", reason: null } };
  assert.deepEqual(
    [{}, test("not-done"), test("works"), { ...test("not-done"), ...spoken }].map((values) =>
      reach(values, ["movement"]),
    ),
    [false, false, true, true],
  );
});

test("what was not examined is not looked at, and beside what was it is", () => {
  const not = { "zones/bow": { state: "not-examined", reason: "no-time" } };
  assert.deepEqual([reach(not, ["bow"]), reach(not, ["bow", "dial"])], [false, true]);
});

test("marks are not looked for on what is framed, shut or mostly not there", () => {
  const places = (class_id, values) => {
    const { marks, marks_of = {} } = book.plans[class_id];
    const plan = book.plans[class_id];
    return marks.filter((place) => isInReach(plan, said(values), marks_of[place] ?? []));
  };
  const framed = places("work-on-paper", { short_description: "lithograph, framed" });
  assert.ok(!framed.includes("verso") && framed.includes("lower margin"));
  const rug = places("textile-rug", { short_description: "rug" });
  assert.ok(!rug.includes("neck and waist") && !rug.includes("back") && rug.includes("corners"));
  const camera = places("camera-scientific", { short_description: "box camera" });
  assert.ok(
    !camera.includes("inside the back") && !camera.includes("inside the case") && camera.includes("body"),
  );
});
