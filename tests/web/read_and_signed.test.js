/** What a cataloguer would not sign: whose fault it is, what is missing, and what stays open of it, a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { notTakenWords } from "../../web/job/not_taken.ts";
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
  assert.equal(lot("furniture", desk({})), "A desk. Counted: eight feet. Not measured.");
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
  const group = { short_description: "group of three medals, with papers", dates: { words: "1914 to 1919" } };
  assert.match(lot("medal-coin", group), /^A group of three medals, 1914 to 1919, with papers\./);
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
  assert.match(
    pads,
    /Whether the eyes, the proper right paw pads and the foot pads, and the .+ of the second, are the original/,
  );
});

test("what is missing is called by its note: no pane, but one of the accessories", () => {
  const lost = (class_id, zone, extent_count, note) =>
    paragraph(class_id, one(zone, "missing-part", { extent_count, note }));
  const lamp = lost("tinplate-diecast", "glazing", 1, "proper left headlamp");
  assert.match(lamp, /One part missing from the glazing \(proper left headlamp\)\./);
  assert.match(lost("tinplate-diecast", "glazing", 1, "rear pane"), /One pane missing from the glazing/);
  const eyepieces = lost("camera-scientific", "accessories", 2, "two eyepieces");
  assert.match(eyepieces, /Two accessories missing \(two eyepieces\)\./);
});

test("an odour is one however it is put, and is of a thing and not on it", () => {
  const rug = (more) => paragraph("textile-rug", one("outline", "odour-musty", more));
  assert.match(rug({ extent_words: "faint" }), /A musty odour, faint\./);
  const smoke = paragraph("soft-toy", { ...named("pair of rabbits", 2), ...one("outline", "odour-smoke") });
  assert.match(smoke, /Not noted: which of the two has the odour of smoke\./);
});

test("what is examined in a light and with a tool is said so of each", () => {
  const seen = { lights: { top: "hall-light", legs: "torch" } };
  assert.match(
    paragraph("furniture", seen),
    /Examined in the light of the hall, with a lamp and low side light\./,
  );
  assert.match(paragraph("furniture", { light: "hall-light" }), /Examined in the light of the hall\./);
});

test("a part from another of what the thing is, is said to be from another of those", () => {
  const doll = (more) => paragraph("doll", { ...named("bisque doll", 1), ...more });
  assert.match(doll(one("arms/proper-right", "associated-part")), /is associated, from another doll\./);
  const denied = { denials: [["outline", "associated-part", "lamp"]] };
  assert.match(doll(denied), /No sign of any part from another doll seen under a lamp\./);
  assert.match(
    paragraph("furniture", { ...named("washstand", 1), ...denied }),
    /No sign of any part from another piece seen under a lamp\./,
  );
});

test("of a weight and a height all that is open is said once", () => {
  const weight = { value: 518, unit: "g", typed: "518" };
  const forks = (pieces) =>
    lot("silver-plate", { short_description: "forks", pieces, "measures/weight": weight });
  assert.match(forks(1), /Weight 518 g \(16\.7 oz t\); whether gross or net was not noted\./);
  assert.match(forks(6), /; whether gross or net, and whether of one or of all six, was not noted\./);
  const height = { value: 180, unit: "mm", typed: "18" };
  const rabbits = lot("soft-toy", {
    short_description: "pair of rabbits",
    pieces: 2,
    "zones/ears/proper-left": { state: "clear", reason: null, light: "lamp", count: null },
    "measures/height": height,
  });
  assert.match(
    rabbits,
    /; whether the ears are included, and whether the other is the same, was not noted\./,
  );
});

test("what does not bear on a question is no answer to it, and worn runners are one to how it opens", () => {
  const chest = {
    findings: [
      { zone: "runners", term: "wear", severity: 2 },
      { zone: "surface", term: "refinished", severity: 2 },
    ],
  };
  const opens = answer("furniture", "Does it open", chest);
  assert.match(opens, /Wear to the runners\./);
  assert.doesNotMatch(opens, /refinished/);
  const bear = {
    findings: [
      { zone: "paw-pads/proper-right", term: "re-covered", severity: 2 },
      { zone: "eyes/proper-right", term: "replaced-part", severity: 2 },
    ],
  };
  for (const question of ["Where is it bald", "Was it ever opened"])
    assert.doesNotMatch(answer("soft-toy", question, bear), /re-covered|replaced/);
  assert.doesNotMatch(answer("ceramics", "Is gilding", one("body", "retouched")), /retouched/);
});

test("a bracelet is no strap", () => {
  const watch = (name) =>
    paragraph("watch", {
      ...named(name, 1),
      ...one("strap", "missing-part", { extent_count: 1, note: "a link" }),
    });
  assert.match(watch("wristwatch on a bracelet"), /One part missing from the bracelet \(a link\)\./);
  assert.match(watch("wristwatch"), /One part missing from the strap \(a link\)\./);
});

test("the second of four chairs has a leg stuck back", () => {
  const leg = { piece: "2", extent_count: 1, note: "back left" };
  const chairs = { ...named("four chairs", 4), ...one("legs", "restuck", leg) };
  assert.match(
    paragraph("furniture", chairs),
    /The second of the four has one leg stuck back \(back left\)\./,
  );
});

test("a trial that came to what a finding says tells it no second time", () => {
  const focus = (note) =>
    paragraph("camera-scientific", {
      ...one("focus", "stiff", { severity: 1 }),
      tests: { focus: ["works-in-part", "", note] },
    });
  assert.match(focus("stiff"), /The focus is slightly stiff\. The focus moved only in part when tried\./);
  assert.match(focus("stiff at the far end"), /only in part when tried: stiff at the far end\./);
});

test("one key is present, and several weights are", () => {
  const clock = { counts: { keys: 1, weights: 2 } };
  assert.match(answer("clock", "Is all of it there", clock), /[Tt]he weights and the key are present\./);
});

test("of several pieces of silver and plate it is open which are which", () => {
  const box = (materials, pieces = 9) =>
    answer("silver-plate", "Is it silver", {
      facts: { short_description: "box of nine pieces", pieces, materials },
    });
  const open = /Which of the pieces are silver and which plated was not noted\./;
  for (const materials of ["silver and plate", "silver, plated"]) assert.match(box(materials), open);
  for (const materials of ["silver; the odd fork plated", "silver plate", "silver"])
    assert.doesNotMatch(box(materials), open);
  assert.doesNotMatch(box("silver and plate", 1), open);
});

test("what is round by its own words has a diameter", () => {
  const size = (mm) => ({ value: mm, unit: "mm", typed: String(mm) });
  const ring = (width, seen_words) =>
    lot("jewellery", {
      short_description: "ring",
      seen_words,
      "measures/stone-length": size(5),
      "measures/stone-width": size(width),
    });
  assert.match(ring(5, "Three graduated round stones."), /Diameter of the main stone 5 mm/);
  assert.match(ring(5, "Three graduated stones."), /Length by width of the main stone 5 x 5 mm/);
  assert.match(ring(4, "Three round stones."), /Length by width of the main stone 5 x 4 mm/);
});

test("what is moulded is made with the glass, and what is engraved as well may not be", () => {
  const vase = (seen_words) =>
    answer("glass", "Is the engraving as old", { facts: { short_description: "green vase", seen_words } });
  const open = /Whether the decoration is as old as the glass was not noted\./;
  assert.doesNotMatch(vase("Six-sided, moulded."), open);
  assert.match(vase("Six-sided, moulded; engraved with a name."), open);
  assert.match(vase("Six-sided."), open);
});

test("nobody looks into a filling under a lamp", () => {
  const opened = answer("soft-toy", "Was it ever opened", { lights: { cover: "torch" } });
  assert.match(opened, /No fault noted on the nose, the mouth or the back under a lamp, or on the filling\./);
});

test("without a main stone there are no side stones", () => {
  const brooch = (not_there) => ({
    not_there,
    counts: { "side-stones": 7 },
    ...one("side-stones", "chip", { extent_count: 1 }),
  });
  const stones = answer("jewellery", "How large are the stones", brooch(["main-stone"]));
  assert.match(stones, /A chip to a stone\..* The stones were not measured\./);
  assert.doesNotMatch(stones, /side stone/);
  const beside = answer("jewellery", "How large are the stones", brooch([]));
  assert.match(beside, /A chip to a side stone\..* The side stones were not measured\./);
});

test("nobody says that the naming of all five is altered who has seen one", () => {
  const medals = (pieces) =>
    paragraph("medal-coin", { ...named("medals", pieces), ...one("naming", "altered-inscription") });
  assert.match(medals(5), /One or more namings are altered\./);
  assert.match(medals(1), /The naming is altered\./);
  const asked = answer("medal-coin", "Is the naming", named("group of five medals", 5));
  assert.match(asked, /Whether the naming is right for the recipient was not noted\./);
});

test("what was noted at a check-in stands in every answer that denies faults, and in that of what it names", () => {
  const scroll = { "check-in": { state: "differs", words: "scroll broken off at the neck", second_by: "" } };
  const told = (begins, more = {}) => answer("stringed-instrument", begins, { facts: scroll, ...more });
  const noted = /Noted when it was checked in: scroll broken off at the neck\./;
  for (const begins of ["Has it cracks", "Are scroll, neck", "How long", "Bow:"])
    assert.match(told(begins), noted, begins);
  const split = told("Has it cracks", {
    denials: [["back", "crack", "inside-lamp"]],
    ...one("neck-joint", "split"),
  });
  assert.match(split, /Before it was checked in, no further fault noted on/);
  assert.match(split, noted);
  const looked = {
    untouched: ["table", "ribs", "neck-joint", "sound-post", "inside", "bow-stick"],
    denials: [["back", "crack", "inside-lamp"]],
  };
  assert.match(told("Has it cracks", looked), noted);
  // Where it names what is asked about it is told though nothing is denied.
  const gone = {
    not_examined: { scroll: "no-time", neck: "no-time", "neck-joint": "no-time", outline: "no-time" },
  };
  assert.match(told("Are scroll, neck", gone), noted);
  assert.doesNotMatch(told("Is the label", { untouched: ["label"] }), noted);
});

test("what is missing of a zone of several things is called by its note, or what may be missing there is named", () => {
  const lost = (class_id, zone, more) => paragraph(class_id, one(zone, "missing-part", more));
  const bow = (note, more) => lost("stringed-instrument", "bow-brand", { note, ...more });
  for (const note of ["", "hair", "The hair"]) assert.match(bow(note), / The hair of the bow is missing\./);
  assert.match(bow("some of the hair"), / Some of the hair of the bow is missing\./);
  assert.match(bow("lost in the van"), / The hair of the bow is missing \(lost in the van\)\./);
  assert.match(bow("tip"), / A part of [^.]* is missing \(tip\)\./);
  assert.match(bow("hair", { certainty: "probable" }), / The hair of the bow is probably missing\./);
  const finder = (note) => lost("camera-scientific", "finder", { note });
  assert.match(finder("eyepiece"), / The eyepiece is missing\./);
  assert.match(
    finder(""),
    / The finder, the rangefinder or the eyepiece is missing; which of them was not noted\./,
  );
  assert.match(lost("stringed-instrument", "tailpiece", { note: "strings" }), / The strings are missing\./);
  assert.match(lost("soft-toy", "voice", { note: "bell" }), / The bell is missing\./);
  assert.match(
    lost("clock", "top", { note: "left finial" }),
    / A part of the top is missing \(left finial\)\./,
  );
  assert.match(lost("clock", "finials"), / One or more of the finials, feet or columns are missing\./);
  // What its plan looks for on a thing is a part of it.
  assert.match(lost("clock", "pendulum", { note: "bob" }), / A part missing from the pendulum \(bob\)\./);
  assert.match(lost("clock", "pendulum", { note: "" }), / The pendulum is missing\./);
});

test("what is missing of a set is none of the pieces that are here", () => {
  const lost = (note, zone) =>
    paragraph("ceramics", { ...named("part tea set", 14), ...one(zone, "missing-part", { note }) });
  const saucer = lost("one saucer of six", "outline");
  assert.match(saucer, / A part missing \(one saucer of six\)\./);
  assert.doesNotMatch(saucer, /which of the 14/);
  assert.match(lost("", "outline"), / A part missing; which was not noted\./);
  assert.match(lost("", "handles"), /Not noted: on which of the 14/);
});

test("a note that names a thing says what of one is missing, and nobody says all of several without a count", () => {
  const lost = (class_id, zone, note, more) =>
    paragraph(class_id, one(zone, "missing-part", { note, ...more }));
  assert.match(
    lost("watch", "movement", "a bridge screw"),
    /A part missing from the movement \(a bridge screw\)\./,
  );
  assert.match(
    lost("clock", "strike", "the hammer"),
    /A part missing from the striking work \(the hammer\)\./,
  );
  assert.match(lost("stringed-instrument", "tailpiece", "E string"), / The E string is missing\./);
  assert.match(lost("furniture", "locks", "the key"), / The key is missing\./);
  assert.match(lost("furniture", "handles", "the rose"), / A part missing from the handles \(the rose\)\./);
  for (const note of ["broken", "mislaid", "not with it"])
    assert.match(lost("ceramics", "cover", note), / The cover is missing/);
  assert.match(lost("furniture", "handles", ""), / One or more handles are missing\./);
  assert.match(lost("furniture", "handles", "all"), / The handles are missing \(all\)\./);
  assert.match(lost("furniture", "handles", "left one"), / One or more handles are missing \(left one\)\./);
  const jug = { facts: { short_description: "jug" }, ...one("handles", "missing-part") };
  assert.match(paragraph("ceramics", jug), / The handle is missing\./);
});

test("of a mark that was copied nobody says that nothing is recorded of it, nor of what no such thing has", () => {
  const mark = { place: "underside", technique: "painted", text: "ROSEHALL", completeness: "complete" };
  const set = paragraph("ceramics", { untouched: ["mark", "spout"], facts: { "marks/0": mark } });
  assert.match(set, /Nothing else is recorded of the mark\. Nothing is recorded of the spout\./);
  const medals = {
    untouched: ["note-paper", "ribbon"],
    facts: { short_description: "group of five medals" },
  };
  assert.match(paragraph("medal-coin", medals), /Nothing is recorded of /);
  assert.doesNotMatch(paragraph("medal-coin", medals), /paper of/);
});

test("nobody asks whether what a thing never had is the right one", () => {
  const asked = (class_id, begins, not_there, untouched = []) =>
    answer(class_id, begins, { not_there, untouched });
  assert.match(
    asked("watch", "Are box", ["lugs", "strap", "buckle"], ["papers", "packaging"]),
    /Whether the papers and the packaging are the right ones was not noted\./,
  );
  assert.doesNotMatch(asked("camera-scientific", "Is the lacquer", ["finish-metal"]), /Whether the lacquer/);
  const peg = asked("glass", "Does the stopper", ["stopper-peg"]);
  assert.doesNotMatch(peg, /It has no stopper/);
});

test("what was looked for in a light that is said not to have been used is told in words", () => {
  const violin = {
    tests: { "inside-look": ["not-done", "no-time", ""] },
    denials: [["back", "crack", "inside-lamp"]],
  };
  assert.match(
    paragraph("stringed-instrument", violin),
    /time did not allow it\. It is recorded as well that this was done; which of the two is right is not settled\./,
  );
});

test("views that were not taken for one reason stand together", () => {
  const skipped = (why, ...names) => names.map((name) => ({ name, why }));
  const views = [
    ...skipped("no time", "back", "bow"),
    ...skipped("not there", "case"),
    ...skipped("no time", "label", "scroll"),
  ];
  assert.deepEqual(notTakenWords(views), [
    "4 views, back, bow, label and scroll (no time)",
    "case (not there)",
  ]);
});

test("one plated piece makes no silver of the others plate, nor what was weighed as silver", () => {
  const weighed = (facts, more) =>
    answer("silver-plate", "What does it weigh", {
      facts: { ...facts },
      ...one("plating", "plating-loss", more),
    });
  const forks = { short_description: "seven silver forks", pieces: 7 };
  assert.doesNotMatch(weighed(forks, { piece_count: 1 }), /are plated/);
  assert.match(weighed(forks, { piece_count: 1 }), /Whether the others are weighable silver was not noted\./);
  assert.match(weighed(forks, { piece_count: 7 }), /They are plated, and so not weighable silver\./);
  assert.match(weighed({ short_description: "tray" }), /It is plated, and so not weighable silver\./);
  const weight = { "measures/weight": { value: 518, unit: "g", typed: "", basis: "weighable" } };
  assert.doesNotMatch(
    weighed({ ...forks, ...weight }, { piece_count: 1 }),
    /are plated|Whether .* weighable/,
  );
});

test("what differed without a word of it is told once", () => {
  const differs = { "check-in": { state: "differs", words: "", second_by: "" } };
  const text = paragraph("ceramics", { facts: differs });
  assert.equal(text.match(/differed from its pictures/g)?.length, 1);
  assert.match(text, /^Not graded: it differed from its pictures when it was checked in\./);
});
