/** How many pieces a thing has, and on which of them something was found, in print and on receipts. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { saidBehind } from "../../web/job/behind.ts";
import { overallCondition } from "../../web/job/condition.ts";
import { findingWords } from "../../web/job/list_words.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { isUnderOne } from "../../web/job/number_parts.ts";
import { onMoreWords } from "../../web/job/on_more.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { awaySentences } from "../../web/job/piece_sentences.ts";
import { lineOfReturned, piecesWords, receiptLine } from "../../web/job/receipt.ts";
import { asText } from "../../web/job/sentences.ts";
import { piecesOf } from "../../web/job/which_piece.ts";
import { anyRecord, finding, recordOf, written } from "./any_words.js";
import { chance } from "./chance.js";
import { record as made, tag } from "./made.js";
import { book } from "./plan_book.js";
import { sampled } from "./samples.js";

const OPEN = /Not noted: which of the [^.]*\./g;
const chip = (more) => ({ zone: "rim", term: "chip", severity: 2, extent_mm: 3, ...more });
const glasses = (pieces, ...findings) =>
  recordOf({
    ...written(book.plans.glass, { findings: Object.fromEntries(findings.map((one, at) => [at, one])) }),
    ...(pieces ? { pieces } : {}),
  });
const condition = (record) => asText(conditionParagraph(book.plans.glass, book, record));

const item = (values) => ({ kind: "item", record_id: "i", disagreements: [], ...recordOf(values) });

for (const [pieces, said, words] of [
  [6, { piece_count: 2 }, "Two of the six have a chip of 3 mm to the rim."],
  [6, { piece_count: 1 }, "One of the six has a chip of 3 mm to the rim."],
  [6, { piece_count: 6 }, "All six have a chip of 3 mm to the rim."],
  [6, { piece: "3" }, "Piece 3 of the six has a chip of 3 mm to the rim."],
  [6, { piece: "6" }, "Piece 6 of the six has a chip of 3 mm to the rim."],
  [2, { piece_count: 2 }, "Both have a chip of 3 mm to the rim."],
  [
    6,
    { piece_count: 1, piece_words: "the one with a bent stem." },
    "One of the six (the one with a bent stem) has a chip of 3 mm to the rim.",
  ],
  [6, { piece_count: 6, piece_words: "the bent one" }, "All six have a chip of 3 mm to the rim."],
  [
    6,
    { piece: "3", piece_words: "the bent one" },
    "Piece 3 of the six (the bent one) has a chip of 3 mm to the rim.",
  ],
  [2, { piece: "left" }, "The left one has a chip of 3 mm to the rim."],
  [2, { piece: "2" }, "The second has a chip of 3 mm to the rim."],
  [212, { piece_count: 14 }, "Fourteen of the 212 have a chip of 3 mm to the rim."],
])
  test(`of ${pieces} pieces: ${words}`, () => {
    const text = condition(glasses(pieces, chip(said)));
    assert.ok(text.includes(words), text);
    // How many have it does not say which.
    const isUntold = said.piece_count < pieces && !said.piece_words;
    assert.equal(Boolean(text.match(OPEN)), isUntold, text);
  });

for (const [pieces, said, words] of [
  [
    3,
    { piece_count: 5 },
    /[.] A chip of 3 mm to the rim[.].* Not noted: which of the three the chip is on[.]/,
  ],
  [6, { piece: "9" }, /[.] A chip of 3 mm to the rim[.].* Not noted: which of the six the chip is on[.]/],
  [1, { piece_count: 5 }, /[.] A chip of 3 mm to the rim[.]/],
  [1, { piece: "left" }, /[.] A chip of 3 mm to the rim[.]/],
  [1, { piece_count: 1 }, /[.] A chip of 3 mm to the rim[.]/],
])
  test(`what is on ${JSON.stringify(said)} and was counted anew as ${pieces} is on nothing that is not there`, () => {
    const record = glasses(pieces, chip(said));
    assert.match(condition(record), words);
    const answers = fiveAnswers(book.plans.glass, book, record).map(({ answer }) => asText(answer));
    for (const text of [condition(record), ...answers])
      assert.doesNotMatch(text, /Five|Piece 9|left one|One of/);
    assert.doesNotMatch(
      receiptLine({ ...item({}), fields: record.fields }).words,
      / on (5|1|piece|the left)/,
    );
  });

test("of a pair or a set it is said once that nobody noted which of them", () => {
  const open = (...given) => condition(glasses(...given)).match(OPEN) ?? [];
  assert.deepEqual(open(6, chip()), ["Not noted: which of the six the chip is on."]);
  assert.deepEqual(open(2, chip({ piece: "not-noted" })), ["Not noted: which of the two the chip is on."]);
  assert.deepEqual(open(6, chip(), chip({ zone: "foot" })), [
    "Not noted: which of the six the chips are on.",
  ]);
  assert.deepEqual(open(6, chip({ extent_count: 2 })), ["Not noted: which of the six the chips are on."]);
  assert.deepEqual(open(6, chip({ piece_count: 2 }), chip({ zone: "foot" })), [
    "Not noted: which of the six the chips are on.",
  ]);
  assert.deepEqual(open(6, chip({ piece: "2" }), chip({ zone: "foot" })), [
    "Not noted: which of the six the other fault is on.",
  ]);
});

test("a set that was counted on the walk alone is one, too", () => {
  const { fields } = glasses(0, chip());
  const walked = { "zones/set-count": { value: { state: "clear", reason: null, light: "lamp", count: 6 } } };
  assert.match(condition({ ...recordOf({}), fields: { ...fields, ...walked } }), OPEN);
  assert.match(
    receiptLine({ ...item({}), fields: { ...fields, ...walked } }).words,
    /, on which piece not noted$/,
  );
});

test("nothing is asked of one piece, of a fact, of a note that says which, or of a pot that has a cover", () => {
  const none = (...given) => assert.doesNotMatch(condition(glasses(...given)), OPEN);
  none(0, chip());
  none(1, chip());
  none(6, chip({ severity: 0 }));
  none(6, chip({ note: "the third glass" }));
  none(6, { zone: "set-count", term: "missing-part", severity: 3 });
  const numbers = {
    "tags/1": { value: tag("1", { of: 2 }) },
    "tags/2": { value: tag("2", { piece: 2, of: 2 }) },
  };
  const { fields } = glasses(0, chip());
  assert.doesNotMatch(condition({ ...recordOf({}), fields: { ...fields, ...numbers } }), OPEN);
});

const { open: opens } = JSON.parse(
  readFileSync(new URL("../../fixtures/receipt-faults.json", import.meta.url), "utf-8"),
);

for (const [{ note }, isOpen, short_description] of opens.filter(([, , called]) => called))
  test(`of ${short_description}, "${note}" ${isOpen ? "does not say" : "says"} which`, () => {
    const { fields } = glasses(6, chip({ note }));
    const record = recordOf({ short_description });
    const text = condition({ ...record, fields: { ...fields, ...record.fields } });
    assert.equal(Boolean(text.match(OPEN)), isOpen, text);
    const { words } = receiptLine({ ...item({}), fields: { ...fields, ...record.fields } });
    assert.equal(words.endsWith(", on which piece not noted"), isOpen, words);
  });

test("alike things on the same pieces are counted, on others they are not", () => {
  const two = (a, b) => condition(glasses(6, chip(a), chip(b)));
  assert.match(
    two({ piece_count: 2 }, { piece_count: 2 }),
    /Two of the six have a chip of up to 3 mm to the rim\./,
  );
  assert.match(
    two({ piece: "1" }, { piece: "2" }),
    /Piece 1 of the six has a chip .* Piece 2 of the six has a chip/,
  );
});

test("answers say it in the same words, and each once", () => {
  const record = glasses(6, chip({ piece_count: 2 }), chip({ zone: "foot" }));
  const answers = fiveAnswers(book.plans.glass, book, record).map(({ answer }) => asText(answer));
  const telling = answers.filter((text) => text.includes("Two of the six have a chip of 3 mm to the rim."));
  assert.ok(telling.length > 0);
  for (const text of answers) assert.ok((text.match(OPEN) ?? []).length < 2, text);
  const ofBoth = telling.filter((text) => /chip .*to the foot/.test(text));
  for (const text of ofBoth) assert.match(text, /Not noted: which of the six the chips are on\./);
  assert.ok(ofBoth.length > 0);
});

test("of many things by chance no text asks twice, and each that says on which pieces it is keeps that", () => {
  const below = chance(11);
  const plans = Object.values(book.plans).filter((plan) => !plan.refer_only);
  const things = Array.from({ length: 300 }, (_, round) => {
    const plan = plans[round % plans.length];
    const values = anyRecord(book, plan, below);
    values.pieces = 2 + below(8);
    for (const [name, value] of Object.entries(values))
      if (name.startsWith("findings/") && below(2)) value.piece_count = 1 + below(values.pieces);
    return { plan, values };
  });
  for (const { plan, values } of sampled(things, 3, ({ plan }) => plan.class_id)) {
    const record = recordOf(values);
    const paragraph = conditionParagraph(plan, book, record);
    const texts = [paragraph, ...fiveAnswers(plan, book, record).map(({ answer }) => answer)];
    for (const text of texts) assert.ok((asText(text).match(OPEN) ?? []).length < 2, asText(text));
    for (const { words, from, keys } of paragraph) {
      if (!keys.some((key) => key.startsWith("findings/"))) continue; // that a mark was not copied is of no piece
      const counts = new Set(
        from.filter((name) => name.startsWith("findings/")).map((name) => values[name].piece_count),
      );
      if (
        /^(Kept apart|Examined|Not |The marks? (was|were) not )| may get worse\.$/.test(words) ||
        counts.size !== 1 ||
        counts.has(undefined)
      )
        continue;
      const begins = /^(\S+ of the \S+|Both|All \S+)(:| (probably |possibly )?(has|have|is|are)) /;
      assert.ok(begins.test(words) || /^The .* of (\S+ of the \S+|both|all \S+) /.test(words), words);
    }
  }
});

test("a history knows no more than what was said", () => {
  const lists = { plan: book.plans.glass, book };
  assert.match(findingWords(lists, finding(chip({ piece_count: 2 }))), /^two of them have a chip/);
  assert.match(findingWords(lists, finding(chip({ piece: "left" }))), /^the left one has a chip/);
  assert.match(
    findingWords(lists, finding(chip({ piece: "not-noted" }))),
    /rim, on which piece not noted, severity/,
  );
});

test("pieces are as they were counted, else on the walk, else by their numbers", () => {
  const of = (values) => piecesOf(recordOf(values));
  assert.equal(of({}), 1);
  assert.equal(of({ "tags/1": tag("1", { of: 3 }) }), 3);
  assert.equal(of({ "zones/set-count": { state: "clear", count: 7 }, "tags/1": tag("1", { of: 3 }) }), 7);
  assert.equal(of({ pieces: 6, "zones/set-count": { state: "clear", count: 7 } }), 6);
});

test("a receipt says how many were counted, on which a fault is, and once that nobody noted it", () => {
  const fault = (more) => finding(chip(more));
  const line = (values) =>
    receiptLine(item({ short_description: "glasses", "tags/1": tag("1"), ...values })).words;
  assert.equal(line({ pieces: 6 }), "glasses; 6 pieces");
  assert.equal(line({ pieces: 6, short_description: "service, 6 pieces" }), "service, 6 pieces");
  assert.equal(line({ pieces: 6, short_description: "service, 46 pieces" }), "service, 46 pieces; 6 pieces");
  assert.equal(piecesWords(item({ pieces: 6, "tags/1": tag("1", { of: 5 }) })), "6 pieces");
  assert.equal(
    line({ pieces: 6, "findings/1": fault({ piece_count: 2 }) }),
    "glasses; 6 pieces; chip on the rim, moderate, 3 mm, on 2 of the pieces",
  );
  const some = (piece_count) => fault({ piece_count, piece_words: "those with a gilt rim" });
  assert.match(line({ pieces: 6, "findings/1": some(2) }), / on 2 of the pieces \(those with a gilt rim\)$/);
  assert.match(line({ pieces: 6, "findings/1": some(6) }), / on 6 of the pieces$/);
  assert.match(line({ pieces: 1, "findings/1": some(1) }), / 3 mm$/);
  assert.equal(
    line({ pieces: 6, "findings/1": fault(), "findings/2": fault({ zone: "foot" }) }),
    "glasses; 6 pieces; chip on the rim, moderate, 3 mm, on which piece not noted; " +
      "chip on the foot, moderate, 3 mm, on which piece not noted",
  );
  assert.equal(line({ "findings/1": fault() }), "glasses; chip on the rim, moderate, 3 mm");
});

test("of what went back in part it is said how many are here, and no fault of what went", () => {
  const numbers = (more) => ({
    "tags/1": tag("1", { of: 3 }),
    "tags/2": tag("2", { piece: 2, of: 3 }),
    "tags/3": tag("3", { piece: 3, of: 3, gone: more }),
  });
  const { fields } = glasses(3, chip({ piece: "3", severity: 4 }), chip({ piece: "1", zone: "foot" }));
  const of = (more) => {
    const bare = made("item", "i", { short_description: "three cups", ...numbers(more) });
    return { ...bare, fields: { ...fields, ...bare.fields } };
  };
  const lot = (record) => asText(lotDescription(book.plans.glass, book, record));
  const [all, less] = [of(null), of("taken-back")];
  assert.match(condition(all), /Piece 3 of the three has a chip/);
  assert.doesNotMatch(condition(all) + lot(all), /went back/);
  assert.match(condition(less), /^Two of the three are here; piece 3 went back to its owner[.]/);
  assert.match(lot(less), /Two of the three are here; piece 3 went back to its owner[.]/);
  assert.match(condition(less), /Piece 1 of the three has a chip/);
  const answers = fiveAnswers(book.plans.glass, book, less).map(({ answer }) => asText(answer));
  for (const text of [condition(less), ...answers]) assert.doesNotMatch(text, /Piece 3 of/);
  const words = (record) => overallCondition(book.plans.glass, record).because;
  assert.notDeepEqual(words(all), words(less), "nothing that is here is as bad as that");
});

test("that the first piece went back rests on its number, also where an app of before said no piece of it", () => {
  const { piece, ...unsaid } = tag("1", { of: 2, gone: "taken-back" });
  const pair = { ...glasses(2), kind: "item", record_id: "i" };
  for (const first of [{ ...unsaid, piece }, unsaid]) {
    const { fields } = made("item", "i", { "tags/1": first, "tags/2": tag("2", { piece: 2, of: 2 }) });
    const record = { ...pair, fields: { ...pair.fields, ...fields } };
    const [went] = awaySentences({ record });
    assert.match(went.words, /^One of the two is here; the first went back to its owner/);
    assert.deepEqual(went.from, ["tags/1"]);
  }
});

test("a count on the walk of what stays agrees with that of all, and is no other count", () => {
  const cups = (count, gone) => ({
    ...made("item", "i", {
      short_description: "cups",
      pieces: 3,
      "tags/1": tag("1", { of: 3 }),
      "tags/2": tag("2", { piece: 2, of: 3 }),
      "tags/3": tag("3", { piece: 3, of: 3, gone }),
      "zones/set-count": { state: "clear", reason: null, light: "lamp", count },
    }),
  });
  const lot = (...given) => asText(lotDescription(book.plans.glass, book, cups(...given)));
  assert.match(lot(2, null), /another count gave two/);
  assert.doesNotMatch(lot(2, "taken-back"), /another count/);
  assert.match(lot(1, "taken-back"), /another count gave one/);
});

test("which of a pair is the left one is told by the marks on their numbers", () => {
  const pair = (marks, gone) =>
    made("item", "i", {
      short_description: "vases",
      "tags/1": tag("1", { of: 2, mark: marks[0] }),
      "tags/2": tag("2", { piece: 2, of: 2, mark: marks[1], gone }),
      "findings/1": finding(chip({ piece: "left" })),
      "findings/2": finding(chip({ piece: "right", term: "crack" })),
    });
  const words = (...marks) => receiptLine(pair(marks, "taken-back")).words;
  for (const marks of [
    ["the right one", "left"],
    ["", "Left vase"],
    ["right", ""],
  ]) {
    assert.doesNotMatch(words(...marks), /the left one/, marks.join());
    assert.match(words(...marks), /on the right one/, marks.join());
  }
  assert.match(words("left", "right"), /on the left one$/);
  assert.doesNotMatch(words("", ""), /left|right/, "nobody can tell");
  assert.deepEqual(onMoreWords(pair(["", ""], "taken-back")), [
    "a fault is on the left one, and nobody noted which one is here",
    "a fault is on the right one, and nobody noted which one is here",
  ]);
  assert.deepEqual(onMoreWords(pair(["right", ""], "taken-back")), []);
});

test("what only a second record found is on the receipt of the one thing, and said in words until it is answered", () => {
  const front = made("item", "i", { short_description: "plates", "tags/1": tag("1"), pieces: 6 });
  const behind = made("item", "b", { pieces: 4, merged: { into_id: "i" }, "findings/1": finding(chip()) });
  const both = { ...front, doubles: [behind] };
  assert.equal(
    receiptLine(both).words,
    "plates; 6 pieces; chip on the rim, moderate, 3 mm, on which piece not noted",
  );
  assert.deepEqual(saidBehind(both), ["4 pieces counted there, and 6 here", "chip, rim"]);
  assert.equal(receiptLine(front).words, "plates; 6 pieces");
  assert.deepEqual(saidBehind({ ...behind, doubles: [front] }), [], "it is said of the one in front");
});

test("a receipt says no fewer pieces than were counted, nor fewer than have a number", () => {
  const pair = { "tags/1": tag("1", { of: 2 }), "tags/2": tag("2", { piece: 2, of: 2 }) };
  const words = (values) =>
    piecesWords(made("item", "i", { short_description: "vases", ...pair, ...values }));
  const isBack = { "tags/2": tag("2", { piece: 2, of: 2, gone: "taken-back" }) };
  assert.equal(words({ pieces: 2 }), "2 pieces");
  assert.equal(words({ pieces: 4 }), "4 pieces");
  assert.equal(words({ pieces: 1 }), "under 2 numbers", "a cover is answered for, and is no piece");
  assert.equal(words({ pieces: 4, ...isBack }), "3 of 4 pieces here, 1 back with the owner");
  assert.equal(
    lineOfReturned(made("item", "i", { short_description: "vases", ...pair, ...isBack, pieces: 4 })).words,
    "vases; 1 of 4 pieces",
  );
});

test("what is on more pieces than are here is on the receipt of what stays with no word of how many", () => {
  const cups = (...findings) =>
    made("item", "i", {
      pieces: 3,
      "tags/1": tag("1", { of: 3 }),
      "tags/2": tag("2", { piece: 2, of: 3, gone: "taken-back" }),
      "tags/3": tag("3", { piece: 3, of: 3, gone: "taken-back" }),
      ...Object.fromEntries(findings.map((more, at) => [`findings/${at}`, chip({ severity: 4, ...more })])),
    });
  const line = (more) => receiptLine(cups(more)).words;
  assert.match(line({ piece_count: 3 }), /chip on the rim, severe, 3 mm, on which piece not noted$/);
  assert.deepEqual(onMoreWords(cups({ piece_count: 3 })), ["a fault is on 3 of its pieces, and 1 is here"]);
  assert.match(line({ piece_count: 1 }), /, on 1 of the pieces$/);
  assert.deepEqual(onMoreWords(cups({ piece: "1" }, { piece: "not-noted" })), []);
});

test("the numbers of a set under one number say nothing of how many it is of", () => {
  const forks = (first, second = {}) =>
    isUnderOne(
      made("item", "i", {
        pieces: 6,
        "tags/1": tag("1", first),
        "tags/2": tag("2", { piece: 2, of: 2, ...second }),
      }),
    );
  assert.ok(forks({}), "one of them has its own, and stays after all");
  assert.ok(forks({}, { of: 5 }));
  const later = { pieces: 6, "tags/2": tag("2", { piece: 2, of: 2 }), "tags/1": tag("1") };
  assert.ok(isUnderOne(made("item", "i", later)), "whichever of the two stands first");
  assert.ok(!forks({}, { of: 6 }), "each has its own");
  assert.ok(!forks({ of: 2 }), "two were given a number each");
  assert.ok(!forks({ gone: "lost" }));
});
