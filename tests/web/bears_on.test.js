/** A fault stands in the answer that it decides, and what is asked for is answered: each case as it should read. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

test("a title leaf that was made good bears on whether a book is complete", () => {
  const made = one("title-leaf", "filled", { extent_mm: 20, note: "lower corner" });
  const whole = answer("book-map", "Is it complete", made);
  assert.match(whole, /The title leaf is made good/);
  assert.doesNotMatch(whole, /fault noted on [^.]*the title leaf/);
});

test("a book out of shape, a warped top and a hole in the bellows are told where they matter", () => {
  const book = answer("book-map", "Is the binding", one("outline", "distortion"));
  assert.match(book, /^The whole is out of shape\./);
  const top = answer("furniture", "Does it open", one("top", "warp"));
  assert.match(top, /The top is warped\./);
  const bellows = answer("camera-scientific", "Does shutter", one("bellows", "hole", { extent_mm: 1 }));
  assert.match(bellows, /A hole of 1 mm in the bellows\./);
  assert.doesNotMatch(answer("camera-scientific", "Does shutter", {}), /bellows/);
});

test("whether the lacquer is original is asked for beside what was polished, and not of what has none", () => {
  const asked = (short) => answer("camera-scientific", "Is the lacquer", short);
  const polished = one("body", "over-cleaned");
  assert.match(asked(polished), /Whether the finish of the metal has its original lacquer was not noted\./);
  const bare = asked({ ...polished, not_there: ["finish-metal"] });
  assert.match(bare, /It has no lacquer or other finish on metal\./);
  assert.doesNotMatch(bare, /original lacquer/);
});

test("gilding is told of where worn plating is asked for", () => {
  const asked = (short) => answer("silver-plate", "Is it silver", short);
  assert.match(asked({ not_there: ["plating"] }), /No fault noted on the gilding/);
  assert.match(asked(one("gilding", "wear")), /gilding/);
  const none = asked({ not_there: ["plating", "gilding"] });
  assert.match(none, /no marks were copied|The marks were not copied/i);
  assert.doesNotMatch(none, /gilding/);
});

test("a bare size of several things is that of one or of all, and nobody noted which", () => {
  const size = (unit, more) => ({ value: 36, unit, typed: "36", ...more });
  const three = { short_description: "group of three medals", pieces: 3 };
  const said = "Diameter 36 mm (1 7/16 in) and weight 36 g; whether of one or of all three was not noted.";
  const both = { "measures/diameter": size("mm"), "measures/weight": size("g") };
  assert.ok(lot("medal-coin", { ...three, ...both }).includes(said));
  assert.doesNotMatch(lot("medal-coin", { ...both, pieces: 1 }), /not noted/);
  const based = { "measures/diameter": size("mm", { basis: "each" }) };
  assert.doesNotMatch(lot("medal-coin", { ...three, ...based }), /not noted/);
});

test("a crack, a tear or a hole that nobody measured is said not to be, in every class that is asked for it", () => {
  const two = one("join", "crack", { piece_count: 2 });
  const glasses = { ...two, facts: { short_description: "six glasses", pieces: 6 } };
  assert.match(paragraph("glass", glasses), /The cracks were not measured\./);
  assert.match(answer("glass", "Are rim", one("neck", "crack")), /The crack was not measured\./);
  assert.match(paragraph("doll", one("shoulder-plate", "crack")), /The crack was not measured\./);
  assert.match(paragraph("textile-rug", one("ground", "tear")), /The tear was not measured\./);
  assert.doesNotMatch(paragraph("textile-rug", one("ground", "tear", { extent_mm: 4 })), /measured/);
});

test("what the name says is there and no zone holds is said not to be noted, nor joints to be turned", () => {
  const toy = (name, more) => paragraph("soft-toy", { facts: { short_description: name }, ...more });
  assert.match(toy("plush elephant on iron wheels"), /The condition of the wheels was not noted\./);
  assert.doesNotMatch(toy("plush elephant"), /wheels/);
  const loose = one("outline", "loose-part", { note: "one wheel" });
  assert.doesNotMatch(toy("plush elephant on iron wheels", loose), /wheels was not noted/);
  assert.match(toy("jointed cat"), /Joints not turned\./);
  assert.doesNotMatch(toy("cat", { not_there: ["joints"] }), /Joints/);
  assert.doesNotMatch(toy("cat", { tests: { "turn-joints": ["works", "", ""] } }), /not turned/);
  const beads = { facts: { short_description: "string of beads" }, not_there: ["main-stone", "side-stones"] };
  assert.match(answer("jewellery", "How large", beads), /The beads were not measured or tested\./);
  assert.doesNotMatch(answer("jewellery", "How large", {}), /beads/);
});

test("of an album that nobody counted the sheets of, a fault is on one of them or on more", () => {
  const open = "Neither the number of sheets nor which of them the fault is on was noted.";
  const album = (more) => ({
    ...one("image", "abrasion"),
    facts: { short_description: "album of views", ...more },
  });
  assert.ok(paragraph("work-on-paper", album()).includes(open));
  assert.ok(answer("work-on-paper", "Are there tears", album()).includes(open));
  assert.match(paragraph("work-on-paper", album({ pieces: 12 })), /Not noted: which of the twelve/);
  assert.doesNotMatch(paragraph("work-on-paper", one("image", "abrasion")), /sheets/);
});

test("a travelling clock has a case of its own beside the one that it came in", () => {
  const facts = { short_description: "travelling clock with case" };
  const open = { facts, not_examined: { packaging: "no-time" } };
  assert.match(paragraph("clock", open), /Not examined: the travelling case; time did not allow it\./);
  assert.match(answer("clock", "What is repaired", open), /No fault noted on the case of the clock,/);
  assert.match(answer("clock", "What is repaired", {}), /No fault noted on the case,/);
});

test("a ring for the seconds is told of with the dial", () => {
  assert.match(answer("watch", "Is the dial", {}), /on the dial or the sub-dials/);
  assert.doesNotMatch(answer("watch", "Is the dial", { not_there: ["sub-dials"] }), /sub-dials/);
  assert.match(answer("watch", "Is the dial", one("sub-dials", "replaced-part")), /sub-dials? (?:is|are)/);
});

test("as many faults as pieces that have any are one each, and a count is a word where the name has that word", () => {
  const facts = { short_description: "fourteen glasses", pieces: 14 };
  const chips = (count) => ({ ...one("rim", "chip", { piece_count: 3, extent_count: count }), facts });
  assert.match(paragraph("glass", chips(3)), /Three of the fourteen have a chip to the rim\./);
  assert.match(paragraph("glass", chips(4)), /Three of the fourteen have chips to the rim, four in all\./);
  assert.match(paragraph("glass", chips(3)), /Not noted: which of the fourteen the chips are on\./);
  const figures = { ...chips(3), facts: { ...facts, short_description: "14 glasses" } };
  assert.match(paragraph("glass", figures), /Three of the 14 have a chip to the rim\./);
});

test("of the whole it is said by the thing's own plain noun", () => {
  const bent = (name, more) =>
    paragraph("textile-rug", { ...one("outline", "distortion", more), facts: { short_description: name } });
  assert.match(bent("patchwork quilt"), /The quilt is out of shape\./);
  assert.match(bent("quilt with a border, worn"), /The quilt is out of shape\./);
  assert.match(bent("pair of quilts"), /The whole is out of shape\./);
  assert.match(bent("something framed"), /The whole is out of shape\./);
  const faded = one("outline", "fading", { extent_percent: 30 });
  const gown = { ...faded, facts: { short_description: "christening gown" } };
  assert.match(paragraph("textile-rug", gown), /over about 30 per cent of the gown\./);
});

test("whether it is full length is asked of a rug, and of no sampler", () => {
  const asked = (name) => answer("textile-rug", "Are there repairs", { facts: { short_description: name } });
  assert.match(asked("small rug"), /Whether it is full length was not noted\./);
  assert.doesNotMatch(asked("sampler in a frame"), /full length/);
});

test("what a note tells of a fault stands in brackets behind it, before the light; one of sentences behind a colon", () => {
  const fault = (note, more) => paragraph("jewellery", one("side-stones", "scratch", { note, ...more }));
  assert.match(
    fault("the left one", { light: "loupe" }),
    /side stone \(the left one\), seen through a x10 loupe\./,
  );
  assert.match(fault("old, worn smooth"), /side stone \(old, worn smooth\)\./);
  assert.match(fault("old. Worn smooth"), /side stone: old\. Worn smooth\./);
  assert.match(fault("near (see below)"), /side stone near \(see below\)\./);
});

test("of one fault it is not noted on which it is, though it is said of several marks", () => {
  const worn = { ...one("marks", "mark-illegible"), facts: { short_description: "six brooches", pieces: 6 } };
  assert.match(paragraph("jewellery", worn), /legible\. Not noted: on which of the six\./);
  const two = {
    ...worn,
    findings: [...worn.findings, { zone: "mount", term: "solder-repair", severity: 1 }],
  };
  assert.match(
    paragraph("jewellery", two),
    /Not noted: which of the six the solder repair and the illegible marks are on\./,
  );
});
