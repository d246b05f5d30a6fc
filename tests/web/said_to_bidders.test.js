/** What was still left open, or said of the wrong thing, in what bidders are told: a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answerInWords } from "../../web/job/answer_words.ts";
import { fiveAnswers } from "../../web/job/answers.ts";
import { planOfKind } from "../../web/job/kind_of.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { asText } from "../../web/job/sentences.ts";
import { isFindingTurned } from "../../web/job/turned_findings.ts";
import { finding, recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

/** A record of which some zones were each cleared by a press of their own, and all others by one. */
function byHand(class_id, begins, ...zones) {
  const plan = book.plans[class_id];
  const record = recordOf(written(plan, {}));
  for (const [at, zone] of zones.entries())
    Object.assign(record.fields[`zones/${zone}`], { operation_id: `by-hand-${at}`, made_at: `10:0${at}` });
  const answers = fiveAnswers(plan, book, record);
  return asText(answers.find(({ question }) => question.startsWith(begins)).answer);
}

test("who clears a key by itself has it in hand", () => {
  assert.match(byHand("tinplate-diecast", "Does the motor", "key"), /^The key is with it\./);
  const swept = answer("tinplate-diecast", "Does the motor", {});
  assert.match(swept, /Whether the key is with it was not noted\./);
  const loading = byHand("silver-plate", "What does it weigh", "loading");
  assert.match(loading, /Whether it is loaded or filled in part was not noted\./);
  const clock = byHand("clock", "Is all of it there", "finials", "keys");
  assert.match(clock, /How many finials, feet and keys there are was not noted\./);
});

const named = (short_description, pieces, more = {}) => ({ facts: { short_description, pieces, ...more } });
const on = (zone, term, more = {}) => ({ zone, term, severity: 2, ...more });

test("a panel or a quilt has no ends, and may have been cut down all the same", () => {
  const asked = (name, not_there, more) =>
    answer("textile-rug", "Are there repairs", { ...named(name, 1), not_there, ...more });
  const none = ["ends", "hem", "stress", "fastenings"];
  for (const name of ["embroidered panel", "sampler", "patchwork quilt"])
    assert.match(asked(name, none), /Whether it was cut down was not noted\./);
  const denied = { denials: [["border", "trimmed", "lamp"]] };
  assert.doesNotMatch(asked("sampler", none, denied), /cut down was not noted/);
  assert.doesNotMatch(asked("rug", ["stress", "fastenings"]), /cut down/);
  assert.doesNotMatch(asked("evening dress", ["ends"]), /cut down/);
});

test("a rug that has lost a piece of its border is not full length, and one without its fringe may be", () => {
  const rug = (term, more) =>
    answer("textile-rug", "Are there repairs", { ...named("rug", 1), ...one("ends/bottom", term, more) });
  const open = /Whether it is full length was not noted\./;
  assert.doesNotMatch(rug("loss", { severity: 3, extent_mm: 60 }), open);
  assert.doesNotMatch(rug("missing-part", { note: "the border" }), open);
  assert.match(rug("loss", { note: "the fringe" }), open);
});

test("medals mounted for wear leave nothing open of how they are mounted", () => {
  const group = (seen_words) =>
    answer("medal-coin", "Is the group", named("group of five medals", 5, { seen_words }));
  for (const words of ["Mounted for wear, in a card box.", "Court-mounted.", "Swing mounted on a bar."])
    assert.doesNotMatch(group(words), /as worn/);
  assert.match(group("In a card box."), /Whether it is mounted as worn was not noted\./);
});

test("an opinion of one piece leaves open how it is with the others", () => {
  const naming = (pieces, piece) =>
    answer("medal-coin", "Is the naming", {
      ...named(`group of ${pieces} medals`, pieces),
      ...one("naming", "altered-inscription", piece),
    });
  assert.match(naming(5, { piece: "4" }), /Whether the namings of the others are original was not noted\./);
  assert.match(naming(2, { piece: "1" }), /Whether the naming of the second is original was not noted\./);
  assert.doesNotMatch(naming(2, { piece_count: 2 }), /original was not noted/);
  const rabbits = answer("soft-toy", "Are pads", {
    ...named("pair of rabbits", 2),
    ...one("eyes/proper-left", "replaced-part", { piece: "1" }),
  });
  assert.match(rabbits, /, and the proper left eye of the second, are the original ones was not noted\./);
});

test("that a rabbit does not smell is nothing of its form", () => {
  const moth = answer("soft-toy", "Has it moth", {
    ...named("pair of rabbits", 2),
    lights: { outline: "smell" },
    denials: [["outline", "odour-musty", "smell"]],
  });
  assert.match(moth, /No musty odour smelled/);
  assert.doesNotMatch(moth, /general form/);
});

