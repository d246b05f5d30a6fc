/** What the desk made of the sentences of a lot reaches the answers to bidders, and leaves nothing dangling there. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { deskAnswers } from "../../web/job/desk_answers.ts";
import { deskTexts, orderAfter, versionOf } from "../../web/job/desk_words.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";

const size = (value, unit) => ({ value, unit, typed: "" });

/** The answer to the question that begins so, after the desk changed the sentences of a text that hold some words. */
function answerAfter(class_id, short, begins, changes) {
  const plan = book.plans[class_id];
  const values = { short_description: "thing", ...written(plan, short) };
  for (const [text, holds, version, words] of changes) {
    const { lines } = textOf(class_id, values, text);
    const line = lines.find((one) => one.words.includes(holds));
    if (version === "up") values[`sentence-order/${text}`] = orderAfter(lines, line, -1);
    else values[`sentences/${text}/${line.sentence}`] = versionOf(text, line, version, words);
  }
  const answers = deskAnswers(plan, book, recordOf(values));
  return asText(answers.find(({ question }) => question.startsWith(begins)).answer);
}

function textOf(class_id, values, name) {
  return deskTexts(book.plans[class_id], book, recordOf(values)).find((text) => text.name === name);
}

test("a description that the desk rewrote is what bidders are told of size, maker, date and material", () => {
  const facts = {
    materials: "silver",
    "measures/weight": { ...size(518, "g"), basis: "gross" },
    maker: "Thorn",
    maker_certainty: "by",
  };
  const weight = answerAfter("silver-plate", { facts }, "What does it weigh", [
    ["description", "518 g", "rewritten", "Weight of all pieces 400 g."],
    ["description", "silver", "rewritten", "A plated thing, by Thorn."],
  ]);
  assert.match(
    weight,
    /^Weight of all pieces 400 g\. A plated thing, by Thorn\. Whether it is loaded or filled in part was not noted\./,
  );
  const edition = answerAfter("book-map", { facts }, "Which edition", [
    ["description", "Thorn", "rewritten", "A thing for which Thorn is named."],
  ]);
  const open = "No imprint was copied. Edition and issue were not noted. The date was not noted.";
  assert.ok(edition.startsWith(`A thing for which Thorn is named. ${open}`), edition);
});

test("what the desk moved comes in its order in the answers, too", () => {
  const short = {
    findings: [
      { zone: "rim", term: "chip", severity: 2 },
      { zone: "foot-rim", term: "crack", severity: 2 },
    ],
  };
  const chips = (changes) => answerAfter("ceramics", short, "Which chips", changes);
  assert.match(chips([]), /^A chip to the rim\. A crack in the foot-rim\./);
  assert.match(chips([["condition", "A crack", "up"]]), /^A crack in the foot-rim\. A chip to the rim\./);
  assert.match(chips([]), /The chip and the crack were not measured\./);
  assert.match(
    chips([["condition", "A crack", "rewritten", "A short crack in the foot-rim."]]),
    /A short crack in the foot-rim\..* The chip was not measured\./,
  );
});

test("of what the desk struck the answer says that it is not all, and points to nothing that is gone", () => {
  const short = { findings: [{ zone: "inside", term: "bloom", severity: 2 }], not_there: ["metal"] };
  const cloudy = (changes, more) => answerAfter("glass", { ...short, ...more }, "Is it cloudy", changes);
  const struck = [["condition", "loom", "struck", ""]];
  assert.equal(cloudy(struck), "Answered on request.");
  assert.match(cloudy([], { not_there: [] }), /no further fault noted on the glass\.$/i);
  assert.equal(
    cloudy(struck, { not_there: [] }),
    "No fault noted on the glass. The rest is answered on request.",
  );
});

test("what the desk wrote of a zone that it never had is said in its place", () => {
  const short = { not_there: ["label-mark", "voice"] };
  const label = answerAfter("soft-toy", short, "Is there a label", [
    ["condition", "Without label", "rewritten", "No label, nor a trace of one."],
  ]);
  assert.match(label, /^It has no voice box\. No label, nor a trace of one\.$/);
});
