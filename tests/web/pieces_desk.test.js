/** Which piece of a set a fault is on, beside what the desk made of it; and what is missing of one piece alone. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { deskTexts, keysOfLine, versionOf } from "../../web/job/desk_words.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { asText } from "../../web/job/sentences.ts";
import { finding, recordOf, written } from "./any_words.js";
import { paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const plan = book.plans.ceramics;
const chip = (more) => finding({ zone: "rim", term: "chip", severity: 2, ...more });
const cups = (findings, facts = {}) =>
  written(plan, { facts: { short_description: "six cups", pieces: 6, ...facts }, findings });
const condition = (values) =>
  deskTexts(plan, book, recordOf(values)).find(({ name }) => name === "condition");

/** What is printed now, where the desk made something of the line of `key` before. */
function afterDesk(before, key, version, words, now = before) {
  const line = condition(before).lines.find((one) => keysOfLine(one).includes(key));
  const said = versionOf("condition", line, version, words);
  return condition({ ...now, [`sentences/condition/${line.sentence}`]: said }).words;
}

const OPEN = /Not noted: which of the/;
const one = cups([chip()]);

test("of a fault that the desk struck, or of which it wrote which piece it is on, nobody asks that", () => {
  assert.doesNotMatch(afterDesk(one, "findings/0", "struck", ""), OPEN);
  const words = "A chip to the rim of the smallest.";
  const text = afterDesk(one, "findings/0", "rewritten", words);
  assert.ok(text.includes(words), text);
  assert.doesNotMatch(text, OPEN);
  assert.match(afterDesk(one, "findings/0", "rewritten", "A tiny chip to the rim."), OPEN);
});

test("that a piece was not noted gives way where it was since, or of more faults it was not", () => {
  const words = "It was not noted which of the six has the chip.";
  const since = (now) => afterDesk(one, "which-piece", "rewritten", words, now);
  assert.ok(since(one).includes(words));
  for (const now of [cups([chip({ piece: "3" })]), cups([chip({ withdrawn: true })])])
    assert.doesNotMatch(since(now), /not noted which/);
  assert.match(since(cups([chip(), chip({ zone: "foot-rim" })])), /which of the six the chips are on/);
  const struck = (now) => afterDesk(one, "which-piece", "struck", "", now);
  assert.doesNotMatch(struck(one), OPEN);
  assert.match(struck(cups([chip()], { pieces: 7 })), /which of the seven the chip is on/);
});

test("of several covers one that is missing is all of itself, and the others are there", () => {
  const gone = (more) => ({ zone: "cover", term: "missing-part", severity: 3, ...more });
  const of = (...findings) =>
    paragraph("ceramics", { facts: { short_description: "six cups", pieces: 6 }, findings });
  const text = of(gone({ piece: "2" }), { zone: "cover", term: "chip", severity: 2, piece: "3" });
  assert.match(
    text,
    /The cover of piece 2 of the six is missing\. Piece 3 of the six has a chip to the cover\./,
  );
  for (const more of [{ piece: "2" }, { piece_count: 1 }])
    assert.match(of(gone(more)), /Fit of the covers not tried/);
  for (const more of [{ piece_count: 6 }, {}]) assert.doesNotMatch(of(gone(more)), /Fit of the cover/);
  const all = ["1", "2", "3", "4", "5", "6"].map((piece) => gone({ piece }));
  assert.doesNotMatch(of(...all), /Fit of the cover/);
});

test("what a trial showed of the other pieces is told beside the one on which it cannot be so", () => {
  const of = (class_id, called, pieces, zone, term, trial, piece) =>
    paragraph(class_id, {
      facts: { short_description: called, pieces },
      findings: [{ zone, term, severity: 3, piece }],
      tests: { [trial]: ["works", "", ""] },
    });
  const clocks = ["clock", "pair of clocks", 2, "movement", "seized", "is-it-going"];
  assert.match(
    of(...clocks, "2"),
    /The movement of the second is seized\. The other one was going when examined/,
  );
  assert.match(of(...clocks), /Its running was tested|Their running was tested/);
  const cup = ["ceramics", "six cups", 6, "body", "crack", "ring"];
  assert.match(of(...cup, "3"), /The others rang clear when tapped once\./);
  assert.match(of(...cup), /They were tapped once\./);
});

test("a piece that is missing is said to be that, and counts that differ stand side by side", () => {
  const pair = { facts: { short_description: "pair of vases", pieces: 2 } };
  for (const zone of ["outline", "set-count"])
    assert.match(
      paragraph("ceramics", { ...pair, findings: [{ zone, term: "missing-part", severity: 3, piece: "2" }] }),
      /The second is missing\./,
    );
  const counted = (called, pieces, walked) =>
    asText(
      lotDescription(
        plan,
        book,
        recordOf(
          written(plan, {
            facts: { short_description: called, ...(pieces ? { pieces } : {}) },
            counts: { "set-count": walked },
          }),
        ),
      ),
    );
  assert.match(counted("cups", 6, 5), /Counted: six \w+; another count gave five\./);
  assert.match(counted("cups", 5, 5), /Counted: five \w+\./);
  assert.doesNotMatch(counted("three pieces", 0, 3), /Counted/);
});

test("what goes on is called by a noun, or by the zone that is so", () => {
  const terms = book.vocabulary.terms.filter(({ noun, says, verbs }) => !noun && (says || verbs));
  for (const { term } of terms) {
    const text = paragraph("clock", { findings: [{ zone: "movement", term, severity: 2, activity: "P" }] });
    const [, what] = /\. The ([^.]*) may get worse\./.exec(text);
    assert.match(what, /(ing|ion|ness)$| movement$/, what);
  }
});

test("several things are they from beginning to end of a text", () => {
  for (const called of ["six things", "a pair of shoes", "half a dozen spoons"])
    for (const [class_id, ruled] of Object.entries(book.plans).filter(([, { refer_only }]) => !refer_only)) {
      const tests = Object.fromEntries(ruled.tests.map(({ test: name }) => [name, ["works", "", ""]]));
      const facts = {
        short_description: called,
        "check-in": { state: "differs", words: "", second_by: "a" },
      };
      const record = recordOf(written(ruled, { facts, tests }));
      const texts = fiveAnswers(ruled, book, record).map(({ answer }) => asText(answer));
      const text = [paragraph(class_id, { facts, tests }), ...texts].join(" ");
      const of_it = text
        .split(/(?<=[.])\s+/)
        .filter((said) => /^It | it (was|is|has|differed)\b| with it\b/.test(said));
      assert.deepEqual(of_it, [], class_id);
    }
});

test("what was found on a zone that the plan has no longer counts for the word for the whole", () => {
  const of = (severity, more) =>
    paragraph("ceramics", { findings: [{ zone: "of-before", term: "chip", severity, ...more }] });
  for (const [severity, word] of [
    [2, "Very good."],
    [3, "Good."],
    [4, "Fair."],
  ])
    assert.ok(of(severity).startsWith(word), of(severity));
  assert.ok(of(2, { certainty: "told" }).startsWith("Excellent."));
});

test("of several faults that nobody told apart by the piece it is asked which pieces they are on", () => {
  const two = [chip({ piece: "3" }), finding({ zone: "body", term: "crack", severity: 2, extent_count: 2 })];
  assert.match(condition(cups(two)).words, /Not noted: which of the six the cracks are on\./);
  const [, crack] = two;
  assert.match(
    condition(cups([two[0], { ...crack, extent_count: 1 }])).words,
    /which of the six the crack is on\./,
  );
});