test("marks that nobody copied may be hallmarks or none", () => {
  const metal = (more) => answer("jewellery", "Which metal", { ...named("ring", 1), ...more });
  assert.match(metal({}), /examined under a lamp and not copied\. Whether it is hallmarked was not noted\./);
  assert.equal(metal({ not_there: ["marks"] }).match(/hallmarked/g)?.length, 1);
  const mark = { place: "shank", technique: "struck", colour: "", completeness: "worn", text: "18" };
  const marked = metal({ facts: { "marks/0": { ...mark, reading: "18 carat", withdrawn: false } } });
  assert.doesNotMatch(marked, /hallmarked/);
});

test("metal is refinished, and its finish is not", () => {
  const telescope = (more) => paragraph("camera-scientific", { ...named("telescope", 1), ...more });
  const found = telescope(one("finish-metal", "refinished"));
  assert.match(found, /The metal is refinished\./);
  assert.match(telescope({ origins: { "finish-metal": ["refinished", ""] } }), /The metal is refinished\./);
  const denied = telescope({ denials: [["finish-metal", "refinished", "lamp"]] });
  assert.match(denied, /No sign of refinishing of the metal seen under a lamp\./);
  const original = telescope({ origins: { "finish-metal": ["original-probably", ""] } });
  assert.match(original, /The finish of the metal is apparently original\./);
  assert.match(paragraph("furniture", one("surface", "refinished")), /The surface is refinished\./);
});

test("what a sentence says of the sheet is said of its back", () => {
  const found = finding({ ...on("verso", "laid-down"), severity: 3 });
  const record = recordOf({ "findings/0": found });
  const described = { plan: book.plans["work-on-paper"], book, record };
  assert.equal(isFindingTurned(described, "The sheet is laid down.", "0", false), false);
  assert.equal(isFindingTurned(described, "The mount is laid down.", "0", false), true);
});

test("a part of a clock is from another clock, and of what is called by no plain noun from another item", () => {
  const from = (class_id, name, zone) =>
    paragraph(class_id, { ...named(name, 1), ...one(zone, "associated-part") });
  assert.match(from("clock", "longcase clock", "movement"), /is associated, from another clock\./);
  assert.match(from("glass", "decanter", "stopper"), /is associated, from another decanter\./);
  assert.match(from("stringed-instrument", "violin", "scroll"), /is associated, from another violin\./);
  assert.match(from("camera-scientific", "respirator", "body"), /is associated, from another item\./);
});

test("a caution that is told is nothing of the kind that is asked for", () => {
  const short = {
    not_there: ["lining"],
    findings: [on("support", "stain")], // of which nobody asks here
    tests: { "light-behind": ["not-done", "no-time", ""] },
    facts: {
      "cautions/0": { hazard: "H05", level: "amber", sign: "thin support", zone: "support", called: "" },
    },
  };
  const told = answer("painting", "Is it lined", short);
  assert.match(told, /Held back/);
  assert.match(told, /Nothing of the kind asked for noted on the support/);
});

test("neighbours with the same fault, that nobody can count, are one sentence", () => {
  const slight = (...zones) =>
    paragraph("camera-scientific", {
      findings: zones.map(([zone, more]) => ({ zone, term: "play", severity: 1, ...more })),
    });
  assert.match(slight(["focus"], ["moving-parts"]), /\. Slight play in the focus and the moving parts\./);
  assert.match(slight(["focus"], ["moving-parts", { note: "the arm" }]), /Slight play in the focus\. Slight/);
  assert.match(slight(["focus"], ["moving-parts", { severity: 2 }]), /Slight play in the focus\. Play in/);
});

test("how a wheel or a joint moved is told where it is asked how a thing goes", () => {
  const wheel = (begins) =>
    answer("tinplate-diecast", begins, { tests: { "free-wheel": ["no-response", "", ""] } });
  assert.doesNotMatch(wheel("Are wheels"), /did not turn/);
  assert.match(wheel("Does the motor"), /One wheel was tried and did not turn\b/);
  const joints = (begins) =>
    answer("soft-toy", begins, { tests: { "turn-joints": ["works-in-part", "", ""] } });
  assert.doesNotMatch(joints("Was it ever"), /joints/);
  assert.match(joints("Is there a label"), /Not all joints turned freely/);
});

