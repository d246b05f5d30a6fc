/** Words that a cataloguer would sign: cases that once read like a form that was filled in, one by one. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";

const called = (short_description, more = {}) => ({ facts: { short_description }, ...more });
const without = (...zones) => ({ not_there: zones });

test("what of flatware is bent keeps its place, whatever it is", () => {
  const bent = one("tines-blades", "bent", { extent_count: 1, severity: 1 });
  assert.match(
    paragraph("silver-plate", called("canteen of flatware, 64 pieces", bent)),
    /\. One set of tines, bowl or blade is slightly bent\./,
  );
});

test("mould is in a finder", () => {
  const denied = { denials: [["finder", "mould", "torch"]] };
  assert.match(paragraph("camera-scientific", denied), /No mould seen in the finder with a torch\./);
});

test("a guitar has no button", () => {
  const of = (name) => answer("stringed-instrument", "How long is the back", called(name));
  assert.match(of("guitar"), /Length of the back and scale length not taken\./);
  assert.match(of("violin"), /Length of the back without button and string length not taken\./);
});

test("which part is from another glass is no answer to chips, and one to the stopper", () => {
  const looked = { tests: { ultraviolet: ["works", "", "glows green all over"] } };
  assert.doesNotMatch(answer("glass", "Are rim and foot", looked), /ultraviolet/);
  assert.match(answer("glass", "Does the stopper", looked), /under ultraviolet for parts from another glass/);
  const skipped = { tests: { ultraviolet: ["not-done", "no-time", ""] } };
  assert.doesNotMatch(answer("glass", "Are rim and foot", skipped), /[Uu]ltraviolet/);
  const open = { ...looked, ...without("stopper", "stopper-peg") };
  assert.equal(answer("glass", "Does the stopper", open), "It has no stopper.");
});

test("what a light showed has a subject, and several flaws are several", () => {
  const looked = { tests: { ultraviolet: ["works", "", "glows green all over"] } };
  assert.match(paragraph("glass", looked), /\. Noted under ultraviolet: glows green all over\./);
  assert.match(
    answer("glass", "Does the stopper", looked),
    /Looked at under ultraviolet for parts from another glass; noted: glows green all over\./,
  );
  const flaw = (note, more = {}) => one("metal", "making-fault", { severity: 0, note, ...more });
  assert.match(
    paragraph("glass", flaw("seed bubbles")),
    /\. Manufacturing flaws in the glass \(seed bubbles\)\./,
  );
  assert.match(paragraph("glass", flaw("a tear")), /\. A manufacturing flaw in the glass/);
  assert.match(
    paragraph("glass", flaw("stones", { extent_count: 1 })),
    /\. A manufacturing flaw in the glass/,
  );
});

test("that a fault was not measured stands behind it, in the paragraph too", () => {
  const chip = { ...one("foot-rim", "chip"), tests: { ring: ["works", "", ""] } };
  const said = /A chip to the foot-rim\. The chip was not measured\. It rang clear/;
  assert.match(paragraph("ceramics", chip), said);
  assert.match(answer("ceramics", "Which chips", chip), said);
  const sized = one("foot-rim", "chip", { extent_mm: 3 });
  assert.doesNotMatch(paragraph("ceramics", sized), /not measured/);
});

test("faults of which nobody noted the piece are named where others were told just before", () => {
  const medals = {
    ...called("three medals", { counts: { "set-count": 3 } }),
    findings: [
      { zone: "obverse", term: "contact-marks", severity: 2, extent_count: 2 },
      { zone: "ribbon", term: "fading", severity: 2, note: "the first one" },
      { zone: "documents", term: "tear", severity: 2, extent_count: 2 },
    ],
  };
  assert.match(paragraph("medal-coin", medals), /Not noted: which of the three the contact marks are on\./);
});

test("a sign that has the words of a finding is named as that", () => {
  const dog = one("chest", "live-insects", { severity: 3, note: "something moving in the seam" });
  const cautions = (sign) => ({
    "cautions/1": { hazard: "H26", sign, zone: null, note: "", withdrawn: false },
  });
  const of = (sign) => paragraph("soft-toy", { ...dog, facts: cautions(sign) });
  assert.match(
    of("something moving in a seam"),
    /Held back because of the live insects; not offered until cleared\./,
  );
  assert.match(of("gritty dust"), /not offered until cleared; noted: gritty dust\./);
});

test("when and by whom a book was made is said in one", () => {
  const quire = {
    maker: "Barnabas Quire",
    maker_certainty: "by",
    dates: { words: "1787", from: 1787, to: 1787 },
    dates_certainty: "certain",
  };
  assert.match(answer("book-map", "Which edition", { facts: quire }), /^1787, by Barnabas Quire\. /);
  const { maker, maker_certainty, ...dated } = quire;
  assert.match(answer("book-map", "Which edition", { facts: dated }), /^The date is 1787\. /);
});

test("a plate or map is missing, and no leaf from them", () => {
  const lost = (more) => one("plates", "leaf-missing", more);
  const survey = called("county survey, lacks one map", lost({ extent_count: 1, note: "of the hundred" }));
  assert.match(paragraph("book-map", survey), /\. One plate or map missing \(of the hundred\)\./);
  assert.match(paragraph("book-map", lost({ extent_count: 2 })), /\. Two plates missing\./);
  const leaf = one("text", "leaf-missing", { extent_count: 1 });
  assert.match(paragraph("book-map", leaf), /\. One leaf missing from the text\./);
});

test("a bidder is told which words of the description say it, and not all of it again", () => {
  const box = answer("free", "What is it made of", called("small box with bone"));
  assert.match(box, /^Said in the description alone: “with bone”\./);
  assert.doesNotMatch(answer("free", "What is it made of", called("respirator in a tin")), /alone/);
});

test("who painted it is no answer to whether its frame is original", () => {
  const of = (concluded_words) => answer("painting", "How large is it", { facts: { concluded_words } });
  assert.doesNotMatch(of("probably by a local harbour painter"), /harbour painter/);
  assert.match(of("the frame is of the time"), /In our opinion: the frame is of the time\./);
  assert.match(of("all of one time"), /In our opinion: all of one time\./);
});

test("that nothing was filled says nothing of what was restuck", () => {
  const filled = answer("ceramics", "Is anything restored", { denials: [["body", "filled", "ultraviolet"]] });
  assert.match(
    filled,
    /No sign of filling to the body seen under ultraviolet\. No fault noted on the body, /,
  );
});

test("a share is one of something", () => {
  const said = (class_id, zone, term, more = {}) =>
    paragraph(class_id, one(zone, term, { extent_percent: 10, ...more }));
  assert.match(
    said("silver-plate", "plating", "plating-loss"),
    /\. Loss of about 10 per cent of the plating\./,
  );
  assert.match(
    said("tinplate-diecast", "paint", "paint-loss"),
    /\. Loss of about 10 per cent of the paint\./,
  );
  const pair = called("pair of watercolours", { counts: { "set-count": 2 } });
  const both = {
    facts: { ...pair.facts, pieces: 2 },
    ...one("outline", "yellowing", { extent_percent: 10, piece_count: 2 }),
  };
  assert.match(paragraph("work-on-paper", both), /\. Both have yellowing, each over about 10 per cent\./);
});

test("a catch that was tried held", () => {
  const tried = (...zones) => ({ denials: zones.map((zone) => [zone, "catch-fails", "by-hand"]) });
  assert.match(
    paragraph("jewellery", tried("brooch-pin")),
    /\. The catch of the brooch pin held when tried once by hand\./,
  );
  assert.match(
    paragraph("jewellery", tried("brooch-pin", "clasp")),
    /\. The catches of the clasp and the brooch pin held when tried once by hand\./,
  );
  const failing = { ...one("clasp", "catch-fails"), ...tried("clasp") };
  assert.doesNotMatch(paragraph("jewellery", failing), / held when/);
});

test("of a service the covers are several, of three medals the obverses", () => {
  const service = called("dinner service, 58 pieces", { counts: { "set-count": 58 } });
  assert.match(paragraph("ceramics", service), /Fit of the covers not tried\./);
  assert.match(
    answer("ceramics", "Which chips", service),
    / the rims, .*the covers, the knops, .*the foot-rims/,
  );
  const teapot = called("teapot and cover", { counts: { "set-count": 2 } });
  assert.match(paragraph("ceramics", teapot), /Fit of the cover not tried\./);
  const medals = called("group of three medals on a bar", { counts: { "set-count": 3 } });
  assert.match(answer("medal-coin", "Which grade", medals), / the obverses, the reverses/);
  assert.match(
    answer("glass", "Does the stopper", called("pair of decanters")),
    /Whether the stoppers and the bodies belong together was not noted\./,
  );
});

test("which of them is meant is no afterthought behind a colon", () => {
  const said = (class_id, zone, term, more) => paragraph(class_id, one(zone, term, more));
  const bent = { extent_count: 1, note: "the third fork" };
  assert.match(
    paragraph("silver-plate", called("six forks", one("tines-blades", "bent", bent))),
    /\. One set of tines is bent \(the third fork\)\./,
  );
  assert.match(
    said("medal-coin", "ribbon", "fading", { note: "the first" }),
    /\. Fading of the ribbon \(the first\)\./,
  );
  assert.match(
    said("painting", "frame", "loss", { extent_count: 2, note: "two corners" }),
    /\. Two losses to the frame \(two corners\)\./,
  );
  assert.match(
    said("painting", "support", "tear", { extent_mm: 45, note: "upper left, beside the sitter" }),
    /\. A tear of 45 mm in the support \(upper left, beside the sitter\)\./,
  );
});

test("a look for retouching is no answer to foxing, nor a patch to moth", () => {
  const looked = { tests: { ultraviolet: ["works", "", ""] } };
  assert.doesNotMatch(answer("work-on-paper", "How much foxing", looked), /ultraviolet/);
  assert.match(answer("work-on-paper", "Are there tears", looked), /ultraviolet for retouching and repairs/);
  assert.doesNotMatch(answer("soft-toy", "Has it moth", one("foot-pads/proper-left", "patched")), /patched/);
});
