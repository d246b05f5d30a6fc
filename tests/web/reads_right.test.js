/**
 * Texts that contradicted themselves or the record, or said more than it: each case as a cataloguer would sign it.
 * Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { deskTexts } from "../../web/job/desk_words.ts";
import { lotHeading } from "../../web/job/lot.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const INSECTS = { severity: 4, activity: "Q", note: "something moving in the seam" };
const insects = (facts) => ({ ...one("chest", "live-insects", INSECTS), facts });
const caution = { hazard: "H26", level: "amber", sign: "something moving in a seam", zone: null };

test("what holds a thing apart is why it has no word, and is said of it once", () => {
  const held = paragraph("soft-toy", insects({ "cautions/1": caution }));
  assert.match(held, /^Not graded: held back\. Live insects on the chest/);
  assert.match(held, / Held back because of the live insects; not offered until cleared\./);
  assert.doesNotMatch(held, /[Kk]ept apart/);
  const free = paragraph("soft-toy", insects({}));
  assert.match(free, /^Not graded: kept apart because of the live insects\./);
  assert.match(free, / Kept apart from other items: the live insects\./);
  const damp = paragraph("soft-toy", insects({ "cautions/1": { ...caution, sign: "from a damp cellar" } }));
  assert.match(
    damp,
    / other items: the live insects\. Held back, and not offered until cleared; noted: from a damp cellar\./,
  );
});

test("what the desk wrote of a thing kept apart stays, though the caution says as much", () => {
  const values = written(book.plans["soft-toy"], insects({ "cautions/1": caution }));
  const sentence = "going-on/q/0";
  const record_words = "Kept apart from other items: the live insects.";
  const shared = { text: "condition", sentence, speaks_of: [sentence], record_words };
  const line = { ...shared, version: "rewritten", words: "Bagged." };
  const now = recordOf({ ...values, [`sentences/condition/${sentence}`]: line });
  const text = deskTexts(book.plans["soft-toy"], book, now).find(({ name }) => name === "condition");
  assert.match(text.words, / Bagged\. Held back because of the live insects; not offered until cleared\./);
});

test("a fault on the bare name of a zone that has members counts for the word", () => {
  const edges = (more) => paragraph("work-on-paper", one("sheet-edges", "mould", more));
  assert.match(edges({ severity: 4 }), /^Fair\./);
  assert.match(edges({ severity: 3, activity: "Q" }), /^Not graded: kept apart because of the mould\./);
});

test("a look of which an answer tells nothing names where it found what it was for", () => {
  const worn = {
    ...one("setting", "wear", { light: "loupe" }),
    tests: { loupe: ["works", "nothing-seen", ""] },
  };
  const nothing = "Looked at through a x10 loupe for chips and worn claws, with nothing";
  const stones = answer("jewellery", "How large", worn);
  assert.ok(stones.includes(`${nothing} to report except on the setting.`), stones);
  const lit = { ...worn, ...one("setting", "wear", { light: "ultraviolet" }) };
  assert.ok(answer("jewellery", "How large", lit).includes(`${nothing} to report.`));
  const chipped = {
    ...worn,
    findings: [...worn.findings, { zone: "main-stone", term: "chip", severity: 2 }],
  };
  const both = answer("jewellery", "How large", chipped);
  assert.ok(both.includes(`${nothing} further to report except on the setting.`), both);
  assert.ok(paragraph("jewellery", chipped).includes(`${nothing} further to report.`));
});

test("a look takes in no part that was not examined", () => {
  const dark = { not_examined: { glaze: "too-dark" }, tests: { ultraviolet: ["works", "nothing-seen", ""] } };
  const looked = "Looked at under ultraviolet for restoration, except the glaze, with nothing to report.";
  for (const text of [paragraph("ceramics", dark), answer("ceramics", "Is anything", dark)])
    assert.ok(text.includes(looked), text);
  const shut = { not_examined: { hands: "covered" }, tests: { "light-head": ["works", "nothing-seen", ""] } };
  assert.doesNotMatch(paragraph("doll", shut), /apart/);
});

test("what was found not to go is capped as what was tried and does not", () => {
  const toy = { not_there: ["motor-electric", "steam-parts"] };
  for (const term of ["no-action", "seized"]) {
    const dead = paragraph("tinplate-diecast", { ...toy, ...one("clockwork", term, { severity: 2 }) });
    assert.match(dead, /^Good\./, term);
  }
  const electric = { not_there: ["steam-parts"], ...one("motor-electric", "no-action", { severity: 1 }) };
  const tried = { tests: { "half-turn": ["works", "", ""] } };
  assert.match(paragraph("tinplate-diecast", { ...electric, ...tried }), /^Good\./);
  assert.match(paragraph("clock", one("movement", "stops", { severity: 2 })), /^Good\./);
});

test("what a thing is called it is not said to lack", () => {
  const bare = (short_description, ...not_there) => ({ facts: { short_description }, not_there });
  const fittings = ["wheels", "tyres", "figures"];
  const asked = (name) => answer("tinplate-diecast", "Are wheels", bare(name, ...fittings));
  assert.match(asked("wind-up walking figure"), / It has no wheels or tyres\.$/);
  assert.match(asked("clockwork car"), / It has no wheels, tyres or figures\.$/);
  assert.match(asked("clockwork car without figure"), / It has no wheels, tyres or figures\.$/);
  const boxed = paragraph("tinplate-diecast", bare("money box", "box", "box-flaps"));
  assert.doesNotMatch(boxed, /Without box/);
});

test("of an edge that goes on from one with a chip no other chip is felt", () => {
  const denials = ["rim", "foot"].map((zone) => [zone, "chip", "fingertip"]);
  const nibbled = { ...one("lip", "fleabite", { extent_count: 2 }), denials };
  const other = /\. No other chip felt on the rim, and none on the foot, with a fingertip\./;
  assert.match(paragraph("glass", nibbled), other);
  const asked = answer("glass", "Are rim", nibbled);
  assert.match(asked, other);
  assert.match(asked, /fingertip\. No further fault noted on these or on the base under a lamp\./);
  const alone = { ...nibbled, denials: [["rim", "chip", "fingertip"]] };
  assert.match(paragraph("glass", alone), /\. No other chip felt on the rim with a fingertip\./);
  assert.match(paragraph("glass", { denials }), / No chip felt on the rim or the foot with a fingertip\./);
  const cracked = { ...one("lip", "crack"), denials };
  assert.match(paragraph("glass", cracked), / No chip felt on the rim or the foot with a fingertip\./);
});

test("that one of several has a fault is not which of them it is", () => {
  const facts = { short_description: "five scent bottles", pieces: 5 };
  const gone = { zone: "stopper", term: "missing-part", severity: 2 };
  const bottles = (note, more = []) => paragraph("glass", { facts, findings: [{ ...gone, note }, ...more] });
  const crack = { zone: "neck", term: "crack", severity: 3 };
  for (const note of ["from one bottle of the five", "on 2 of them"])
    assert.match(bottles(note, [crack]), /Not noted: which of the five the faults are on\./, note);
  const others = /Not noted: which of the five the crack is on\./;
  for (const note of [
    "from the tallest of the five",
    "from one of them, with a gilt rim",
    "from all of them",
  ])
    assert.match(bottles(note, [crack]), others, note);
  assert.doesNotMatch(bottles("from one bottle of the five"), /Not noted: which/);
});

test("a heading of a set that is named by more than are here says how many it lacks", () => {
  const volume = { zone: "set-count", term: "missing-part", severity: 3 };
  const heading = (facts, found = volume) => {
    const values = written(book.plans["book-map"], { facts, findings: [found] });
    return lotHeading(book, recordOf(values)).words;
  };
  const set = { short_description: "set of twelve volumes", pieces: 11 };
  const dated = { ...set, dates: { words: "1787" } };
  assert.equal(heading(set), "A set of twelve volumes, lacking one");
  assert.equal(heading(dated), "A set of twelve volumes, 1787, lacking one");
  assert.equal(heading(set, { ...volume, certainty: "possible" }), "A set of twelve volumes");
  assert.equal(heading({ ...set, pieces: 12 }), "A set of twelve volumes");
  assert.equal(heading(set, { ...volume, extent_count: 2 }), "A set of twelve volumes");
  assert.equal(heading({ ...set, short_description: "1787 atlas" }), "A 1787 atlas");
  const said = "set of twelve volumes, one missing";
  assert.equal(heading({ ...set, short_description: said }), `A ${said}`);
  const here = "eleven volumes of a set of twelve";
  assert.equal(heading({ ...set, short_description: here }), "Eleven volumes of a set of twelve");
});

test("of papers of which some are missing the text says whether others are left, too", () => {
  const some = one("documents", "missing-part", { extent_count: 2 });
  const open = /Two documents are missing\. Whether there are other papers with it was not noted\./;
  assert.match(paragraph("medal-coin", some), open);
  assert.doesNotMatch(paragraph("medal-coin", { ...some, counts: { documents: 3 } }), /other papers/);
  assert.doesNotMatch(paragraph("medal-coin", one("documents", "missing-part")), /other papers/);
  assert.doesNotMatch(paragraph("medal-coin", {}), /other papers/);
});

test("why what differed has no word says what it differed from", () => {
  const differs = (words, facts = {}) => ({ facts: { "check-in": { state: "differs", words }, ...facts } });
  const noted = /^Not graded: what was noted when it was checked in has not been examined since\./;
  assert.match(paragraph("glass", differs("a chip")), noted);
  const pair = differs("", { short_description: "pair of decanters" });
  assert.match(
    paragraph("glass", pair),
    /^Not graded: they differed from their pictures when they were checked in\./,
  );
});

test("what a clearance says of estimates is for the desk alone", () => {
  const sword = (cleared_for) =>
    paragraph("glass", {
      facts: {
        "cautions/1": { hazard: "H04", level: "amber", sign: "a hilt", zone: null },
        "caution-decisions/1": { decision: "cleared", cleared_for },
      },
    });
  assert.match(
    sword("a description in words; no estimate, and no sale until it has been seen with the blade drawn"),
    / Noted: a hilt; cleared only for a description in words; no sale until it has been seen with the blade drawn\./,
  );
  assert.match(sword("display; not for sale"), / Noted: a hilt; cleared only for display; not for sale\./);
  assert.doesNotMatch(sword("sale, no estimate"), /hilt/);
});

test("a length that was taken once is of one of several", () => {
  const wear = (more) =>
    paragraph("stringed-instrument", one("sound-holes", "edge-wear", { severity: 1, ...more }));
  assert.match(wear({ extent_mm: 28 }), /Wear to the edges of a sound-hole over 28 mm\./);
  assert.match(wear({}), /Slight wear to the edges of the sound-holes\./);
  assert.match(
    wear({ extent_mm: 28, note: "both" }),
    /Wear to the edges of the sound-holes over 28 mm \(both\)\./,
  );
  const plates = one("plates", "foxing", { extent_mm: 30 });
  assert.match(paragraph("book-map", plates), /a plate/);
});

test("a metal or a stone that nobody tested is described as seen", () => {
  const made = (materials) => lot("medal-coin", { short_description: "group of medals", materials });
  assert.match(
    made("silver, bronze, ribbon"),
    /^A group of medals; materials as seen: silver, bronze and ribbon\./,
  );
  assert.match(made("silver"), /^A group of medals; materials as seen: silver\./);
  assert.match(made("bronze"), /^A group of medals, bronze\./);
  assert.match(made("silver-coloured metal"), /^A group of medals, silver-coloured metal\./);
  assert.match(
    lot("silver-plate", { short_description: "forks", materials: "silver; the odd fork plated" }),
    /; materials as seen: silver, the odd fork plated\./,
  );
});
