/** What a cataloguer would not sign: whose fault it is, what of it is missing, and what stays open of it, a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

const named = (short_description, pieces) => ({ facts: { short_description, pieces } });

test("a sheet is laid down, and neither its back nor its support is", () => {
  const sheet = (findings, ...of) => paragraph("work-on-paper", { ...named(...of), findings });
  const down = (zone, more) => ({ zone, term: "laid-down", severity: 3, ...more });
  assert.match(
    sheet([down("verso", { note: "on card" })], "watercolour"),
    /The sheet is laid down, on card\./,
  );
  const both = sheet([down("verso"), down("support")], "watercolour");
  assert.equal(both.match(/The sheet is laid down\./g)?.length, 1);
  assert.doesNotMatch(both, /verso|support/);
  const pair = ["pair of watercolours", 2];
  assert.match(sheet([down("verso", { piece: "1" })], ...pair), /The sheet of the first is laid down\./);
  assert.match(sheet([down("support", { piece_count: 2 })], ...pair), /The sheets of both are laid down\./);
  assert.match(sheet([down("verso")], ...pair), /One or both sheets are laid down\./);
});

test("nothing is said of hinges and mount where it is asked whether a sheet is laid down", () => {
  const looked = { denials: [["verso", "laid-down", "lamp"]], ...named("watercolour", 1) };
  assert.doesNotMatch(answer("work-on-paper", "Is it laid down", looked), /hinges|mount/);
  const stuck = one("hinges", "tape-repair");
  assert.match(answer("work-on-paper", "Is it laid down", stuck), /hinge/);
});

test("lost trim is told to who asks whether a dress is complete", () => {
  const beads = { ...named("evening dress", 1), ...one("trim", "loss", { note: "beads of the front" }) };
  assert.match(answer("textile-rug", "For costume", beads), /loss to the trim \(beads of the front\)/);
});

test("a note of the place makes no part of one of several, by the name of another zone too", () => {
  const lost = (note) =>
    paragraph("furniture", {
      counts: { handles: 9 },
      ...one("handles", "missing-part", { extent_count: 1, note }),
    });
  assert.match(lost("third drawer, right"), /One of the nine handles is missing \(third drawer, right\)\./);
  assert.match(lost("the rose"), /One part missing from the handles \(the rose\)\./);
});

test("a note that names another thing says what of one is missing", () => {
  const lost = (note) => paragraph("camera-scientific", one("case", "missing-part", { note }));
  assert.match(lost("strap"), /A part missing from the case \(strap\)\./);
  assert.match(lost("lost in the move"), /The case is missing \(lost in the move\)\./);
  assert.match(lost("taken home"), /The case is missing \(taken home\)\./);
  assert.match(lost(""), /The case is missing\./);
});

test("of plates and maps the one is missing that the note speaks of", () => {
  const lost = (note) =>
    paragraph("book-map", {
      ...named("county survey", 1),
      ...one("plates", "leaf-missing", { extent_count: 1, note }),
    });
  assert.match(
    lost("the map of the northern hundred"),
    /One map missing \(the map of the northern hundred\)\./,
  );
  assert.match(lost("plate 7"), /One plate missing \(plate 7\)\./);
  assert.match(lost(""), /One plate or map missing\./);
});

test("what a note counts is what the faults are on", () => {
  const filled = (note) => paragraph("ceramics", one("applied", "filled", { extent_count: 3, note }));
  assert.match(
    filled("three fingers of the proper right hand"),
    /Filled areas to three fingers of the proper right hand\./,
  );
  assert.match(filled("three in a row"), /Three filled areas to the applied ornament \(three in a row\)\./);
  assert.match(filled("two fingers of the hand"), /Three filled areas .*\(two fingers of the hand\)\./);
});

test("what one of is missing was not counted as if all were there", () => {
  const desk = (more) => ({
    short_description: "desk",
    "zones/drawers": { state: "finding", reason: null, light: "lamp", count: 9 },
    "zones/feet": { state: "clear", reason: null, light: "lamp", count: 8 },
    "findings/0": { zone: "drawers", term: "missing-part", severity: 2, note: "", extent_count: 1, ...more },
  });
  assert.equal(lot("furniture", desk({})), "A desk. Counted: eight feet.");
  assert.match(lot("furniture", desk({ term: "warping" })), /Counted: nine drawers and eight feet\./);
});

test("which volume of a set is missing is told, or that nobody noted it", () => {
  const set = (note) =>
    answer("book-map", "Is it complete", {
      ...named("set of twelve volumes", 11),
      ...one("set-count", "missing-part", { extent_count: 1, note }),
    });
  const open = /Neither number nor title of what is missing from the set was noted\./;
  assert.match(set(""), open);
  assert.match(set("eleven volumes of twelve"), open);
  for (const note of ["volume 7", "vol. iv", "volume seven of twelve", "the index"])
    assert.doesNotMatch(set(note), open);
  assert.doesNotMatch(answer("book-map", "Is it complete", named("set of twelve volumes", 12)), open);
});

test("what else its name says of a thing is none of its maker's, nor of its date", () => {
  const violin = { dates: { words: "circa 1900" }, maker: "Josip Larkspindle", maker_certainty: "after" };
  assert.match(
    lot("stringed-instrument", { short_description: "violin, bears label", ...violin }),
    /^A violin, circa 1900, after Josip Larkspindle; bears label\./,
  );
});

test("two dolls have marks on their heads, and four eyes", () => {
  const dolls = paragraph("doll", named("two dolls", 2));
  assert.match(dolls, /The marks on the heads and the marks on the bodies were examined/);
  assert.match(paragraph("doll", named("doll", 1)), /The mark on the head and the mark on the body were/);
  const rabbits = {
    ...named("pair of rabbits", 2),
    ...one("paw-pads/proper-left", "re-covered", { piece: "1" }),
  };
  const pads = answer("soft-toy", "Are pads", rabbits);
  assert.match(pads, /Whether the eyes, the proper right paw pads and the foot pads are the original ones/);
});
