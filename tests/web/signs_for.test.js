/** What a valuer signs for: no look, no part and no trial that is not on record. A case each, as it was read. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { zonesUntried } from "../../web/job/condition.ts";
import { recordOf, written } from "./any_words.js";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const called = (short_description, more = {}) => ({ facts: { short_description, ...more } });

test("a sign of grinding on one edge is not denied of the edge that goes on from it", () => {
  const ground = one("rim", "trimmed", { extent_mm: 5, piece: "left" });
  const denials = ["lip", "foot"].map((zone) => [zone, "trimmed", "fingertip"]);
  const pair = { ...ground, denials, ...called("pair of decanters", { pieces: 2 }) };
  assert.match(
    paragraph("glass", pair),
    /No other sign of grinding to the lips felt, and none to the feet, with a fingertip\./,
  );
  const both = { ...one("rim", "trimmed"), denials: denials.slice(0, 1), ...called("decanter") };
  assert.match(paragraph("glass", both), /No other sign of grinding to the lip felt with a fingertip\./);
});

test("a tick alone does not pledge that a key, a chain or a pendulum is with it", () => {
  assert.match(answer("watch", "Are box", {}), /Whether a chain, fob or key is with it was not noted\./);
  const fob = answer("watch", "Are box", called("pocket watch with fob"));
  assert.match(fob, /There is a chain, fob or key with it\./);
  assert.match(
    answer("tinplate-diecast", "Does the motor", {}),
    /Whether the key is with it was not noted\./,
  );
  const clock = (short) => answer("clock", "Is all of it", short);
  assert.match(clock({}), /Whether the finials and feet, .* and the keys are present was not noted\./);
  const bent = clock(one("pendulum", "bent"));
  assert.match(bent, /The pendulum is present\. Whether the finials and feet, the weights and the keys are/);
  assert.match(clock({ counts: { keys: 2 } }), /The keys are present\./);
});

test("the case of a barometer is its body, and is missed on none", () => {
  const bare = { not_there: ["case", "accessories"] };
  assert.match(paragraph("camera-scientific", bare), /Without case\./);
  const stick = { ...bare, ...called("stick barometer, mercury") };
  assert.doesNotMatch(paragraph("camera-scientific", stick), /Without case/);
  assert.match(answer("camera-scientific", "Are case", stick), /It has no accessories\./);
});

test("that a sheet has no folds is not said for certain, and of one that has them it is said with the look", () => {
  const flat = answer("work-on-paper", "Are there tears", { not_there: ["folds"] });
  assert.doesNotMatch(flat, /folds\./);
  const folded = { ...called("folded poster"), tests: { "raking-light": ["works", "", ""] } };
  const [look] = book.plans["work-on-paper"].tests.filter(({ said_beside }) => said_beside);
  folded.tests = { [look.test]: ["works", "nothing-seen", ""] };
  assert.match(
    answer("work-on-paper", "Are there tears", folded),
    /Looked at in low side light for creases and further folds, with nothing to report/,
  );
});

test("of a lamp that no opening takes it is not said that it was not put in", () => {
  assert.match(paragraph("doll", {}), /[Ll]amp not put inside the head/);
  assert.doesNotMatch(paragraph("doll", { not_there: ["crown"] }), /[Ll]amp not put inside/);
});

test("what was not looked through is graded so far as examined, whatever else was tried of it", () => {
  const plan = book.plans["camera-scientific"];
  const sextant = { ...called("sextant"), tests: { focus: ["works", "", ""] } };
  assert.match(paragraph("camera-scientific", sextant), /^Good, so far as examined\./);
  assert.match(paragraph("camera-scientific", sextant), /Whether the index arm moves was not noted\./);
  const through = { ...sextant, tests: { ...sextant.tests, "optics-torch": ["works", "", ""] } };
  const lit = { ...called("microscope"), denials: [["lens", "mould", "torch"]], not_there: ["shutter"] };
  assert.doesNotMatch(paragraph("camera-scientific", lit), /so far as examined|not looked through/);
  const none = recordOf(written(plan, { ...through, not_there: ["shutter"] }));
  assert.deepEqual(zonesUntried(plan, none), []);
});

test("a part that could not be seen is named once, with its reason", () => {
  const shut = { not_examined: { inside: "no-tool" }, tests: { "inside-lamp": ["not-done", "no-tool", ""] } };
  const [look] = book.plans["stringed-instrument"].tests.filter(({ shows }) => shows?.includes("inside"));
  shut.tests = { [look.test]: ["not-done", "no-tool", ""] };
  const said = paragraph("stringed-instrument", shut);
  assert.equal(said.match(/the tool for it was not at hand/g).length, 1, said);
  const other = { ...shut, tests: { [look.test]: ["not-done", "no-time", ""] } };
  assert.match(paragraph("stringed-instrument", other), /inside: time did not allow it/);
});

test("one of two is one or both; a jug has the handle, and a guitar the sound-hole", () => {
  const stains = {
    ...one("inside", "stain", { extent_count: 2 }),
    ...called("pair of decanters", { pieces: 2 }),
  };
  assert.match(paragraph("glass", stains), /on one or both insides\./);
  const jug = { ...one("handles", "missing-part", { extent_count: 1 }), ...called("stoneware jug") };
  assert.match(paragraph("ceramics", jug), /The handle is missing\./);
  const hole = { ...one("sound-holes", "edge-wear", { extent_mm: 28 }), ...called("guitar") };
  assert.match(paragraph("stringed-instrument", hole), / of the sound-hole\b/);
});

test("of three medals nobody knows whether each was tried with a magnet", () => {
  const three = { ...called("group of three medals", { pieces: 3 }), tests: { magnet: ["works", "", ""] } };
  assert.match(
    paragraph("medal-coin", three),
    /It was not drawn by a magnet; whether one or all three were tried was not noted\./,
  );
  const two = { ...called("pair of watercolours", { pieces: 2 }) };
  assert.match(
    answer("work-on-paper", "Is the signature", two),
    /Whether the signatures are in pencil, printed or later was not noted\./,
  );
});

test("a share of what has no plain name is of the whole, that of a portfolio of its sheets", () => {
  const cockled = (name) => {
    const sheets = { ...one("outline", "cockling", { extent_percent: 35 }), ...called(name) };
    return paragraph("work-on-paper", sheets);
  };
  assert.match(cockled("gouache in two halves"), /Cockling over about 35 per cent of the whole\./);
  assert.match(cockled("portfolio of watercolours"), /Cockling over about 35 per cent of the sheets\./);
});

test("that no fault was noted is said of each of several places, and what is left of them is further", () => {
  const chip = answer("ceramics", "Which chips", one("rim", "chip", { extent_mm: 2 }));
  assert.match(chip, /No further fault noted on [^.]* or the underside\./);
  assert.doesNotMatch(chip, /noted on [^.]* and /);
  const ground = { ...one("rim", "trimmed", { extent_mm: 5, piece: "left" }) };
  const pair = { ...ground, ...called("pair of decanters", { pieces: 2 }) };
  assert.match(answer("glass", "Are rim", pair), /the bases, or the rim of the right one\./);
});

test("a sheet has a left margin, and a rug a left border as viewed", () => {
  const on = (class_id, zone) => paragraph(class_id, one(`${zone}/viewers-left`, "stain", { extent_mm: 9 }));
  assert.match(on("work-on-paper", "margins"), /A stain of 9 mm on the left margin\./);
  assert.match(on("textile-rug", "border"), /left border as viewed/);
});

test("what insects leave in wood is dust", () => {
  const denied = (zone) => ({ denials: [[zone, "frass", "lamp"]] });
  assert.match(paragraph("furniture", denied("legs")), /No fresh worm dust seen on the legs under a lamp\./);
  assert.match(paragraph("soft-toy", denied("cover")), /No fresh insect droppings seen on the cover/);
  const found = { findings: [{ zone: "legs", term: "frass", severity: 3 }] };
  assert.match(paragraph("furniture", found), /Fresh worm dust on /);
});

test("a tile is its own body, and what breath showed in part is a ghost", () => {
  const nine = { denials: [["body", "chip", "lamp"]], ...called("nine tiles", { pieces: 9 }) };
  assert.match(paragraph("ceramics", nine), /No chip seen on the tiles under a lamp\./);
  const forks = { tests: { breath: ["works-in-part", "", ""] }, ...called("six forks") };
  assert.match(paragraph("silver-plate", forks), /They were breathed on, and part of a ghost showed\./);
});

test("eleven volumes have lower joints", () => {
  const torn = one("joints/upper", "tape-repair", { extent_count: 1, piece: "4" });
  const set = { ...torn, ...called("set of twelve volumes", { pieces: 11 }) };
  assert.match(answer("book-map", "Is the binding", set), /the caps, the lower joints [^.]*or the sewing/);
  const unseen = { not_examined: { "joints/lower": "no-time" }, ...called("eleven volumes", { pieces: 11 }) };
  assert.match(paragraph("book-map", unseen), /Not examined: the lower joints; time did not allow it\./);
});
