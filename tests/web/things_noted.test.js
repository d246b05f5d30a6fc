/** A note that names a thing: that is what is missing or replaced, and never the whole that it was part of. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const REPLACED = "replaced-part";
const lost = (class_id, zone, note, more = {}) =>
  paragraph(class_id, one(zone, "missing-part", { note, ...more }));
const said = (class_id, zone, note, more = {}) => paragraph(class_id, one(zone, REPLACED, { note, ...more }));

test("a note that names another thing than the zone is of tells of a part that is missing", () => {
  assert.match(lost("furniture", "legs", "three castors"), /Parts missing from the legs \(three castors\)/);
  assert.match(lost("furniture", "handles", "two escutcheons"), /Parts missing from the handles \(two esc/);
  assert.match(lost("furniture", "glass-mirror", "one pane"), /A part missing from the glass \(one pane\)/);
  assert.match(
    lost("stringed-instrument", "bridge", "two pins"),
    /Parts missing from the bridge \(two pins\)/,
  );
  assert.match(lost("stringed-instrument", "bow-stick", "lapping"), /A part missing from the bow stick/);
  assert.match(lost("silver-plate", "liner", "one glass well"), /A part missing from the liner/);
  assert.match(lost("painting", "frame-ornament", "two corner leaves"), /Parts missing from the ornament/);
  assert.match(lost("ceramics", "cover", "the knop"), /A part missing from the cover \(the knop\)/);
});

test("a note that names or counts things of the zone says which are missing", () => {
  assert.match(lost("jewellery", "links", "two links"), /Two links are missing\./);
  assert.match(lost("stringed-instrument", "pegs", "the A peg"), /The A peg is missing\./);
  assert.match(lost("watch", "hands", "seconds hand"), /The seconds hand is missing\./);
  assert.match(lost("glass", "drops", "four"), /Four drops are missing\./);
  assert.match(lost("medal-coin", "clasps", "one"), /One clasp is missing\./);
  assert.match(lost("work-on-paper", "enclosures", "two photographs"), /Two photographs are missing\./);
  assert.match(
    lost("textile-rug", "trim", "beads of the tunic", { extent_count: 30 }),
    /Thirty beads of the tunic missing/,
  );
  // A note with a number of its own is no name.
  const set = lost("ceramics", "set-count", "23 pieces of 40", { extent_count: 17 });
  assert.match(set, /Seventeen pieces missing from the set \(23 pieces of 40\)/);
  // Which, and not how many.
  assert.match(lost("furniture", "handles", "back left"), /One or more handles are missing \(back left\)/);
  assert.match(lost("furniture", "legs", "the shorter"), /One or more legs are missing \(the shorter\)/);
});

test("what is replaced is what a note names by its article, or all where it says by what", () => {
  assert.match(said("clock", "pendulum", "the bob"), /The bob of the pendulum is replaced\./);
  assert.match(
    said("clock", "chapter-ring", "one spandrel"),
    /One spandrel of the chapter ring is replaced\./,
  );
  assert.match(said("clock", "escapement", "the platform"), /The platform of the escapement is replaced\./);
  assert.match(
    said("soft-toy", "eyes/proper-left", "a boot button"),
    /The proper left eye is replaced \(a boot/,
  );
  assert.match(said("glass", "stopper", "cork"), /The stopper is replaced \(cork\)/);
});

test("a part of one thing is never missing without its place", () => {
  assert.match(lost("medal-coin", "case", "the lid"), /A part of the case is missing \(the lid\)/);
  assert.match(lost("book-map", "slipcase", "the index"), /A part of the slipcase is missing \(the index\)/);
});

test("one of the saucers is another's, and no saucer of it", () => {
  const finding = {
    zone: "stand",
    term: "associated-part",
    severity: 2,
    piece_count: 1,
    piece_words: "saucers",
  };
  const facts = {
    pieces: 12,
    "listed/0": { words: "cups", count: 6, withdrawn: false },
    "listed/1": { words: "saucers", count: 6, withdrawn: false },
  };
  const words = paragraph("ceramics", { facts, findings: [{ ...finding, note: "of a plainer pattern" }] });
  assert.match(words, /One of the six saucers is associated/);
});

test("lines that a note names are not rotting lines of the lines", () => {
  const words = paragraph("clock", one("weights", "fibre-rot", { note: "both lines" }));
  assert.doesNotMatch(words, /lines of the lines/);
  assert.match(words, /Rotting fibre in the lines \(both lines\)/);
});

test("no zone is missing as a whole where a note names something else by number", () => {
  for (const [class_id, plan] of Object.entries(book.plans))
    for (const { zone, usual, members } of plan.zones) {
      if (!usual.includes("missing-part")) continue;
      const key = members?.length ? `${zone}/${members[0]}` : zone;
      const words = lost(class_id, key, "two trunnions");
      const [sentence = ""] = words.split(". ").filter((one) => one.includes("trunnions"));
      const isOfPart = /\b[Pp](?:art|ane|anel|iece|late|olume|age|eaf|eave)s?\b|^[Tt]wo trunnions/.test(
        sentence,
      );
      assert.ok(isOfPart || !/ (?:is|are) missing \(/.test(sentence), `${class_id} ${key}: ${sentence}`);
    }
});

test("what is missing from a set stands in the first answer where no question asks for it", () => {
  const spoon = one("set-count", "missing-part", { note: "a teaspoon", extent_count: 1 });
  assert.match(answer("silver-plate", "What does it weigh", spoon), /missing/);
  assert.doesNotMatch(answer("silver-plate", "Are the marks clear", spoon), /missing/);
});

test("a hem that was taken up is told where it is asked for full length", () => {
  const hem = one("hem", "trimmed", { extent_mm: 40 });
  assert.match(answer("textile-rug", "Are there repairs", hem), /trimmed|hem/);
});

const counted = (...lines) => ({
  pieces: lines.reduce((sum, [, count = 1]) => sum + count, 0),
  ...Object.fromEntries(
    lines.map(([words, count = 1], at) => [`listed/${at}`, { words, count, withdrawn: false }]),
  ),
});

test("a thing whose list names its parts is one thing, and nobody asks on which of them a fault is", () => {
  const facts = counted(["case with hood"], ["movement with dial"], ["pendulum"], ["weights", 2]);
  const split = {
    zone: "trunk-door",
    term: "split",
    severity: 2,
    piece_count: 1,
    piece_words: "case with hood",
  };
  const short = { facts, findings: [split, { zone: "seatboard", term: "replaced-part", severity: 2 }] };
  const words = paragraph("clock", short);
  assert.match(words, /split in the trunk door/);
  assert.doesNotMatch(words, /of the five|case with hood|dials/);
  assert.doesNotMatch(answer("clock", "", short), /of the five|all five|dials/);
});

test("a tea service stays as many pieces as it has", () => {
  const facts = counted(["teapot and cover"], ["milk jug and cover"], ["sugar bowl and cover"]);
  const chip = { zone: "rim", term: "chip", severity: 2 };
  assert.match(paragraph("ceramics", { facts, findings: [chip] }), /of the three/);
});

test("a part that is missing takes nothing else with it: what was tried, denied and thought of the rest is told", () => {
  const cord = {
    findings: [{ zone: "strike", term: "missing-part", severity: 2, note: "the repeat cord" }],
    tests: { "strike-once": ["no-response", "", ""] },
  };
  assert.match(paragraph("clock", cord), /strike did not answer/i);
  assert.match(answer("clock", "Does it run", cord), /strike did not answer/i);
  const all = {
    ...cord,
    findings: [{ zone: "strike", term: "missing-part", severity: 2, note: "lost long ago" }],
  };
  assert.doesNotMatch(paragraph("clock", all), /did not answer/i);
  const knop = {
    findings: [{ zone: "cover", term: "missing-part", severity: 2, note: "the knop" }],
    denials: [["cover", "crack", "lamp"]],
  };
  assert.match(paragraph("ceramics", knop), /No crack seen in the cover/);
});
