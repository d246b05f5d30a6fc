/** What a cataloguer would put otherwise, and what a bidder would still ask. A case each, as it was read. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";

const called = (short_description, more = {}) => ({ facts: { short_description, ...more } });

test("what was found on one of several does not pledge that all of them are there, nor that the others are", () => {
  const clock = (short) => answer("clock", "Is all of it", short);
  assert.match(
    clock(one("finials", "bent")),
    /Whether all finials and feet, the pendulum, .* are present was/,
  );
  const lost = clock(one("keys", "missing-part", { extent_count: 1, note: "the case key" }));
  assert.match(
    lost,
    /Whether the finials and feet, the pendulum, the weights and the other keys are present/,
  );
  assert.doesNotMatch(clock(one("keys", "missing-part")), /keys are present/);
  assert.match(
    clock({ origins: { finials: ["original-probably", ""] } }),
    /The finials and feet are present\./,
  );
});

test("where there are worm holes it is told whether fresh dust was looked for at those, not elsewhere", () => {
  const OPEN = /[Ww]hether there is fresh worm dust at the worm holes was not noted\./;
  const holes = one("underside", "flight-holes", { extent_count: 5 });
  const elsewhere = { ...holes, denials: [["legs", "frass", "lamp"]] };
  assert.match(answer("furniture", "Is there worm", elsewhere), OPEN);
  assert.match(paragraph("furniture", elsewhere), OPEN);
  const there = { ...holes, denials: [["underside", "frass", "lamp"]] };
  assert.doesNotMatch(answer("furniture", "Is there worm", there), OPEN);
  assert.doesNotMatch(paragraph("furniture", {}), OPEN);
});

test("of a vase that is a lamp now it is told whether anybody looked for a hole", () => {
  const OPEN = /Whether it was drilled was not noted\./;
  const lamp = {
    ...one("outline", "converted", { note: "to a lamp" }),
    ...called("vase converted to a lamp"),
  };
  assert.match(paragraph("ceramics", lamp), OPEN);
  assert.match(answer("ceramics", "Which chips", lamp), OPEN);
  const drilled = { ...lamp, findings: [...lamp.findings, { zone: "underside", term: "hole", severity: 2 }] };
  assert.doesNotMatch(paragraph("ceramics", drilled), OPEN);
  const noted = one("outline", "converted", { note: "to a lamp, not drilled" });
  assert.doesNotMatch(paragraph("ceramics", { ...lamp, ...noted }), OPEN);
  assert.doesNotMatch(paragraph("ceramics", called("vase")), OPEN);
});

test("what light from behind showed is told with what it was looked for", () => {
  const shield = { tests: { "light-behind": ["works", "", "a crowned shield in the title leaf"] } };
  assert.match(
    paragraph("book-map", shield),
    /Looked at against the light for the watermark; noted: a crowned shield in the title leaf\./,
  );
});
