/** What stood wrong in the invented day's texts when they were read once more to the end, a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answerInWords } from "../../web/job/answer_words.ts";
import { fiveAnswers } from "../../web/job/answers.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

/** An answer as it is printed, where what was looked for and what was not found are one sentence. */
function printed(class_id, begins, short) {
  const plan = book.plans[class_id];
  const answers = fiveAnswers(plan, book, recordOf(written(plan, short)));
  return answerInWords(answers.find(({ question }) => question.startsWith(begins)).answer);
}

const described = (short_description, seen_words = "") => ({ facts: { short_description, seen_words } });

test("what is described as mounted as worn leaves nothing open of that", () => {
  const asked = (seen_words) =>
    answer("medal-coin", "Is the group", described("group of three medals", seen_words));
  assert.match(asked("Three medals on a bar."), /Whether it is mounted as worn was not noted\./);
  assert.doesNotMatch(asked("Three medals mounted as worn, with papers."), /as worn/);
  const complete = described("group of three medals, incomplete");
  assert.doesNotMatch(answer("medal-coin", "Is the group", complete), /Whether the group is complete/);
});

test("whether a costume was altered or is complete is taken up", () => {
  const asked = (more) => answer("textile-rug", "For costume", { ...described("silk gown"), ...more });
  assert.match(asked({}), /Whether it was altered was not noted\. Whether it is complete was not noted\./);
  assert.doesNotMatch(asked({}), /fault noted on .*(?:seams|hem)/);
  assert.doesNotMatch(asked(one("hem", "trimmed")), /Whether it was altered/);
  // A patch is a repair, and no other cut.
  assert.match(
    asked(one("back", "patched")),
    /A patch on the back\. The patch was not measured\. Whether it was altered was not noted\./,
  );
  assert.doesNotMatch(asked({ not_there: ["stress", "fastenings"] }), /Whether it/);
});

test("a mount says nothing of whether its sheet is laid down", () => {
  const back = { not_examined: { verso: "covered", hinges: "covered", support: "covered" } };
  const asked = answer("work-on-paper", "Is it laid down", back);
  assert.match(asked, /^Whether it is laid down could not be seen\. Not examined: /);
  assert.doesNotMatch(asked, /fault noted/);
});

test("the feet of a clock without finials are asked after", () => {
  const asked = (not_there) => answer("clock", "Is all of it", { not_there });
  assert.match(asked(["finials"]), /Whether the feet are there was not noted\./);
  assert.match(asked([]), /Whether the finials and feet, /);
  assert.doesNotMatch(asked([]), /the feet are there/);
});

test("beside what was looked for in vain it is another fault that was not noted", () => {
  const moth = { denials: [["face", "insect-grazing", "lamp"]], ...one("back", "patched") };
  assert.match(printed("textile-rug", "Has it moth", moth), /, nor any other such fault on the face\b/);
});

test("what none of its kind has is missed on none", () => {
  const map = { ...described("folding map"), not_there: ["half-title"] };
  assert.doesNotMatch(answer("book-map", "Is it complete", map), /half-title/);
  const bow = { ...described("bow, mottled frog"), not_there: ["sound-post"] };
  for (const { answer: said } of fiveAnswers(
    book.plans["stringed-instrument"],
    book,
    recordOf(written(book.plans["stringed-instrument"], bow)),
  ))
    assert.doesNotMatch(said.map(({ words }) => words).join(" "), /sound-post/);
});

test("no lamp is missed inside a head that is stuffed, and elsewhere in one and the same words", () => {
  const asked = (name) => answer("doll", "Has the head", { ...described(name), not_there: ["crown"] });
  assert.match(asked("bisque doll"), /Lamp not put inside the head\./);
  assert.doesNotMatch(asked("cloth doll, painted face"), /[Ll]amp/);
});

