/** Nothing is said of what a thing has not, or of what nobody saw, as if it were there: case by case. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

test("of a clock with no weights, or no pendulum, nobody says that those were not lifted off", () => {
  const clock = (...not_there) =>
    paragraph("clock", { not_there, tests: { lift: ["not-done", "no-time", ""] } });
  assert.match(clock("weights"), /\. Pendulum not lifted off: time/);
  assert.match(clock("pendulum"), /\. Weights not lifted off: time/);
  assert.match(clock(), /\. Pendulum and weights not lifted off: time/);
  assert.doesNotMatch(clock("weights", "pendulum"), /lifted off/);
  const cupboard = (...not_there) =>
    paragraph("furniture", { not_there, tests: { "doors-locks": ["works", null, ""] } });
  assert.match(cupboard("locks"), /\. The doors opened once\./);
  assert.match(cupboard("doors"), /\. The locks opened once\./);
});

test("beads in no setting were looked at for chips and for no worn claws, and that nobody tested them is said", () => {
  const beads = {
    facts: { short_description: "string of beads" },
    not_there: ["setting", "main-stone", "side-stones"],
    tests: { loupe: ["works", "nothing-seen", ""] },
    lights: { clasp: "loupe" },
  };
  const said = paragraph("jewellery", beads);
  assert.match(
    said,
    /Looked at through a x10 loupe for chips, with nothing to report\. .*The beads were not/,
  );
  assert.match(answer("jewellery", "How large", beads), /for chips, with .*The beads were not measured/);
  const tried = { ...beads.tests, "stone-tester": ["works", null, ""] };
  assert.doesNotMatch(paragraph("jewellery", { ...beads, tests: tried }), /not measured or tested/);
});

test("where no marks were found, there is no fault noted on none", () => {
  const looked = { facts: { marks_looked: "on the back" } };
  const said = answer("free", "What do the marks", looked);
  assert.equal(said, "No marks found, looked for on the back.");
  const worn = { ...looked, findings: [{ zone: "marks", term: "wear", severity: 2 }] };
  assert.match(answer("free", "What do the marks", worn), /Wear|worn/);
});

test("of what was seen only in part, nothing is said of all of it", () => {
  const gown = (result) => ({
    tests: { "turn-over": [result, "", ""] },
    denials: [
      ["face", "grazing", "lamp"],
      ["back", "grazing", "lamp"],
    ],
  });
  assert.match(
    paragraph("textile-rug", gown("works-in-part")),
    /\. No grazing seen on the face or as much of the back as was seen, under a lamp\./,
  );
  assert.match(paragraph("textile-rug", gown("works")), /seen on the face or the back under a lamp\./);
  const moth = answer("textile-rug", "Has it moth", gown("works-in-part"));
  assert.match(moth, /noted on as much of the back as was seen\./);
  assert.doesNotMatch(moth, / on the back[ .]/);
  const looked = { tests: { "inside-look": ["works-in-part", "", ""] } };
  assert.match(answer("stringed-instrument", "Has it cracks", looked), /as much of the inside as was seen/);
});

test("what only a look would show is not named as being there where nobody looked", () => {
  const sheet = { not_examined: { verso: "sealed", watermark: "sealed", hinges: "sealed" } };
  assert.match(
    paragraph("work-on-paper", sheet),
    /Not examined: the verso, any watermark and any hinges; sealed shut\./,
  );
  const film = { not_examined: { "film-inside": "sealed" } };
  assert.match(paragraph("camera-scientific", film), /Not examined: any film inside; sealed shut\./);
  const doll = { not_examined: { body: "owner-declined", "body-mark": "owner-declined" } };
  assert.match(paragraph("doll", doll), /Not examined: the body and any mark on the body; /);
  const found = { ...doll, findings: [{ zone: "body-mark", term: "wear", severity: 1 }] };
  assert.match(paragraph("doll", found), /Not examined further: the mark on the body;/);
  assert.match(
    paragraph("doll", { untouched: ["body-mark", "body"] }),
    /Nothing is recorded of the body or any mark on the body\./,
  );
});

test("what was left out for the reason for which a look left out others is named with them", () => {
  const sheet = {
    not_examined: {
      verso: "sealed",
      support: "sealed",
      hinges: "sealed",
      stamps: "no-time",
      corners: "no-time",
    },
    tests: { ultraviolet: ["works", "nothing-seen", ""] },
  };
  const said = paragraph("work-on-paper", sheet);
  assert.match(said, /for retouching and repairs, except the verso and the support, with nothing/);
  const whole = { ...sheet, not_examined: { support: "no-tool" } };
  assert.match(paragraph("work-on-paper", whole), /for retouching and repairs, with nothing to report/);
});

test("of a pair the sound one is in the answer, and of a set the others", () => {
  const pair = (more, zone = "rim") => ({
    facts: { short_description: "pair of decanters", pieces: 2 },
    findings: [{ zone, term: "chip", severity: 2, piece_count: null, ...more }],
  });
  const rim = (more) => answer("glass", "Are rim", pair(more));
  assert.match(rim({ piece: "left" }), /No further fault noted on .*, or the rim of the right one\./);
  assert.match(rim({ piece: "1" }), /, or the rim of the second\./);
  assert.doesNotMatch(rim({ piece: "not-noted" }), /the rim of the/);
  assert.doesNotMatch(rim({ piece_count: 2, piece: null }), /the rims? of the/);
  const set = pair({ piece_count: 2, piece: null });
  const six = { ...set, facts: { short_description: "set of six glasses", pieces: 6 } };
  assert.match(answer("glass", "Are rim", six), /, or the rims of the others\./);
});

test("where nobody breathed on an engraving, whether it was changed was not noted", () => {
  const begins = "Were arms";
  const cup = (breath, more = {}) =>
    answer("silver-plate", begins, { tests: { breath: [breath, "no-time", ""] }, ...more });
  assert.match(cup("not-done"), /Whether arms or initials were taken off or added was not noted\./);
  assert.doesNotMatch(cup("works"), /Whether arms/);
  assert.doesNotMatch(cup("not-done", one("engraving", "altered-inscription")), /Whether arms/);
});

test("a caution is in the answer about what its sign names, and where its kind is asked for", () => {
  const held = (hazard, sign) => ({
    facts: { "cautions/0": { hazard, level: "amber", sign, zone: null, called: "", place: "" } },
  });
  const asked = (class_id, begins, hazard, sign) => answer(class_id, begins, held(hazard, sign));
  assert.match(
    asked("stringed-instrument", "Bow", "H06", "mottled shell on the frog"),
    /: mottled shell on the frog/,
  );
  assert.match(asked("book-map", "Is the binding", "H14", "bright green cloth"), /: bright green cloth/);
  assert.doesNotMatch(asked("book-map", "Which edition", "H14", "bright green cloth"), /Held back/);
  // Whoever reads the five in order knows with the first of them that it is not on offer.
  const first = asked("book-map", "Is it complete", "H14", "bright green cloth");
  assert.match(first, / Held back, and not offered until cleared; noted: bright green cloth\.$/);
  assert.doesNotMatch(asked("silver-plate", "Were arms", "H29", "a school's name"), /Held back/);
});

test("foxing and tears are on the back as well, and that nobody saw it is in both answers", () => {
  const sealed = { not_examined: { verso: "sealed", hinges: "sealed", support: "sealed" } };
  assert.match(answer("work-on-paper", "How much foxing", sealed), /Not examined: the verso; sealed shut\./);
  assert.match(
    answer("work-on-paper", "Are there tears", sealed),
    /Not examined: the verso, any hinges and the support; sealed shut\./,
  );
});

test("of whatever has a size and was not measured that is said, and chips of the enamel to who asks of chips", () => {
  const chip = one("enamel", "chip", { extent_count: 2 });
  assert.match(paragraph("jewellery", chip), /Two chips to the enamel\. The chips were not measured\./);
  const brooch = { ...chip, not_there: ["main-stone", "side-stones"] };
  assert.match(
    answer("jewellery", "How large", brooch),
    /Two chips to the enamel\. The chips were not measured\./,
  );
  assert.match(paragraph("silver-plate", one("body", "dent")), /The dent was not measured\./);
  assert.doesNotMatch(paragraph("silver-plate", one("body", "dent", { extent_mm: 4 })), /not measured/);
  assert.doesNotMatch(paragraph("silver-plate", one("plating", "plating-loss")), /not measured/);
});

test("a setting without stones is not said to be complete", () => {
  const set = (not_there) =>
    paragraph("jewellery", { not_there, denials: [["setting", "stone-missing", "loupe"]] });
  assert.doesNotMatch(set(["main-stone", "side-stones"]), /complete|missing/);
  assert.match(set([]), /The setting is complete, no stone lacking, seen through a x10 loupe\./);
});

test("an atlas has its maps, counted or not", () => {
  const atlas = { facts: { short_description: "atlas" }, not_there: ["plates", "half-title"] };
  const said = answer("book-map", "Is it complete", atlas);
  assert.match(said, /Its maps were not counted\./);
  assert.doesNotMatch(said, /no half-title or plates/);
  const counted = { value: 24, unit: "n", typed: "24" };
  const measures = { "measures/plates-called-for": counted, "measures/plates-present": counted };
  const known = { ...atlas, facts: { ...atlas.facts, ...measures } };
  assert.doesNotMatch(answer("book-map", "Is it complete", known), /not counted/);
  assert.doesNotMatch(
    answer("book-map", "Is it complete", { facts: { short_description: "novel" } }),
    /maps/,
  );
});

test("what the description alone says of what is asked is quoted, and that nobody examined it is said", () => {
  const untouched = (class_id) => book.plans[class_id].zones.map(({ zone }) => zone);
  const asked = (class_id, begins, short_description) =>
    answer(class_id, begins, { facts: { short_description }, untouched: untouched(class_id) });
  assert.match(
    asked("stringed-instrument", "Has it cracks", "child's cello, broken neck"),
    /^Said in the description alone: “broken neck”\. .*Not examined\.$/,
  );
  assert.match(
    asked("doll", "Do body", "celluloid doll, yellow sticky arms"),
    /alone: “yellow sticky arms”\./,
  );
  assert.match(asked("textile-rug", "For costume", "silk dress, shattered"), /alone: “shattered”\./);
  assert.doesNotMatch(
    answer("doll", "Do body", { facts: { short_description: "doll, sticky arms" } }),
    /alone/,
  );
});
