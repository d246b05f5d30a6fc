/** How the paragraph and the description put what is on record: cases that once read like a machine, one by one. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isTest } from "../../web/job/progress.ts";
import { trialInWords } from "../../web/job/trials.ts";
import { recordOf } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

test("a flaw from the making is told of who asks, or behind the faults where somebody wrote words of it", () => {
  const flaw = { zone: "glaze", term: "making-fault", severity: 0, extent_mm: 20 };
  const chip = { zone: "foot-rim", term: "chip", severity: 2 };
  assert.match(
    paragraph("ceramics", { findings: [flaw, chip] }),
    /^Very good\. A chip to the foot-rim\. The chip was not measured\. Ultra/,
  );
  assert.match(
    paragraph("ceramics", { findings: [{ ...flaw, note: "kiln grit" }, chip] }),
    /A chip to the foot-rim\. A manufacturing flaw of 20 mm in the glaze \(kiln grit\)\. The chip was not measured\./,
  );
  const asked = answer("ceramics", "Which", { findings: [flaw, { ...chip, zone: "rim" }] });
  assert.match(asked, /^A chip to the rim\. A manufacturing flaw of 20 mm in the glaze\./);
});

test("how much of it was made later is told, though nobody calls it a fault", () => {
  const filled = one("foot-rim", "filled", { severity: 0, extent_percent: 30 });
  assert.match(paragraph("ceramics", filled), /The foot-rim is filled over about 30 per cent\./);
});

test("a zone is called what it is on such a thing, and all of a group by what they are together", () => {
  const named = (name, class_id, short) =>
    paragraph(class_id, { ...short, facts: { short_description: name } });
  const forks = one("tines-blades", "bent", { extent_count: 1, note: "the third fork" });
  assert.match(named("six forks", "silver-plate", forks), /\. One set of tines is bent \(the third fork\)\./);
  assert.match(named("carving fork", "silver-plate", forks), /\. One tine is bent \(the third fork\)\./);
  assert.match(named("doll with a wig", "doll", one("hair", "replaced-part")), /The wig is replaced\./);
  const torn = one("packaging", "tear");
  assert.match(named("wristwatch with box and papers", "watch", torn), /A tear in the box\./);
  assert.match(named("cigarette box", "silver-plate", torn), /A tear in the packaging\./);
  const leaf = one("plates", "leaf-missing", { extent_count: 1 });
  assert.match(named("county survey, lacks one map", "book-map", leaf), /One plate or map missing\./);
  const struck = one("marks-body", "mark-illegible", { extent_count: 1 });
  assert.match(named("six forks", "silver-plate", struck), /\. One mark on the stems is not fully legible\./);
  const legible = (...zones) => ({ denials: zones.map((zone) => [zone, "mark-illegible", "loupe"]) });
  const both = legible("marks-body", "marks-parts");
  assert.match(paragraph("silver-plate", both), /\. The marks are legible, seen/);
  assert.match(
    paragraph("silver-plate", legible("marks-body")),
    /\. The marks on the body are legible, seen/,
  );
  assert.match(named("six forks", "silver-plate", both), /\. The marks are legible, seen/);
  const alone = { ...legible("marks-body"), not_there: ["marks-parts"] };
  assert.match(paragraph("silver-plate", alone), /\. The marks are legible, seen/);
});

test("a mark on a part, and an inscription, are said to be so, each in its number and with its hedge", () => {
  const said = (class_id, ...found) => paragraph(class_id, one(...found));
  assert.match(
    said("tinplate-diecast", "base", "mark-illegible"),
    /\. The mark on the base is not fully legible\./,
  );
  const two = { extent_count: 2, certainty: "possible" };
  assert.match(
    said("silver-plate", "engraving", "altered-inscription", two),
    /\. Two inscriptions are possibly altered\./,
  );
  assert.match(
    said("watch", "case-back", "altered-inscription"),
    /\. The inscription on the case back is altered\./,
  );
});

test("a book is complete once it was collated, and until then nobody noticed a leaf missing", () => {
  const text = { denials: [["text", "leaf-missing", "lamp"]] };
  const collated = (result) =>
    paragraph("book-map", { ...text, tests: { collate: [result, "no-time", ""] } });
  assert.match(collated("works"), /The text is complete, no leaf lacking, seen under a lamp\./);
  assert.match(collated("not-done"), /No leaf noticed missing from the text\./);
  assert.doesNotMatch(paragraph("book-map", text), /complete/);
  const title = { ...one("title-leaf", "leaf-missing"), ...text };
  assert.match(paragraph("book-map", title), /No other leaf noticed missing from the text/);
});

test("a stone is in place, and a setting lacks none", () => {
  const denials = ["main-stone", "setting"].map((zone) => [zone, "stone-missing", "loupe"]);
  assert.match(
    paragraph("jewellery", { denials }),
    /The main stone is in place, seen .* The setting is complete, no stone lacking, seen/,
  );
});

const plans = Object.values(book.plans);
const tests = plans.flatMap((plan) => plan.tests.filter(isTest).map((test) => ({ plan, test })));
const tried = ({ plan, test }, result, more = "") =>
  trialInWords({ plan, book, record: recordOf({}) }, test, { result, why: "no-time", note: more }, "said");

const VERBS = [
  ...[
    "was",
    "were",
    "is",
    "are",
    "did",
    "does",
    "do",
    "ran",
    "rang",
    "turned",
    "moved",
    "swung",
    "fits",
    "stands",
  ],
  ...["lifts", "lifted", "fired", "answered", "rattled", "be looked", "opened", "closed", "struck", "played"],
  ...["started", "came", "gave", "match", "worked", "tightened"],
];
const VERB = new RegExp(`\\b(${VERBS.join("|")})\\b`);

test("every trial has a sentence for what came of it, and says of what it speaks", () => {
  assert.ok(tests.length > 50);
  for (const one of tests)
    for (const result of ["works", "works-in-part", "no-response"]) {
      const words = tried(one, result);
      const of = `${one.plan.class_id} ${one.test.test} ${result}: ${words}`;
      assert.doesNotMatch(
        words,
        /^(going|ran|rang|struck|turned|opened|weighed|played|breathed|back|pile)\b/,
        of,
      );
      assert.doesNotMatch(words, /: (no|only|worked)\b|\bresponse\b/, of);
      if (result === "works" && (one.test.looks || one.test.measures.length)) continue; // told by another sentence
      assert.match(words, VERB, of);
    }
});

test("several things are they, and nothing is done for another reason", () => {
  const rings = { "tests/ring": { result: "works", why: "", note: "" }, short_description: "six bowls" };
  assert.match(paragraph("ceramics", { facts: rings }), /They rang clear when tapped once\./);
  for (const { plan, test: trial } of tests)
    for (const result of ["works", "works-in-part", "no-response"]) {
      const said = { [trial.test]: [result] };
      const several = paragraph(plan.class_id, { tests: said, facts: { short_description: "six things" } });
      assert.doesNotMatch(several, /\bThey \w+s\b/, `${plan.class_id} ${trial.test} ${result}`);
    }
  for (const why of [null, "", "other"])
    assert.match(paragraph("clock", { tests: { "wind-part": ["not-done", why, ""] } }), /\. Not wound\. /);
});

test("a piece of a set is called by what the set is of", () => {
  const found = (short_description, zone, term, more = {}) =>
    paragraph("ceramics", { ...one(zone, term, more), facts: { short_description } });
  assert.match(
    found("nine tiles", "set-count", "colour-mismatch"),
    /\. One or more tiles of another colour in the set\./,
  );
  assert.match(
    found("a set of six plates", "set-count", "missing-part", { extent_count: 2 }),
    /\. Two plates missing from the set\./,
  );
  assert.match(
    found("a service", "set-count", "associated-part"),
    /\. One or more associated pieces in the set\./,
  );
  assert.match(found("six bowls", "rim", "chip", { piece: "3" }), /\. Piece 3 has a chip to the rim\./);
  const volumes = { short_description: "set of eleven volumes", pieces: 11 };
  const joint = one("joints/upper", "tape-repair", { piece: "4" });
  assert.match(
    paragraph("book-map", { ...joint, facts: volumes }),
    /\. The fourth of the eleven has a tape repair/,
  );
});

test("of a set of which some are missing nobody reads that the missing ones are the faulty ones", () => {
  const facts = { short_description: "nine tiles", pieces: 9 };
  const chip = { zone: "rim", term: "chip", severity: 2 };
  const missing = { zone: "set-count", term: "missing-part", severity: 3, extent_count: 1 };
  const said = (findings) => paragraph("ceramics", { findings, facts });
  assert.match(said([chip]), /Not noted: which of the nine the chip is on\./);
  assert.match(said([chip, missing]), /Not noted: which of the nine the chip is on\./);
});

test("an accessory that was examined is there, and what the name says of the metal is not said twice", () => {
  const papers = (short) => answer("watch", "Are box, papers", short);
  assert.match(papers({}), /Whether a chain, fob or key is with it was not noted\./);
  assert.doesNotMatch(papers({ not_there: ["chain-key"] }), /chain/);
  const metal = (short_description) =>
    answer("jewellery", "Which metal", { facts: { short_description, materials: "yellow metal" } });
  assert.match(metal("bangle"), /Materials as seen: yellow metal\./);
  assert.match(metal("bangle, yellow metal"), /Materials as seen: yellow metal\./);
  assert.doesNotMatch(metal("bangle, yellow metal"), /in the description alone/);
});

test("one dent is a dent and may be slight, one of several is counted, and no note counts twice", () => {
  const dent = (more) => paragraph("silver-plate", one("cover", "dent", { severity: 1, ...more }));
  assert.match(dent({}), /\. A slight dent in the cover\./);
  assert.match(dent({ extent_count: 1 }), /\. A slight dent in the cover\./);
  assert.match(dent({ extent_count: 2 }), /\. Two dents in the cover\./);
  assert.match(
    paragraph("clock", one("keys", "missing-part", { extent_count: 1 })),
    /\. One key is missing\./,
  );
  const wear = (note) => paragraph("jewellery", one("setting", "wear", { extent_count: 2, note }));
  assert.match(
    wear("two claws of the main stone"),
    /\. Wear to the setting \(two claws of the main stone\)\./,
  );
  assert.match(wear("the claws"), /\. Wear to the setting, in two places \(the claws\)\./);
  const loss = { extent_mm: 4, extent_mm_across: 3, extent_percent: 5, extent_count: 12 };
  assert.match(
    paragraph("tinplate-diecast", one("paint", "paint-loss", loss)),
    /Loss of about 5 per cent of the paint, up to 4 x 3 mm, in twelve places\./,
  );
});

test("when and by whom stand behind what the thing is, whatever else its name says of it", () => {
  const dates = { words: "circa 1900", earliest: null, latest: null, edtf: null };
  const said = (short_description, more = {}) =>
    lot("furniture", { short_description, dates, dates_certainty: "probable", ...more });
  assert.match(said("violin, bears label"), /^A violin, circa 1900; bears label\./);
  const by = { maker: "Larkspindle", maker_certainty: "after", materials: "spruce, maple" };
  assert.match(
    said("violin, bears label", by),
    /^A violin, circa 1900, after Larkspindle; bears label; spruce and maple\./,
  );
  assert.match(said("cup, saucer and plate"), /^A cup, saucer and plate, circa 1900\./);
  assert.match(said("stick stand, crock or bin"), /^A stick stand, crock or bin, circa 1900\./);
  assert.match(said("“Oh, to be”, oil on canvas"), /^“Oh, to be”, circa 1900; oil on canvas\./);
  assert.match(
    said("six forks", { materials: "silver; one plated" }),
    /circa 1900; materials as seen: silver, one plated\./,
  );
  const etching = { short_description: "etching", materials: "etching on laid paper" };
  assert.match(lot("work-on-paper", etching), /^An etching, on laid paper\./);
});

test("who makes such things is named, and what is printed on a title leaf is an imprint", () => {
  const unknown = { maker_certainty: "unknown" };
  assert.match(lot("book-map", unknown), /Author or publisher not determined\./);
  assert.match(lot("painting", unknown), /Painter not determined\./);
  assert.match(
    answer("book-map", "Which edition", {}),
    /The date and the author or publisher were not noted/,
  );
  const mark = (place, technique) => ({
    "marks/1": { place, technique, colour: "", completeness: "complete", text: "ABC", reading: "" },
  });
  assert.match(
    lot("book-map", mark("title leaf", "printed")),
    /It has an imprint on the title leaf, printed: “ABC”\./,
  );
  assert.match(lot("book-map", mark("title leaf", "handwritten")), /It has an inscription on the title leaf/);
  assert.match(
    lot("silver-plate", { ...mark("stems", "struck"), short_description: "six forks" }),
    /They have a mark on the stems, struck: “ABC”\./,
  );
});

test("a count on a zone that is one thing stands behind it, and large weights are told apart by threes", () => {
  const movement = { "zones/movement": { state: "clear", reason: null, light: "lamp", count: 6 } };
  assert.match(lot("clock", movement), /Counted: movement \(six\)\./);
  const weight = (value) => lot("jewellery", { "measures/weight": { value, unit: "g", basis: "net" } });
  assert.match(weight(12000), /Weight 12,000 g net\./);
  assert.match(weight(1200.5), /Weight 1200\.5 g net\./);
});

test("a cameo is no stone, and a telescope is a tube", () => {
  const cameo = { facts: { short_description: "shell cameo" }, not_there: ["side-stones"] };
  const stones = answer("jewellery", "How large", cameo);
  assert.match(stones, /No fault noted on the cameo/);
  assert.match(stones, /Length, width and depth of the cameo not taken\./);
  assert.doesNotMatch(stones, /main stone|Stones not tested/);
  assert.match(answer("jewellery", "How large", {}), /Stones not tested/);
  const not_there = ["tubes-liquid", "scales", "batteries", "film-inside"];
  assert.match(
    answer("camera-scientific", "Is there mercury", { not_there }),
    /^It has no scales, glass tubes with liquid, levels, batteries or film\. Whether .* was not looked for\.$/,
  );
});

test("what has play moves, and nobody asks whether it does", () => {
  const moves = (term) => answer("camera-scientific", "Does shutter", one("moving-parts", term));
  assert.doesNotMatch(moves("play"), /whether the moving parts move/i);
  assert.match(moves("wear"), /whether the moving parts move was not noted/i);
});

test("nothing is another fault beside a part that is the first one, nor further beside what another light showed", () => {
  const nose = { origins: { nose: ["original-probably", ""] } };
  const opened = answer("soft-toy", "Was it ever opened", nose);
  assert.match(opened, /The nose is apparently original\..* No fault noted on/);
  const later = answer("soft-toy", "Was it ever opened", { origins: { nose: ["replaced", ""] } });
  assert.match(later, /No further fault noted on/);
  const looked = (light) =>
    paragraph("painting", {
      ...one("paint", "retouched", { light }),
      tests: { "low-light": ["works", "nothing-seen", ""] },
    });
  assert.match(looked("ultraviolet"), /Looked at in low side light [^.]*, with nothing to report\./);
  assert.match(looked("torch"), /Looked at in low side light [^.]*, with nothing further to report\./);
});

test("whether coins were cleaned is asked, and left open unless somebody looked for it", () => {
  const cleaned = (short) =>
    answer("medal-coin", "Which grade", { facts: { short_description: "two coins" }, ...short });
  assert.match(cleaned({}), /Whether they were cleaned was not noted\./);
  const denied = cleaned({ denials: [["surface", "over-cleaned", "loupe"]] });
  assert.doesNotMatch(denied, /Whether they were cleaned/);
});

test("what a trial names is there, though nobody looked at it further", () => {
  const shut = (note) =>
    paragraph("watch", {
      not_examined: { "inner-cover": "sealed", movement: "sealed", balance: "sealed" },
      tests: { "open-back": ["works-in-part", "", note] },
    });
  assert.match(shut("the inner cover stayed shut"), /Not examined: the inner cover, the movement and/);
  assert.match(shut(""), /Not examined: any inner cover, the movement and/);
  assert.match(shut("there may be no inner cover"), /Not examined: any inner cover, the movement and/);
});
