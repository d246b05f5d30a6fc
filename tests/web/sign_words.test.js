/** Of a caution's sign what was seen is printed, and nothing of where the owner says that the thing was kept. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { signSeen } from "../../web/job/sign_words.ts";
import { finding } from "./any_words.js";
import { paragraph } from "./as_text.js";

test("where it was kept is told, and no sign of anything", () => {
  assert.equal(signSeen("furry spots, from a damp cellar."), "furry spots");
  assert.equal(signSeen("furry spots; stored in their loft, white dust"), "furry spots, white dust");
  assert.equal(signSeen("white crust, said to be old"), "white crust");
  assert.equal(signSeen("from a damp cellar"), "from a damp cellar", "there is nothing else");
  for (const sign of [
    "white powder, from the seams",
    "a cased bird, in a glass house",
    "a flex, in the base",
  ])
    assert.equal(signSeen(sign), sign);
});

test("what a caution stands on is the fault that was noted in its words", () => {
  const held = { hazard: "H25", level: "amber", sign: "furry spots, from a damp cellar", zone: null };
  const facts = { "cautions/0": { ...held, called: "", place: "" } };
  const mould = finding({ zone: "verso", term: "mould", severity: 3, activity: "Q", note: "furry spots" });
  const said = paragraph("work-on-paper", { facts, findings: [mould] });
  assert.match(said, /Held back because of the mould; not offered until cleared\./);
  assert.match(paragraph("work-on-paper", { facts }), /until cleared; noted: furry spots\. /);
  assert.doesNotMatch(said, /cellar/);
});
