/** What two tables said otherwise is told as not settled, whatever it is of, and the graver reading counts. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { gradeOf } from "../../web/job/condition.ts";
import { deskAnswers } from "../../web/job/desk_answers.ts";
import { deskTexts, versionOf } from "../../web/job/desk_words.ts";
import { lotDescription, lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { gravestOf } from "../../web/job/unsettled.ts";
import { clear, finding, recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";

const OTHERWISE = /\b(recorded .* as well, and (is |are )?not settled\.|not settled: )/;

/** A record of which two things are said of one field: `kept` is in force. */
function disputed(plan, field, kept, other, short = {}) {
  const record = recordOf({ short_description: "thing", ...written(plan, short) });
  const side = (value, operation_id) => ({ value, operation_id });
  record.fields[field] = side(kept, "k");
  const two = { disagreement_id: "1", field, kept: side(kept, "k"), other: side(other, "o"), settled: null };
  return { ...record, disagreements: [two] };
}

const chip = finding({ zone: "rim", term: "chip", severity: 2 });
const mark = (more) => ({
  ...{ place: "base", text: "W", technique: "painted", colour: "", completeness: null, standing: null },
  ...{ reading: "", withdrawn: false, ...more },
});
const denied = { zone: "rim", term: "chip", light: "lamp", withdrawn: false };
const tried = (result) => ({ result, why: "", note: "" });
const skipped = { state: "not-examined", reason: "no-time", light: null, count: null };
const raised = (level) => ({ hazard: "H90", level, sign: "dust", zone: "body", called: "", place: "" });

