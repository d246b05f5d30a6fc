/** What a cataloguer would put otherwise, and what a bidder would still ask. A case each, as it was read. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

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

test("of what was not tried or not noted it is not said as well that no fault of it was noted", () => {
  const asked = (class_id, begins, short) => answer(class_id, begins, short);
  const polished = asked("watch", "Was the case", {});
  assert.match(polished, /Whether the case was polished was not noted\./);
  assert.doesNotMatch(polished, /fault noted on/);
  const table = asked("furniture", "Was it refinished", { not_there: ["veneer"] });
  assert.equal(table, "Whether it was refinished was not noted.");
  const toy = asked("tinplate-diecast", "Does the motor", { not_there: ["motor-electric", "steam-parts"] });
  assert.match(toy, /Clockwork not tested\./);
  assert.doesNotMatch(toy, /fault noted on the clockwork/);
  const clock = asked("clock", "Does it run", {});
  assert.match(clock, /No fault noted on the bell or gong\./);
  const going = asked("clock", "Does it run", { tests: { "is-it-going": ["works", "", ""] } });
  assert.match(going, /No fault noted on the movement[^.]*\./);
  assert.doesNotMatch(going, /fault noted on [^.]*striking work/);
  const parts = asked("camera-scientific", "Does shutter", { not_there: ["shutter", "aperture", "focus"] });
  assert.match(parts, /Whether the moving parts move was not noted\./);
  assert.doesNotMatch(parts, /fault noted on [^.]*moving parts/);
  const coin = asked("medal-coin", "Which grade", called("coin"));
  assert.match(coin, /No fault noted on the obverse, the reverse, the fields or the legend\./);
  assert.doesNotMatch(asked("stringed-instrument", "How long", {}), /fault noted on [^.]*pegs/);
});

test("a pendulum that swung is there", () => {
  const swung = { tests: { pendulum: ["works", "", ""] } };
  assert.match(answer("clock", "Is all of it", swung), /The pendulum is present\./);
  const untried = { tests: { pendulum: ["not-done", "no-time", ""] } };
  assert.match(answer("clock", "Is all of it", untried), /Whether .*the pendulum.* present was not noted\./);
});

test("a thing is called by the noun before what is told of it", () => {
  const head = (short_description) => lot("glass", { short_description });
  assert.match(head("green vase that glows under ultraviolet"), /^A green vase that glows/);
  assert.match(head("box which opens"), /^A box which opens/);
  assert.match(head("chair missing arms"), /^A chair missing arms/);
  assert.match(head("jug holds two pints"), /^A jug holds/);
  assert.match(head("figure dressed as flowers"), /^A figure dressed/);
  assert.match(head("six glasses that ring"), /^Six glasses that ring/);
  const vase = {
    not_there: ["stopper", "stopper-peg"],
    ...called("green vase that glows under ultraviolet"),
  };
  assert.equal(answer("glass", "Does the stopper", vase), "It has no stopper.");
});

test("a tear of the canvas is one of the picture", () => {
  const torn = one("support", "tear", { severity: 3, extent_mm: 45 });
  for (const begins of ["Is the paint", "Is there retouching"]) {
    assert.match(answer("painting", begins, torn), /A tear of 45 mm in the support\./);
    assert.match(answer("painting", begins, torn), /No further [^.]*fault noted on/);
  }
  const patched = one("support", "patched", { note: "on the back" });
  assert.doesNotMatch(answer("painting", "Is the paint", patched), /patch/);
});

test("of a pair that each have marks it is said on which, not how many", () => {
  const pair = called("pair of loaded candlesticks", { pieces: 2 });
  assert.match(
    paragraph("silver-plate", { ...one("marks-body", "altered-inscription"), ...pair }),
    /The marks on one or both bodies are altered\./,
  );
  const canteen = called("canteen of flatware, 64 pieces", { pieces: 64 });
  assert.match(
    paragraph("silver-plate", { ...one("marks-parts", "mark-illegible"), ...canteen }),
    /The marks on separate parts of one or more pieces are not fully legible/,
  );
});

test("a watch without a crown is measured without leaving it out", () => {
  const across = { "measures/case-diameter": { value: 48, unit: "mm", typed: "48", basis: null } };
  assert.match(lot("watch", across), /Case diameter without crown 48 mm/);
  const wound = { ...across, "zones/crown": { state: "not-examined", reason: "not-applicable" } };
  assert.match(lot("watch", wound), /Case diameter 48 mm/);
});

test("that a thing has no mark is not said where nobody looked for one", () => {
  const bare = { not_there: ["mark"] };
  assert.equal(
    answer("ceramics", "Is the mark", bare),
    "Whether it is marked was not noted. The maker was not noted.",
  );
  const looked = { ...bare, facts: { marks_looked: "on the base" } };
  assert.match(answer("ceramics", "Is the mark", looked), /No marks found, looked for on the base\./);
  const beads = answer("jewellery", "Which metal", { not_there: ["mount", "marks"] });
  assert.doesNotMatch(beads, /no [^.]*marks/);
  assert.equal(
    answer("free", "What do the marks", { not_there: ["marks"] }),
    "Whether it is marked was not noted.",
  );
});

test("what a question asks is taken up, or said to be open", () => {
  const bisque = answer("doll", "Has the head", { not_there: ["crown"] });
  assert.match(bisque, /Lamp not put inside the head\./);
  const group = answer("medal-coin", "Is the group", called("group of five medals"));
  assert.match(group, /Whether the group is complete was not noted\./);
  const lost = { ...one("title-leaf", "missing-part"), not_there: ["half-title"] };
  assert.match(answer("book-map", "Which edition", lost), /Edition and issue could not be seen\./);
});

test("no fault of a number of things is denied", () => {
  assert.doesNotMatch(answer("medal-coin", "Is the group", called("group of five medals")), /the set\b/);
  assert.doesNotMatch(answer("ceramics", "Do cover", called("tea service")), /fault noted on [^.]*the set\b/);
});

test("pictures have frames of their own, and an album of photographs has photographs", () => {
  const pair = { facts: { short_description: "pair of watercolours", pieces: 2 } };
  assert.match(
    paragraph("work-on-paper", pair),
    /Whether they were seen out of their frames was not noted\./,
  );
  const album = {
    ...one("surface", "stain"),
    ...called("album of family photographs"),
    not_there: ["frame"],
  };
  assert.match(paragraph("work-on-paper", album), /Neither the number of photographs nor which of them/);
});

test("what a caution notes is not said in the description alone, and is no lot by itself", () => {
  const noted = {
    hazard: "H13",
    level: "amber",
    sign: "a silver column in a glass tube",
    zone: null,
    called: "",
    place: "apart",
  };
  const tube = { facts: { short_description: "stick barometer, mercury", "cautions/0": noted } };
  assert.match(answer("camera-scientific", "Is there mercury", tube), /Said in the description: “mercury”\./);
  const sword = { ...noted, sign: "a hilt and a scabbard" };
  const decided = { decision: "cleared", cleared_for: "a description in words; no sale until it was seen" };
  const cleared = { short_description: "vase", "cautions/0": sword, "caution-decisions/0": decided };
  assert.match(
    paragraph("glass", { facts: cleared }),
    /Noted: a hilt and a scabbard; cleared only for a description in words; no sale until it was seen\./,
  );
});

test("what a size is of stands before its figures", () => {
  const size = (value) => ({ value, unit: "mm", typed: String(value), basis: "of the case" });
  const both = { "measures/height": size(520), "measures/width": size(360) };
  assert.match(lot("free", both), /Height by width of the case 52\.0 x 36\.0 cm/);
  assert.match(lot("free", { "measures/height": size(520) }), /Height of the case 52\.0 cm \(/);
});

test("cloth is rotten, and of what has no size of its own none is missed", () => {
  assert.match(
    paragraph("jewellery", one("stringing", "fibre-rot", { extent_percent: 40, activity: "P" })),
    /The stringing is perished over about 40 per cent\. .*The perished stringing may get worse\./,
  );
  assert.doesNotMatch(paragraph("soft-toy", one("nose", "re-sewn", { note: "black thread" })), /measured/);
  assert.doesNotMatch(paragraph("stringed-instrument", one("bridge", "warp")), /measured/);
  assert.match(paragraph("glass", one("rim", "chip")), /The chip was not measured\./);
});

test("of one folding map nobody says that it was not collated", () => {
  assert.doesNotMatch(paragraph("book-map", called("folding map on cloth")), /collated/);
  assert.match(paragraph("book-map", called("county survey, lacks one map")), /Not collated\./);
});
