/** The desk's version of the texts: what was struck, rewritten or moved stands while the record changes. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { deskAnswers } from "../../web/job/desk_answers.ts";
import { deskTexts, keysOfLine, newLine, orderAfter, versionOf } from "../../web/job/desk_words.ts";
import { asText } from "../../web/job/sentences.ts";
import { anyRecord, recordOf } from "./any_words.js";
import { chance } from "./chance.js";
import { book } from "./plan_book.js";
import { sampled } from "./samples.js";

const file = JSON.parse(readFileSync(new URL("../../fixtures/desk-words.json", import.meta.url), "utf-8"));
const plan = book.plans[file.record.class_id];

const textOf = (values, name = "condition") =>
  deskTexts(plan, book, recordOf(values)).find((text) => text.name === name);

function lineOf(values, key) {
  const line = textOf(values).lines.find((one) => keysOfLine(one).includes(key));
  assert.ok(line, `no sentence speaks of ${key}: ${textOf(values).words}`);
  return line;
}

/** What the desk does, as its operations would leave it on the record. */
function afterDesk(values, { key, added, struck, rewritten, up }) {
  const write = (version) => ({ ...values, [`sentences/condition/${version.sentence}`]: version });
  if (added) return write(versionOf("condition", newLine("added"), "rewritten", added));
  const line = lineOf(values, key);
  if (struck) return write(versionOf("condition", line, "struck"));
  if (rewritten) return write(versionOf("condition", line, "rewritten", rewritten));
  let order = textOf(values).lines;
  let moved = values;
  for (let step = 0; step < up; step += 1) {
    moved = { ...values, "sentence-order/condition": orderAfter(order, line, -1) };
    order = textOf(moved).lines;
  }
  return moved;
}

function changed(values, then) {
  const next = { ...values };
  for (const [name, value] of Object.entries(then)) next[name] = { ...next[name], ...value };
  return next;
}

for (const one of file.cases) {
  test(one.name, () => {
    const given = { ...file.record, ...one.given };
    const written = one.desk.reduce(afterDesk, given);
    assert.deepEqual(
      textOf(written).lines.filter(({ differs }) => differs),
      [],
    );
    const { words, lines } = textOf(changed(written, one.then));
    for (const part of one.says) assert.ok(words.includes(part), `"${part}" is not in: ${words}`);
    for (const part of one.says_not) assert.ok(!words.includes(part), `"${part}" is in: ${words}`);
    const differing = lines.filter(({ differs }) => differs);
    assert.deepEqual(
      Object.fromEntries(differing.map(({ sentence, recorded }) => [sentence, asText(recorded)])),
      one.differs,
    );
  });
}

test("what the desk keeps or takes ends the difference", () => {
  const written = afterDesk(file.record, { key: "findings/chip", rewritten: "The one chip." });
  const now = changed(written, { "findings/chip": { extent_mm: 5 } });
  const line = lineOf(now, "findings/chip");
  const kept = versionOf("condition", line, "rewritten", line.words);
  const after = { ...now, "sentences/condition/findings/chip": kept };
  assert.deepEqual(
    [lineOf(after, "findings/chip").differs, lineOf(after, "findings/chip").words],
    [false, "The one chip."],
  );
  const taken = versionOf("condition", line, "as-recorded");
  const back = { ...now, "sentences/condition/findings/chip": taken };
  assert.deepEqual(
    [lineOf(back, "findings/chip").differs, lineOf(back, "findings/chip").words],
    [false, "A chip of 5 mm to the rim."],
  );
});

test("what was kept in sight of a new fact stays, and the fact keeps its own sentence", () => {
  const struck = afterDesk(file.record, { key: "findings/chip", struck: true });
  const now = changed(struck, { "findings/more": file.record["findings/chip"] });
  const kept = versionOf("condition", lineOf(now, "findings/chip"), "struck");
  const after = { ...now, "sentences/condition/findings/chip": kept };
  assert.equal(lineOf(after, "findings/chip").differs, false);
  assert.equal(textOf(after).words.split("A chip of 3 mm to the rim.").length, 2);
  const both = afterDesk(after, { key: "findings/more", struck: true });
  assert.ok(!textOf(both).words.includes("hip"), textOf(both).words);
  assert.deepEqual(
    [lineOf(both, "findings/chip").differs, lineOf(both, "findings/more").differs],
    [false, false],
  );
});

test("what was moved stays there though the first that it spoke of is taken back", () => {
  const two = changed(file.record, { "findings/achip": file.record["findings/chip"] });
  const moved = afterDesk(two, { key: "tests/cover-fit", up: 2 });
  const chips = afterDesk(moved, { key: "findings/chip", up: 1 });
  assert.match(textOf(chips).words, /Two chips of up to 3 mm to the rim\. The cover fits\./);
  for (const taken of ["findings/chip", "findings/achip"])
    assert.match(
      textOf(changed(chips, { [taken]: { withdrawn: true } })).words,
      /A chip of 3 mm to the rim\. The cover fits\./,
    );
});

