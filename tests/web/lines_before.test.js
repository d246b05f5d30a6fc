/**
 * What the desk wrote of a sentence as it was worded before stands when only our wording of it has changed since: no
 * line that it rewrote is lost, and none that it struck comes back.
 */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { deskTexts, versionOf } from "../../web/job/desk_words.ts";
import { finding, recordOf, written } from "./any_words.js";
import { book } from "./plan_book.js";
import { sampled } from "./samples.js";

const { records, short } = JSON.parse(
  readFileSync(new URL("../../fixtures/lines-before.json", import.meta.url), "utf-8"),
);

/** Of these another word is another fact. */
const OF_NOTHING_ELSE = /^(check-in|unseen\/)/;

/** What differed when it was checked in has no overall word any more: that is another fact, not another wording. */
const isGradedNoMore = ([, values, , sentence]) =>
  sentence === "overall" && values["check-in"]?.state === "differs";

/** Every line with the record that it was made of. */
function linesBefore() {
  const whole = records.flatMap(({ class_id, values, lines }) => {
    const full = Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        name.startsWith("findings/") ? finding(value) : value,
      ]),
    );
    return lines.map((line) => [class_id, full, ...line]);
  });
  const single = short.map(([class_id, said, ...line]) => [
    class_id,
    written(book.plans[class_id], said),
    "condition",
    ...line,
  ]);
  return [...whole, ...single];
}

/** Of each class each kind of sentence. */
const kindOf = ([class_id, , text, sentence]) => `${class_id} ${text} ${sentence.split("/")[0]}`;

const texts = new Map();

/** What a record says with nothing of the desk's, made once for all of its lines. */
function textsOf(class_id, values) {
  if (!texts.has(values)) texts.set(values, deskTexts(book.plans[class_id], book, recordOf(values)));
  return texts.get(values);
}

function madeOf([class_id, values, text, sentence, speaks_of, record_words], version, words) {
  const said = { text, sentence, speaks_of, record_words, version, words };
  const now = recordOf({ ...values, [`sentences/${text}/${sentence}`]: said });
  return deskTexts(book.plans[class_id], book, now).find(({ name }) => name === text);
}

test("every line of the wordings before is still known for what the desk made of it", () => {
  const all = linesBefore().filter((line) => !isGradedNoMore(line));
  assert.ok(all.length > 1000);
  const lines = sampled(all, 6, kindOf);
  const of = ([class_id, , , , , words]) => `${class_id}: ${words}`;
  const lost = lines.filter((line) => !madeOf(line, "rewritten", "OURS.").words.includes("OURS.")).map(of);
  const back = lines
    .filter((line) => madeOf(line, "struck", "").lines.some((one) => one.sentence === line[3] && one.words))
    .map(of);
  assert.deepEqual({ lost, back }, { lost: [], back: [] });
});

test("and so is every line as it is worded now, when something else of it has changed since", () => {
  const sets = ["a set of twelve volumes", "nine tiles", "thing"].flatMap((short_description) =>
    ["missing-part", "associated-part", "colour-mismatch"].map((term) => {
      const said = { facts: { short_description }, findings: [{ zone: "set-count", term, severity: 3 }] };
      return ["ceramics", written(book.plans.ceramics, said), "condition", "findings/0"];
    }),
  );
  const lost = [...sampled(linesBefore(), 6, kindOf), ...sets].flatMap(
    ([class_id, values, text, sentence]) => {
      const now = textsOf(class_id, values).find(({ name }) => name === text);
      const line = now.lines.find((one) => one.sentence === sentence);
      if (!line?.words || OF_NOTHING_ELSE.test(sentence)) return [];
      const { speaks_of, record_words } = versionOf(text, line, "rewritten", "OURS.");
      const before = `${record_words} A note of before.`;
      const made = madeOf([class_id, values, text, sentence, speaks_of, before], "rewritten", "OURS.");
      return made.words.includes("OURS.") ? [] : [`${class_id}: ${record_words}`];
    },
  );
  assert.deepEqual(lost, []);
});
