/** What misled whoever read the invented day's texts as a bidder would, a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answerInWords } from "../../web/job/answer_words.ts";
import { fiveAnswers } from "../../web/job/answers.ts";
import { isForbiddenBeside } from "../../web/job/forbidden_tests.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

test("a margin is not called untrimmed whose edges nobody saw, nor beside its edge that was trimmed", () => {
  const asked = (more) => answer("work-on-paper", "Are the margins", more);
  const covered = asked({ not_examined: { "sheet-edges": "covered" } });
  assert.match(covered, /Whether the margins are full could not be seen\./);
  assert.doesNotMatch(covered, /fault noted on the margins/);
  assert.match(asked({}), /fault noted on the margins/);
  const cut = asked(one("sheet-edges/bottom", "trimmed", { extent_mm: 5 }));
  assert.match(cut, /on the top, right and left margins or the top, right and left sheet edges\b/);
  assert.match(asked(one("margins/top", "trimmed")), /right, bottom and left sheet edges\b/);
  // What is torn is no matter of the margin beside it.
  assert.match(asked(one("sheet-edges/bottom", "tear")), / on the margins or /);
});

test("what has no hallmark of its own, a lining or a title leaf is asked after all the same", () => {
  const beads = answer("jewellery", "Which metal", { not_there: ["marks", "mount"] });
  assert.match(beads, /Whether it is hallmarked was not noted\./);
  assert.doesNotMatch(beads, /no mount|No marks were copied/);
  // Marks that nobody copied may be none.
  assert.match(
    answer("jewellery", "Which metal", {}),
    /not copied\. Whether it is hallmarked was not noted\./,
  );
  const lined = (more) => answer("painting", "Is it lined", { not_there: ["lining"], ...more });
  assert.match(lined({}), /Whether it is lined was not noted\./);
  assert.doesNotMatch(lined({ denials: [["support", "relined", "lamp"]] }), /Whether it is lined/);
  assert.doesNotMatch(lined({ not_there: ["lining", "stretcher", "tacking"] }), /Whether it is lined/);
  assert.match(
    answer("book-map", "Which edition", one("title-leaf", "leaf-missing")),
    /Edition and issue could not be seen\./,
  );
});

test("only dust that was looked for at worm holes says that there is none, whatever lives", () => {
  const holes = { ...one("underside", "flight-holes"), denials: [["underside", "live-insects", "lamp"]] };
  const open = /Whether there is fresh worm dust at the worm holes was not noted\./;
  assert.match(answer("furniture", "Is there worm", holes), open);
  const dust = { ...holes, denials: [["underside", "frass", "lamp"]] };
  assert.doesNotMatch(answer("furniture", "Is there worm", dust), open);
});

test("a rotten thread and a torn map are told to whoever asks whether all holds or is there", () => {
  const rotten = answer("jewellery", "Does the catch", one("stringing", "fibre-rot", { severity: 3 }));
  assert.match(rotten, /The stringing is perished\./);
  assert.match(answer("book-map", "Is it complete", one("map-sheet", "tear")), /^A tear in the map sheet\./);
});

test("a height of what sticks up says whether that was measured with it, or that nobody noted it", () => {
  const height = (basis) => ({ "measures/height": { value: 210, unit: "mm", typed: "", basis } });
  const ears = { "zones/ears/proper-left": { state: "clear", reason: null, light: "lamp", count: null } };
  const open = /Height standing 21\.0 cm \(8 1\/4 in\); whether the ears are included was not noted\./;
  const rabbit = { short_description: "plush rabbit", ...ears };
  assert.match(lot("soft-toy", { ...rabbit, ...height("") }), open);
  assert.match(
    lot("soft-toy", { ...rabbit, ...height("ears included") }),
    / cm \(8 1\/4 in\), ears included\./,
  );
  assert.doesNotMatch(lot("soft-toy", height("")), /ears/);
});

test("that a thing is held back is told in the first answer, and first where it bears on that", () => {
  const held = (hazard) => ({
    facts: { "cautions/0": { hazard, level: "amber", sign: "a flex", zone: null, called: "", place: "" } },
  });
  const sentence = "Held back, and not offered until cleared";
  assert.match(answer("ceramics", "Which chips", held("H24")), new RegExp(` ${sentence}; noted: a flex\\.$`));
  assert.match(answer("silver-plate", "What does it weigh", held("H29")), new RegExp(`^${sentence}\\.`));
  assert.doesNotMatch(answer("silver-plate", "Were arms", held("H29")), /Held back/);
  assert.equal(paragraph("silver-plate", held("H29")).split(sentence).length, 2);
});

test("what was looked for in vain, and that nothing else is wrong with the same zone, is one sentence", () => {
  const asked = (class_id, begins, short) => {
    const plan = book.plans[class_id];
    const answers = fiveAnswers(plan, book, recordOf(written(plan, short)));
    return answerInWords(answers.find(({ question }) => question.startsWith(begins)).answer);
  };
  const chips = { denials: [["body", "chip", "lamp"]] };
  assert.match(
    asked("ceramics", "Which chips", chips),
    /No chip seen on the body under a lamp, nor any other fault on the body, .*underside\. /,
  );
  const moth = { ...one("head", "pile-loss"), denials: [["cover", "live-insects", "torch"]] };
  assert.match(
    asked("soft-toy", "Has it moth", moth),
    /on the cover in low side light, nor any further fault on the cover under a lamp, or on/,
  );
  // Of other zones it is another sentence.
  const unfilled = { ...one("rim", "crack"), denials: [["base", "split", "torch"]], untouched: ["base"] };
  assert.match(
    asked("silver-plate", "Is there a repair", unfilled),
    /seen in the base in low side light\. No further /,
  );
});

test("what may get worse is called as it was told", () => {
  const rot = (zone) => one(zone, "fibre-rot", { severity: 3, activity: "P" });
  assert.match(paragraph("jewellery", rot("stringing")), / The perished stringing may get worse\./);
  assert.match(paragraph("textile-rug", rot("stress")), / The perished places under strain may get worse\. /);
  assert.match(paragraph("textile-rug", rot("back")), / The rotting fibre may get worse\. /);
});

test("which of several have a fault is asked of each by its name, beside others of which it is known", () => {
  const forks = {
    facts: { short_description: "seven forks", pieces: 7 },
    findings: [
      { zone: "engraving", term: "altered-inscription", severity: 2, extent_count: 2 },
      { zone: "marks-parts", term: "mark-illegible", severity: 1, extent_count: 1 },
      { zone: "tines-blades", term: "bent", severity: 1, extent_count: 1, note: "the third fork" },
    ],
  };
  assert.match(
    paragraph("silver-plate", forks),
    /Not noted: which of the seven the altered inscriptions and the illegible mark are on\./,
  );
  const paint = { facts: { short_description: "five toy boats", pieces: 5 } };
  const worn = { ...paint, ...one("paint", "paint-loss", { piece_count: 3 }) };
  assert.match(paragraph("tinplate-diecast", worn), /which of the five the loss of paint is on\./);
});

test("what was not there to be read was not left unread, and no leaf is counted by a light", () => {
  const numbers = { tests: { "number-match": ["not-done", "no numbers seen on either", ""] } };
  assert.match(paragraph("glass", numbers), /Numbers on stopper and neck: no numbers seen on either\./);
  const late = { tests: { "number-match": ["not-done", "no-time", ""] } };
  assert.match(paragraph("glass", late), /Numbers on stopper and neck not read: time did not allow it\./);
  const leaves = { denials: [["text", "leaf-missing", "lamp"]] };
  assert.match(paragraph("book-map", leaves), /No leaf noticed missing from the text\. /);
});

test("that a picture was out of its frame is no opinion of the frame, nor a complete group one that is worn so", () => {
  const out = { statements: { "out-of-frame": "examined out of the frame" } };
  assert.match(answer("painting", "How large", out), /Whether the frame is original was not noted\./);
  const group = { facts: { short_description: "group of five medals" } };
  const worn = /Whether it is mounted as worn was not noted\./;
  assert.match(answer("medal-coin", "Is the group", group), worn);
  assert.doesNotMatch(answer("medal-coin", "Is the group", { ...group, not_there: ["mounting"] }), worn);
});

test("a sign that the heading says is not read again, and one that says more is", () => {
  const held = (sign) => ({
    facts: {
      short_description: "celluloid doll, yellow sticky arms",
      "cautions/0": { hazard: "H16", level: "amber", sign, zone: null, called: "", place: "" },
    },
  });
  assert.match(paragraph("doll", held("yellow sticky arms")), /Held back, and not offered until cleared\./);
  assert.match(paragraph("doll", held("a sour smell")), /until cleared; noted: a sour smell\./);
});

test("a key zone with a fleabite is never excellent", () => {
  assert.match(paragraph("ceramics", one("rim", "fleabite", { severity: 1 })), /^Very good\b/);
});

test("that no stones are set in it is said in the same words wherever stones are asked after", () => {
  const bangle = { not_there: ["main-stone", "side-stones", "setting"] };
  for (const begins of ["How large", "Are there repairs"])
    assert.match(answer("jewellery", begins, bangle), /No stones are set in it\./);
  assert.match(answer("jewellery", "Which metal", {}), /Length of the chain and weight not taken\./);
});

test("signatures of many are spoken of as many, and an animal on all fours has forelegs", () => {
  const portfolio = { facts: { short_description: "portfolio of watercolours" } };
  assert.match(
    answer("work-on-paper", "Is the signature", portfolio),
    /Whether the signatures are in pencil/,
  );
  const rabbit = { facts: { short_description: "rabbit on all fours" } };
  assert.match(answer("soft-toy", "Where is it bald", rabbit), /the forelegs, the hind legs or the tail/);
});

test("a sheet is laid down, not its back; and whoever asks after worn plating hears of over-cleaning", () => {
  const denials = [
    ["verso", "laid-down", "lamp"],
    ["support", "laid-down", "lamp"],
  ];
  assert.match(
    paragraph("work-on-paper", { denials }),
    /No sign seen under a lamp that the sheet is laid down\./,
  );
  const pair = { facts: { short_description: "pair of watercolours", pieces: 2 }, denials };
  assert.match(paragraph("work-on-paper", pair), /under a lamp that the sheets are laid down\./);
  const [, support] = denials;
  const cloth = { denials: [["ground", "laid-down", "lamp"]] };
  assert.match(paragraph("work-on-paper", { denials: [support] }), /that the sheet is laid down\./);
  assert.match(paragraph("textile-rug", cloth), /No sign seen under a lamp that the ground is laid down\./);
  const cleaned = one("decoration", "over-cleaned", { severity: 3 });
  assert.match(answer("silver-plate", "Is it silver", cleaned), /The decoration is over-cleaned\./);
});

test("nobody touches the claws of a setting that holds no stone", () => {
  const plan = book.plans.jewellery;
  const touch = plan.tests.find((one) => one.test === "claw-touch");
  const isForbidden = (not_there) => isForbiddenBeside(plan, touch, recordOf(written(plan, { not_there })));
  assert.equal(isForbidden(["main-stone", "side-stones"]), true);
  assert.equal(isForbidden(["side-stones"]), false);
});