test("a size that is measured later is not struck with the others, nor answered as it was before", () => {
  const sized = { ...file.record, "measures/height": { value: 155, unit: "mm", typed: "" } };
  const sizes = (values) => textOf(values, "description");
  const line = sizes(sized).lines.find(({ words }) => words.startsWith("Height"));
  const write = (version, words) => ({
    ...sized,
    [`sentences/description/${line.sentence}`]: versionOf("description", line, version, words),
    "measures/width": { value: 90, unit: "mm", typed: "" },
  });
  const struck = write("struck");
  assert.match(sizes(struck).words, /Width[^.]* 9\.0 cm/);
  assert.ok(!sizes(struck).words.includes("15.5"), sizes(struck).words);
  assert.match(sizes(write("rewritten", "Of a hand's height.")).words, /Of a hand's height\. Width/);
  const before = {
    text: "description",
    sentence: "sizes",
    speaks_of: ["sizes"],
    record_words: "",
    words: "",
  };
  const older = { ...sized, "sentences/description/sizes": { ...before, version: "struck" } };
  assert.ok(!sizes(older).words.includes("15.5"), "a version of when all sizes had one key");
});

test("bidders hear of date, maker, materials and sizes as the desk puts them", () => {
  const silver = book.plans["silver-plate"];
  const record = {
    ...{ short_description: "pot", materials: "silver", maker: "Thorn", maker_certainty: "by" },
    "measures/weight": { value: 518, unit: "g", basis: "gross", typed: "" },
    "zones/body": file.record["zones/body"],
  };
  const asked = (values) =>
    asText(deskAnswers(silver, book, recordOf(values)).find(({ question }) => /weigh/.test(question)).answer);
  assert.match(asked(record), /518 g.*Materials as seen: silver\./);
  const written = { ...record };
  for (const line of deskTexts(silver, book, recordOf(record)).find(({ name }) => name === "description")
    .lines)
    written[`sentences/description/${line.sentence}`] = versionOf(
      "description",
      line,
      "rewritten",
      /518/.test(line.words) ? "Weight 400 g without the lid." : "A pot, plated.",
    );
  assert.match(asked(written), /Weight 400 g without the lid\. A pot, plated\./);
  assert.doesNotMatch(asked(written), /518|as seen/);
});

test("what a desk has stored of the sentence on the lights finds it: its key stays the same", () => {
  const examined = textOf(file.record).words.match(/Examined [^.]*\./)[0];
  const stored = { text: "condition", sentence: "lights", speaks_of: ["lights"], record_words: examined };
  const struck = {
    ...file.record,
    "sentences/condition/lights": { ...stored, version: "struck", words: "" },
  };
  assert.ok(!textOf(struck).words.includes(examined));
});

test("bidders are answered with the desk's words, once, and what it struck is not answered", () => {
  const restored = (values) =>
    deskAnswers(plan, book, recordOf(values)).find(({ question }) => question.startsWith("Which chips"));
  const rewritten = afterDesk(file.record, { key: "findings/chip", rewritten: "The one chip." });
  assert.ok(asText(restored(rewritten).answer).startsWith("The one chip."));
  const more = changed(file.record, { "findings/more": { ...file.record["findings/chip"], extent_mm: 9 } });
  const both = afterDesk(more, { key: "findings/chip", rewritten: "The two chips." });
  both["sentences/condition/findings/chip"].speaks_of.push("findings/more");
  assert.equal(asText(restored(both).answer).split("The two chips.").length, 2);
  const struck = afterDesk(file.record, { key: "findings/chip", struck: true });
  assert.ok(!asText(restored(struck).answer).includes("chip"));
});

test("in any record what is struck goes alone, and comes back with nothing of what is found later", () => {
  const below = chance(29);
  const plans = Object.values(book.plans).filter((one) => !one.refer_only);
  for (const plan of plans) {
    const early = anyRecord(book, plan, below);
    const late = { ...early };
    for (const [field, value] of Object.entries(anyRecord(book, plan, below)))
      if (/^(findings|denials)\//.test(field)) late[field.replace(/^(findings)\//, "$1/later")] ??= value;
    const condition = (values) =>
      deskTexts(plan, book, recordOf(values)).find(({ name }) => name === "condition");
    const plain = condition(late).lines.flatMap(({ recorded }) => recorded);
    for (const line of sampled(condition(early).lines, 6).filter(({ fixed }) => !fixed)) {
      const field = `sentences/condition/${line.sentence}`;
      const struck = { [field]: versionOf("condition", line, "struck") };
      assert.ok(!condition({ ...early, ...struck }).lines.some(({ words }) => words === line.words));
      const now = condition({ ...late, ...struck });
      const printed = now.lines.filter(({ words }) => words).flatMap(({ recorded }) => recorded);
      const ownKeys = keysOfLine(line);
      for (const key of plain.flatMap(({ keys }) => keys))
        assert.ok(
          ownKeys.includes(key) ||
            (key === "unmeasured" && ownKeys.some((own) => own.startsWith("findings/"))) || // it was of that one
            printed.some(({ keys }) => keys.includes(key)),
          `${plan.class_id}: ${line.words} struck swallows ${key}`,
        );
    }
  }
});

test("in any record what is noted, held or seen by another light later is printed, whatever the desk made of it", () => {
  const below = chance(31);
  const plans = Object.values(book.plans).filter((one) => !one.refer_only);
  const check = (words) => ({ state: "differs", words, second_by: "" });
  const held = (sign) => ({
    ...{ hazard: "H90", level: "amber", sign, zone: null, called: "", place: "" },
  });
  for (const plan of plans) {
    const begun = anyRecord(book, plan, below);
    const early = { ...begun, "check-in": check("a new dent"), "cautions/a": held("brown dust") };
    const late = { ...early, "check-in": check("broken through"), "cautions/b": held("white dust") };
    const condition = (values) =>
      deskTexts(plan, book, recordOf(values)).find(({ name }) => name === "condition");
    for (const line of sampled(condition(early).lines, 6))
      for (const version of [
        versionOf("condition", line, "struck"),
        versionOf("condition", line, "rewritten", "Ours is sound throughout."),
      ]) {
        const field = `sentences/condition/${line.sentence}`;
        const { words } = condition({ ...late, [field]: version });
        for (const told of ["broken through", "brown dust", "white dust"])
          assert.ok(
            words.includes(told),
            `${plan.class_id}: ${told} is swallowed by ${line.sentence}: ${words}`,
          );
        if (line.sentence === "overall") assert.ok(!words.includes("throughout"), words);
      }
  }
});

/** That a fault was not measured goes with its sentence: who rewrote that has said how long it is, or need not. */
function unlessMeasured(words) {
  return words.replace(/ The [^.:]+ (?:was|were) not measured\./, "");
}

test("in any record each sentence has a key that no other sentence of its text has, and can be rewritten alone", () => {
  const below = chance(23);
  const plans = Object.values(book.plans).filter((one) => !one.refer_only);
  const made = [...plans, ...plans, ...plans].map((plan) => ({ plan, values: anyRecord(book, plan, below) }));
  for (const { plan, values } of sampled(made, 6, ({ plan }) => plan.class_id)) {
    const record = recordOf(values);
    for (const { name, lines, words } of deskTexts(plan, book, record)) {
      const keys = lines.flatMap(keysOfLine);
      assert.equal(new Set(keys).size, keys.length, `${plan.class_id}, ${name}: ${keys}`);
      for (const key of keys) assert.match(key, /^[a-z0-9][a-z0-9_-]*(\/[a-z0-9][a-z0-9_-]*)*$/);
      for (const line of lines.filter(({ fixed }) => !fixed)) {
        const version = versionOf(name, line, "rewritten", "OURS.");
        const field = `sentences/${name}/${version.sentence}`;
        const fields = { ...record.fields, [field]: { value: version } };
        const after = deskTexts(plan, book, { ...record, fields }).find((text) => text.name === name);
        const expected = words.replace(line.words, () => "OURS.");
        const isFault = line.sentence.startsWith("findings/");
        const [now, then] = [after.words, expected].map(isFault ? unlessMeasured : String);
        assert.equal(now, then, `${plan.class_id}, ${line.sentence}`);
      }
    }
    assert.deepEqual(deskAnswers(plan, book, record), fiveAnswers(plan, book, record));
  }
});

test("any line of a text goes up and down by one, and no further than its ends", () => {
  const lines = ["a", "b", "c"].map((sentence) => newLine(sentence));
  const after = (at, by) =>
    orderAfter(lines, lines[at], by).map((key) => lines.findIndex((line) => keysOfLine(line).includes(key)));
  assert.deepEqual(
    [after(0, 1), after(2, -1)],
    [
      [1, 0, 2],
      [0, 2, 1],
    ],
  );
  assert.deepEqual(
    [after(0, -1), after(2, 1)],
    [
      [0, 1, 2],
      [0, 1, 2],
    ],
  );
});

test("what the desk wrote of a mark stays before the sizes when the mark is taken back", () => {
  const mark = {
    ...{ place: "base", text: "W", technique: "painted", colour: "", completeness: "complete" },
    ...{ standing: null, reading: "", withdrawn: false },
  };
  const size = { value: 155, unit: "mm", typed: "" };
  const marked = { ...file.record, "marks/w": mark, "measures/height": size };
  const sentences = (values) => textOf(values, "description").lines.map(({ sentence }) => sentence);
  const line = textOf(marked, "description").lines.find(({ sentence }) => sentence === "marks/w");
  const written = {
    ...marked,
    "sentences/description/marks/w": versionOf("description", line, "rewritten", "It bears a W."),
  };
  const gone = sentences(changed(written, { "marks/w": { withdrawn: true } }));
  assert.deepEqual(gone, sentences(written));
  assert.ok(gone.indexOf("marks/w") < gone.indexOf("sizes/height"), String(gone));
});