test("ears are asked after where they stand up, and an animal on all fours has one height", () => {
  const ears = { "zones/ears/proper-left": { state: "clear", reason: null, light: "lamp", count: null } };
  const tall = (name, basis = "") =>
    lot("soft-toy", {
      ...ears,
      short_description: name,
      "measures/height": { value: 210, unit: "mm", typed: "", basis },
    });
  assert.match(tall("plush rabbit"), /Height standing 21\.0 cm .*; whether the ears are included was/);
  assert.doesNotMatch(tall("monkey in a jumper"), /ears/);
  assert.match(
    tall("rabbit on all fours", "ears not included"),
    / Height 21\.0 cm \(8 1\/4 in\), ears not included\./,
  );
});

test("what was counted is no size among others", () => {
  const measures = {
    "measures/height": { value: 430, unit: "mm", typed: "" },
    "measures/plates-called-for": { value: 24, unit: "n", typed: "" },
    "measures/plates-present": { value: 23, unit: "n", typed: "" },
  };
  assert.match(
    lot("book-map", measures),
    / cm \(16 15\/16 in\)\. 24 plates and maps called for and 23 present\./,
  );
});

test("what is only possible says so beside a date with circa", () => {
  const dated = (words, dates_certainty) => lot("furniture", { dates: { words }, dates_certainty });
  assert.match(dated("circa 1790", "possible"), /possibly circa 1790/);
  assert.match(dated("circa 1790", "probable"), /, circa 1790/);
  assert.doesNotMatch(dated("possibly circa 1790", "possible"), /possibly possibly/);
});

test("a note of where one of several was makes no part of it", () => {
  const feet = (note) => ({
    counts: { feet: 8 },
    ...one("feet", "missing-part", { extent_count: 1, note }),
  });
  assert.match(paragraph("furniture", feet("back left")), /One of the eight feet is missing \(back left\)\./);
  assert.match(paragraph("furniture", feet("a toe")), /One part missing from the feet \(a toe\)\./);
});

test("whether upholstery meets the fire rules is taken up where it has no label of that", () => {
  const asked = (not_there) => answer("furniture", "Does it open", { not_there });
  assert.match(asked(["fire-label"]), /Whether the upholstery meets the fire rules was not noted\./);
  assert.doesNotMatch(asked(["fire-label", "upholstery"]), /fire rules/);
});

test("what was weighed, and why something was not, is not said to be open as well", () => {
  const coin = answer("medal-coin", "What are weight", { tests: { weigh: ["works", "", ""] } });
  assert.match(coin, /Diameter not taken\. Weight was not noted\./);
  const loaded = { tests: { weigh: ["not-done", "loaded base", ""] } };
  assert.doesNotMatch(answer("silver-plate", "What does it weigh", loaded), /Whether it is loaded/);
  const late = { tests: { weigh: ["not-done", "no-time", ""] } };
  assert.match(answer("silver-plate", "What does it weigh", late), /Whether it is loaded/);
});

test("of maps that were counted it is asked which of so many", () => {
  const torn = one("map-folds", "tear", { extent_count: 3 });
  const asked = (measures) =>
    paragraph("book-map", { ...torn, facts: { short_description: "atlas", ...measures } });
  assert.match(asked({}), /Neither the number of maps nor which of them/);
  const counted = { "measures/plates-present": { value: 28, unit: "n", typed: "" } };
  assert.match(asked(counted), /Not noted: which of the 28 maps the faults are on\./);
});

const letters = (more = {}) => ({ ...described("bundle of letters, 58 envelopes"), ...more });

test("of unlike things under one name some are missing, where nobody counted", () => {
  const gone = letters(one("seals", "missing-part", { note: "some stamps cut out" }));
  assert.match(
    paragraph("work-on-paper", gone),
    /One or more seals, postmarks or stamps missing \(some stamps cut out\)\./,
  );
  const three = letters(one("seals", "missing-part", { extent_count: 3 }));
  assert.match(paragraph("work-on-paper", three), /Three seals, postmarks or stamps are missing/);
});

test("what was counted among the measures is there", () => {
  const asked = (more) => answer("work-on-paper", "Are envelopes", letters(more));
  assert.match(asked({ measures: [["envelope-count", 58]] }), /The envelopes are present\./);
  assert.doesNotMatch(asked({ measures: [["envelope-count", 58]] }), /envelopes[^.]* not noted/);
});