test("two denials by one light are one sentence, and the light stands in it once", () => {
  const join = (words, clear, zone = "paint") =>
    answerInWords([
      { words, from: [], keys: [`denials/${zone}/x`] },
      { words: clear, from: [], keys: [`clear/${zone}`] },
    ]);
  assert.equal(
    join("No sign seen under a lamp that the paint is new.", "No fault noted on the paint under a lamp."),
    "No sign seen under a lamp that the paint is new, nor any other fault on the paint.",
  );
  assert.equal(
    join(
      "No sign of repainting seen in low side light.",
      "No sign of later work noted on the paint under a lamp.",
    ),
    "No sign of repainting seen in low side light, nor any other sign of later work under a lamp.",
  );
  assert.equal(
    join(
      "No frass seen on the cover under a lamp.",
      "No fault noted on the cover under a lamp, or on the filling.",
      "cover",
    ),
    "No frass seen on the cover under a lamp, nor any other fault on the cover or on the filling.",
  );
});

test("what no light shows goes with what was seen", () => {
  const opened = answer("soft-toy", "Was it ever opened", { lights: { outline: "smell" } });
  assert.match(opened, /No fault noted on the nose, the mouth or the back under a lamp, or on the filling\./);
});

test("it is the places that were measured", () => {
  const moth = (more) => paragraph("soft-toy", one("cover", "insect-grazing", more));
  const three = moth({ extent_mm: 4, extent_count: 3 });
  assert.match(three, /Grazing by insects on the cover, in three places of up to 4 mm\./);
  assert.match(moth({ extent_mm: 4 }), /Grazing by insects over 4 mm on the cover\./);
});

test("letters are from somebody, addressed to somebody, and no documents", () => {
  const by = { maker: "Private Jonas Hollowell", maker_certainty: "by" };
  const address = { place: "address", technique: null, colour: "", completeness: "complete", reading: "" };
  const name = "bundle of letters";
  const values = {
    short_description: name,
    ...by,
    "measures/letters": { value: 62, unit: "n", typed: "62" },
    "marks/0": { ...address, text: "Miss A. Hollowell", withdrawn: false, standing: "borne" },
  };
  const plan = planOfKind(book.plans["work-on-paper"], recordOf(values));
  const letters = asText(lotDescription(plan, book, recordOf(values)));
  assert.match(letters, /^A bundle of letters, from Private Jonas Hollowell\./);
  assert.match(letters, /Addressed: “Miss A\. Hollowell”\. 62 letters\./);
  assert.match(lot("furniture", { short_description: "letter rack", ...by }), /^A letter rack, by Private/);
});

test("tears are no number of letters", () => {
  const torn = { ...named("bundle of letters", 62), ...one("sheets", "tear", { extent_count: 4 }) };
  for (const begins of ["How many letters", "Is it complete"])
    assert.doesNotMatch(answer("work-on-paper", begins, torn), /tear/);
  assert.match(answer("work-on-paper", "How much foxing", torn), /Four tears/);
});

test("a note that names what was moved says what moved", () => {
  const moved = (result, note) => paragraph("free", { tests: { "gentle-move": [result, "", note] } });
  assert.match(moved("works", "lid"), /The lid moved a little when tried\./);
  assert.match(moved("no-response", "the lid"), /The lid did not move when tried\./);
  assert.match(moved("works", "slowly"), /It moved a little when tried: slowly\./);
});

test("a catch that held is told once", () => {
  const brooch = (denials) => paragraph("jewellery", { denials, tests: { clasp: ["works", "", ""] } });
  const held = brooch([["brooch-pin", "catch-fails", "touch"]]);
  assert.match(held, /The catch of the brooch pin held/);
  assert.doesNotMatch(held, /catch opened and closed/);
  assert.match(brooch([]), /The catch opened and closed once\./);
});

test("nobody asks for a main stone of what is set with many", () => {
  const stones = (...not_there) => answer("jewellery", "How large", { ...named("brooch", 1), not_there });
  assert.doesNotMatch(stones("main-stone"), /no main stone/);
  assert.match(stones("main-stone", "side-stones"), /It has no main stone or side stones\./);
});

test("of a portfolio the sheets are cockled", () => {
  const cockled = { ...named("portfolio", 1), ...one("outline", "cockling", { extent_percent: 35 }) };
  assert.match(paragraph("work-on-paper", cockled), /Cockling over about 35 per cent of the sheets\./);
});

test("what is let into a candlestick is its nozzle", () => {
  const missing = (name) => paragraph("silver-plate", { ...named(name, 1), ...one("liner", "missing-part") });
  assert.match(missing("candlestick"), /The nozzle is missing\./);
  assert.match(missing("mustard pot"), /The liner is missing\./);
});