/** Class, field, two values, what a bidder reads of it beside that it is not settled, and what is not printed. */
const TWO = [
  [
    "ceramics",
    "findings/1",
    chip,
    { ...chip, term: "crack", severity: 4 },
    /A crack in the rim;/,
    /A chip to/,
  ],
  ["ceramics", "findings/1", { ...chip, severity: 0 }, { ...chip, term: "crack", severity: 4 }, /A crack in/],
  ["ceramics", "findings/1", { ...chip, certainty: "told" }, { ...chip, severity: 4 }, /A chip to the rim;/],
  [
    "ceramics",
    "findings/1",
    chip,
    { ...chip, zone: "body", term: "crack", severity: 4 },
    /crack in the body;/,
  ],
  [
    "ceramics",
    "findings/1",
    chip,
    { ...chip, zone: "body", term: "crack", severity: 4 },
    /A chip to the rim;/,
  ],
  ["ceramics", "zones/rim", clear(), skipped, /Not examined: the rim;/],
  ["ceramics", "zones/rim", skipped, clear(), /Not examined: the rim;/],
  [
    "ceramics",
    "denials/rim/chip",
    denied,
    { ...denied, withdrawn: true },
    /not settled: no chip seen on the/,
  ],
  ["clock", "origins/dial", { origin: "original" }, { origin: "replaced" }, /The dial is replaced;/],
  ["clock", "tests/is-it-going", tried("works"), tried("no-response"), /not going/],
  ["ceramics", "marks/1", mark(), mark({ standing: "not-relied-on" }), /not relied on;/],
  ["ceramics", "measures/height", size(100), size(200), /Height 10\.0 cm \(/],
  ["ceramics", "pieces", 2, 3, /Counted: two pieces;/],
  ["ceramics", "colour_now", "blue", "green", /Colour now blue; .* not seen;/],
  ["ceramics", "cautions/1", { ...raised("amber") }, raised("red"), /^Held back, .*: dust on the body;/],
];

function size(value) {
  return { value, unit: "mm", typed: "" };
}

function textsOf(plan, record) {
  const answers = fiveAnswers(plan, book, record).map(({ answer }) => asText(answer));
  return {
    paragraph: asText(conditionParagraph(plan, book, record)),
    description: asText(lotDescription(plan, book, record)),
    answers,
  };
}

for (const [class_id, field, kept, other, says, not] of TWO)
  test(`two readings of ${field}: ${says.source}`, () => {
    const plan = book.plans[class_id];
    const { paragraph, description } = textsOf(plan, disputed(plan, field, kept, other));
    const [sentence] = [paragraph, description].flatMap((text) =>
      text.split(/(?<=\.) (?=[A-Z])/).filter((one) => says.test(one)),
    );
    assert.ok(sentence, `${paragraph} ${description}`);
    assert.match(sentence, OTHERWISE);
    if (not) assert.doesNotMatch(paragraph, not);
  });

test("of two standings of a mark that which may least be relied on is read, whoever said it", () => {
  const standings = ["not-relied-on", "borne", "makers-own"];
  for (const [index, graver] of standings.entries())
    for (const milder of standings.slice(index + 1))
      for (const [kept, other] of [
        [graver, milder],
        [milder, graver],
      ]) {
        const [one, two] = [kept, other].map((standing) => mark({ standing }));
        const { fields } = gravestOf(disputed(book.plans.ceramics, "marks/1", one, two));
        assert.equal(fields["marks/1"].value.standing, graver, `${kept} beside ${other}`);
      }
});

test("of a zone of which two things are said no answer says that there is nothing to report", () => {
  for (const [class_id, field, kept, other] of TWO) {
    if (!/^(findings|denials|origins)/.test(field)) continue;
    const plan = book.plans[class_id];
    for (const text of textsOf(plan, disputed(plan, field, kept, other)).answers)
      for (const zone of ["rim", "dial"])
        assert.doesNotMatch(text, new RegExp(`fault noted on [^.]*the ${zone}\\b`), `${field} ${text}`);
  }
});

test("what one of two readings would answer is told where it is asked", () => {
  const plan = book.plans.ceramics;
  for (const severity of [1, 3]) {
    const two = [finding({ ...chip, term: "stain" }), finding({ ...chip, term: "retouched", severity })];
    const [, restored] = textsOf(plan, disputed(plan, "findings/1", ...two)).answers;
    assert.match(restored, OTHERWISE);
  }
});

test("the word for the whole is that of the worse reading, and says so where they differ", () => {
  const plan = book.plans.ceramics;
  const worse = { ...chip, severity: 4 };
  for (const two of [
    [chip, worse],
    [worse, chip],
  ]) {
    const record = disputed(plan, "findings/1", ...two);
    assert.equal(gradeOf(plan, record).word, "poor");
    assert.match(textsOf(plan, record).paragraph, /^Poor, on the graver of what was recorded\./);
  }
  const { paragraph } = textsOf(plan, disputed(plan, "measures/height", size(100), size(90)));
  assert.match(paragraph, /^Excellent\./);
});

test("a maker of whom two things are said is in no heading, and by the lower rung in the description", () => {
  const plan = book.plans.ceramics;
  const record = disputed(plan, "maker_certainty", "by", "manner-of", { facts: { maker: "Thornapple" } });
  assert.equal(lotHeading(book, record).words, "A thing");
  assert.match(
    textsOf(plan, record).description,
    /^A thing, in the manner of Thornapple; the maker was recorded otherwise as well, and is not settled\./,
  );
});

test("of two makers neither is printed as if it were known, and no signature as the hand of one", () => {
  const plan = book.plans.clock;
  const signature = mark({ text: "A. Pennyfather", place: "dial", standing: "makers-own" });
  const facts = { maker_certainty: "by", "marks/1": signature };
  const record = disputed(plan, "maker", "A. Pennyfather", "J. Pennyfather", { facts });
  const { description } = textsOf(plan, record);
  assert.match(
    description,
    /^A thing; the maker is not settled: A\. Pennyfather, or J\. Pennyfather\. It bears an? \w+ on the dial/,
  );
  assert.doesNotMatch(description, /by A|[Ss]igned|own/);
  assert.equal(lotHeading(book, record).words, "A thing");
});

test("what the desk wrote gives way where two things come to be said of it, and stands where it knew of that", () => {
  const plan = book.plans.ceramics;
  const before = disputed(plan, "findings/1", chip, { ...chip, severity: 3 });
  const texts = (record) => deskTexts(plan, book, record).find(({ name }) => name === "condition");
  const write = (record, words) => {
    const line = texts(record).lines.find(({ sentence }) => sentence === "findings/1");
    const version = versionOf("condition", line, words ? "rewritten" : "struck", words);
    return { ...record, fields: { ...record.fields, "sentences/condition/findings/1": { value: version } } };
  };
  for (const words of ["A tiny chip.", ""]) {
    const settled = write({ ...before, disagreements: [] }, words);
    const open = { ...settled, disagreements: before.disagreements };
    assert.doesNotMatch(texts(settled).words, /A chip/);
    assert.match(texts(open).words, /A chip to the rim; it was recorded otherwise as well/);
    assert.match(asText(deskAnswers(plan, book, open)[0].answer), /A chip to the rim; it was recorded/);
    assert.doesNotMatch(texts(write(open, words)).words, /A chip/);
  }
});

test("what two people say otherwise and have settled is told as a fact", () => {
  const plan = book.plans.ceramics;
  const record = disputed(plan, "findings/1", chip, { ...chip, severity: 4 });
  const settled = { ...record, disagreements: [{ ...record.disagreements[0], settled: { choose: "kept" } }] };
  const { paragraph, answers } = textsOf(plan, settled);
  for (const text of [paragraph, ...answers]) assert.doesNotMatch(text, /settled/);
});

test("by what light it was examined is settled, whatever two tables saw in one of them", () => {
  const plan = book.plans.ceramics;
  const seen = (more) => ({ ...chip, term: "retouched", light: "ultraviolet", ...more });
  const { paragraph } = textsOf(
    plan,
    disputed(plan, "findings/1", seen({ severity: 1 }), seen({ severity: 3 })),
  );
  assert.match(paragraph, /Examined with [^.;]*ultraviolet[^.;]*\./);
});

test("of two rungs of a maker the lower is in force, whichever it is", () => {
  const rungs = [
    ...["unknown", "region-period", "after", "manner-of", "follower-of", "circle-of", "workshop-of"],
    ...["attributed-to", "by"],
  ];
  rungs.forEach((lower, at) => {
    for (const higher of rungs.slice(at + 1))
      for (const two of [
        [lower, higher],
        [higher, lower],
      ]) {
        const record = gravestOf(disputed(book.plans.ceramics, "maker_certainty", ...two));
        assert.equal(record.fields.maker_certainty.value, lower, String(two));
      }
  });
});
