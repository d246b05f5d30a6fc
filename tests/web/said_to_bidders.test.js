/** What was still left open, or said of the wrong thing, in what bidders are told: a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { asText } from "../../web/job/sentences.ts";
import { isFindingTurned } from "../../web/job/turned_findings.ts";
import { finding, recordOf, written } from "./any_words.js";
import { answer, one, paragraph } from "./as_text.js";
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
