/**
 * What no cataloguer would sign, found by reading every text of the invented day: each case as it should read.
 * Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const mark = (more) => ({
  "marks/0": {
    place: "lower right",
    technique: "painted",
    colour: "",
    completeness: "complete",
    text: "Z. Thistlecombe",
    reading: "",
    withdrawn: false,
    ...more,
  },
});
const size = (value, unit = "mm") => ({ value, unit, typed: "" });

test("a reason fits whatever was left undone, and one thing or several", () => {
  const left = (class_id, name, why) => paragraph(class_id, { tests: { [name]: ["not-done", why, ""] } });
  assert.match(left("watch", "wind-few", "unsafe-object"), /Not wound: that would have risked damage\./);
  assert.match(
    left("doll", "light-head", "not-accessible"),
    /Lamp not put inside the head: out of reach without dismantling\./,
  );
});

test("one thing on a zone of several is on one of them", () => {
  assert.match(paragraph("ceramics", one("handles", "crack")), /A crack in a handle\./);
  assert.match(
    paragraph("tinplate-diecast", one("box-flaps", "tear", { extent_count: 1 })),
    /A tear in a box flap\./,
  );
  assert.match(
    paragraph("jewellery", one("side-stones", "scratch", { note: "the proper left one" })),
    /A scratch on a side stone \(the proper left one\)\./,
  );
  const only = { ...one("handles", "crack"), counts: { handles: 1 } };
  assert.match(paragraph("ceramics", only), /A crack in the handle\./);
  assert.match(
    paragraph("book-map", one("plates", "tear", { extent_count: 3 })),
    /Three tears in the plates\./,
  );
  assert.match(
    paragraph("camera-scientific", one("optics-other", "loss", { extent_percent: 9 })),
    /A loss over about 9 per cent of the other optical parts\./,
  );
  assert.match(paragraph("camera-scientific", one("bellows", "hole")), /A hole in the bellows\./);
  assert.match(paragraph("medal-coin", one("fields", "scratch")), /A scratch on the fields\./);
  assert.match(paragraph("doll", one("hands/proper-left", "chip")), /A chip to the proper left hand\./);
});

test("a part is of another item in a set, play is in a focus and a bend in a mount", () => {
  assert.match(
    paragraph("silver-plate", one("set-count", "associated-part", { extent_count: 1 })),
    /An associated piece in the set\./,
  );
  assert.match(paragraph("camera-scientific", one("focus", "play")), / play in the focus\./i);
  assert.match(paragraph("jewellery", one("mount", "bent", { extent_count: 2 })), /Two bends in the mount\./);
});

test("a term has a word of its own where it speaks of what bears it", () => {
  assert.match(paragraph("silver-plate", one("plating", "re-plated")), /The plating is renewed\./);
  assert.match(paragraph("silver-plate", one("body", "re-plated")), /The body is re-plated\./);
  assert.match(
    paragraph("glass", one("foot", "trimmed", { extent_mm: 3 })),
    /The foot is ground down by 3 mm\./,
  );
  assert.match(
    paragraph("glass", { denials: [["rim", "trimmed", "lamp"]] }),
    /No sign of grinding to the rim seen under a lamp\./,
  );
  assert.match(paragraph("book-map", one("title-leaf", "leaf-missing")), /The title leaf is missing\./);
  assert.match(paragraph("book-map", one("plates", "leaf-missing")), /One or more plates missing\./);
  assert.match(
    paragraph("clock", one("signature", "mark-illegible")),
    /The signature is not fully legible\./,
  );
  assert.match(
    paragraph("silver-plate", one("marks-body", "altered-inscription")),
    /The marks on the body are altered\./,
  );
  assert.match(
    paragraph("silver-plate", one("body", "altered-inscription")),
    /The inscription on the body is altered\./,
  );
});

test("what is all there is called complete, and a catch that held shows no fault", () => {
  assert.match(
    paragraph("jewellery", { denials: [["setting", "stone-missing", "loupe"]] }),
    /The setting is complete, no stone lacking, seen through a x10 loupe\./,
  );
  assert.match(
    paragraph("book-map", {
      denials: [
        ["text", "leaf-missing", "lamp"],
        ["plates", "leaf-missing", "lamp"],
      ],
    }),
    /No leaf noticed missing from the text or the plates\./,
  );
  assert.match(
    paragraph("jewellery", { denials: [["clasp", "catch-fails", "by-hand"]] }),
    /The catch of the clasp held when tried once by hand\./,
  );
});

test("what came from the kiln or the mould is a flaw of manufacture", () => {
  assert.match(
    paragraph("ceramics", one("foot-rim", "making-fault", { severity: 1, extent_mm: 13 })),
    /A manufacturing flaw of 13 mm in the foot-rim\./,
  );
});

test("glass is called glass", () => {
  assert.match(
    paragraph("glass", one("metal", "etching", { extent_percent: 30 })),
    /Cloudy etching over about 30 per cent of the glass\./,
  );
});

test("the piece that a note names by its zone is the piece that is missing", () => {
  const gone = (note) => paragraph("clock", one("keys", "missing-part", { extent_count: 1, note }));
  assert.match(gone("the case key"), /One key is missing \(the case key\)\./);
  assert.match(gone("the bit of it"), /One part missing from the keys \(the bit of it\)\./);
});

test("only what a buyer looks for is said to be lacking, and only beside what it goes with", () => {
  const none = (class_id, not_there) => paragraph(class_id, { not_there });
  assert.doesNotMatch(none("glass", ["stopper", "drops"]), /Without/);
  assert.doesNotMatch(none("clock", ["weights", "base-dome"]), /Without/);
  assert.doesNotMatch(none("book-map", ["jacket", "map-sheet", "inscriptions", "slipcase"]), /Without/);
  assert.match(none("tinplate-diecast", ["key", "box", "box-flaps"]), /Without key or box\./);
  assert.match(none("tinplate-diecast", ["key", "clockwork", "box", "box-flaps"]), /Without box\./);
  const guitar = ["bow-stick", "bow-frog", "bow-brand", "case", "sound-post"];
  assert.match(none("stringed-instrument", guitar), /Without case\./);
  assert.match(none("soft-toy", ["label-mark", "dress"]), /Without label or stud\./);
});

test("of two shoes one that is not there leaves the other, and it is not without shoes", () => {
  const not_there = { "shoes/proper-left": "not-applicable" };
  assert.doesNotMatch(paragraph("doll", { not_examined: not_there }), /Without/);
  const neither = { ...not_there, "shoes/proper-right": "not-applicable" };
  assert.match(paragraph("doll", { not_examined: neither }), /Without shoes\./);
});

test("an artist's name is a signature, other words on a picture are an inscription", () => {
  const by = { maker: "Z. Thistlecombe", maker_certainty: "manner-of" };
  assert.match(
    lot("painting", { ...by, ...mark({ standing: "not-relied-on" }) }),
    /It bears a signature lower right, painted: “Z\. Thistlecombe”, which is not relied on\./,
  );
  assert.match(
    lot("painting", { ...by, ...mark({ standing: "makers-own" }) }),
    /Signed “Z\. Thistlecombe” lower right, painted\./,
  );
  assert.match(
    lot("painting", { ...by, ...mark({ standing: "borne", text: "To Mary" }) }),
    /It bears an inscription lower right, painted: “To Mary”/,
  );
  for (const technique of ["printed", "impressed", "struck", "moulded"])
    assert.match(
      lot("painting", { ...by, ...mark({ standing: "borne", technique }) }),
      /It bears an inscription lower right/,
      "nobody wrote it with a hand of their own",
    );
  assert.match(
    lot("ceramics", { ...by, ...mark({ standing: "borne" }) }),
    /It bears a mark lower right, painted: /,
  );
  assert.match(
    lot("book-map", { ...by, ...mark({ standing: null, technique: "printed" }) }),
    /It has an inscription lower right, printed: /,
  );
});

test("papers that were examined are not missed", () => {
  const asked = answer("watch", "Are box, papers", {});
  assert.match(asked, /Whether there are papers with it was not noted\./);
  assert.match(
    answer("watch", "Are box, papers", { untouched: ["papers"] }),
    /Whether there are papers with it was not noted/,
  );
  const gone = one("papers", "missing-part");
  assert.doesNotMatch(answer("watch", "Are box, papers", gone), /There are papers with it/);
});

test("that something was weighed is no condition, what was weighed is", () => {
  const weighed = (note) => ({
    facts: { "measures/weight": size(518, "g") },
    tests: { weigh: ["works", "", note] },
  });
  assert.doesNotMatch(paragraph("silver-plate", weighed("")), /[Ww]eigh/);
  assert.match(
    paragraph("silver-plate", weighed("the six without the odd one")),
    / Weighed: the six without the odd one\./,
  );
});

test("a look that found something is not told a third time", () => {
  const breathed = {
    ...one("engraving", "altered-inscription", { light: "breath" }),
    tests: { breath: ["works", "", ""] },
  };
  const text = paragraph("silver-plate", breathed);
  assert.match(text, /The inscription is altered, seen when breathed on\./);
  assert.doesNotMatch(text, /ghosts/);
});

test("a small size beside a large one is in the same unit", () => {
  const lorry = { "measures/length": size(118), "measures/width": size(42) };
  assert.match(lot("tinplate-diecast", lorry), /Length by width 11\.8 x 4\.2 cm \(4 5\/8 x 1 5\/8 in\)\./);
  assert.match(lot("watch", { "measures/case-diameter": size(48) }), /Case diameter without crown 48 mm/);
  const ring = { "measures/length": size(600), "measures/stone-length": size(5) };
  assert.match(lot("jewellery", ring), /length of the main stone 5 mm/i);
});

test("the sizes of one thing are one phrase, as far as they were taken in the same way", () => {
  const picture = { "measures/height": size(405), "measures/width": size(610) };
  const framed = { ...picture, "measures/framed-height": size(560), "measures/framed-width": size(765) };
  assert.match(
    lot("painting", framed),
    /Height by width of the picture 40\.5 x 61\.0 cm \(15 15\/16 x 24 in\) and with frame 56\.0 x 76\.5 cm \(/,
  );
  const sight = { ...picture, "measures/height": { ...size(405), basis: "sight size" } };
  assert.match(
    lot("painting", sight),
    /Height of the picture 40\.5 cm \([^)]+\) sight size and width of the picture 61\.0 cm \(/,
  );
  const rug = { "measures/length": size(1930), "measures/width": size(1245) };
  assert.match(lot("textile-rug", rug), /Length by width 193\.0 x 124\.5 cm \(6 ft 4 in x 4 ft 1 in\)\./);
  const plates = { "measures/plates-called-for": size(24, "n"), "measures/plates-present": size(23, "n") };
  assert.match(lot("book-map", plates), /24 plates and maps called for and 23 present\./i);
  assert.match(
    answer("painting", "How large", { facts: picture }),
    /Height by width of the picture 40\.5 x 61\.0 cm/,
  );
});

test("a catch that was tried by hand is not said to be untried", () => {
  const held = { denials: [["clasp", "catch-fails", "by-hand"]] };
  assert.doesNotMatch(answer("jewellery", "Does the catch", held), /Catch not tried/);
});

test("a weight that nobody took is missed, the size of a stone that is not there is not", () => {
  assert.equal(
    answer("silver-plate", "What does it weigh", { not_there: ["loading"] }),
    "Weight not taken. The materials were not noted.",
  );
  assert.equal(answer("medal-coin", "What are weight", {}), "Diameter and weight not taken.");
  const beads = { not_there: ["main-stone"] };
  assert.doesNotMatch(answer("jewellery", "How large are the stones", beads), /of the main stone/);
});

test("a crack is no answer to whether the gilding is rubbed, nor a chip to the age of the engraving", () => {
  assert.doesNotMatch(answer("ceramics", "Is gilding", one("body", "crack")), /A crack in/);
  assert.match(answer("ceramics", "Is gilding", one("gilding", "abrasion")), /abrasion to the gilding/i);
  assert.doesNotMatch(answer("glass", "Is the engraving", one("bowl", "chip")), /A chip to/);
  assert.doesNotMatch(
    answer("textile-rug", "Is the pile", one("selvedges/viewers-left", "re-sewn")),
    /re-sewn/,
  );
  assert.doesNotMatch(answer("silver-plate", "Were arms", one("outline", "bent")), /It is bent/);
  assert.doesNotMatch(answer("work-on-paper", "Are the margins", one("margins/top", "stain")), /A stain on/);
});

test("what was not tried is named in plain words", () => {
  assert.match(answer("watch", "Is it running", {}), /Running not tested\./);
  assert.match(answer("ceramics", "Which chips", {}), /Not tapped\./);
});

test("the whole is named, since it may stand behind a part", () => {
  const text = paragraph("book-map", {
    findings: [
      { zone: "title-leaf", term: "leaf-missing", severity: 4 },
      { zone: "outline", term: "distortion", severity: 1 },
    ],
  });
  assert.match(text, /The title leaf is missing\. The whole is slightly out of shape\./);
});

test("of a bow nobody misses the length of a back", () => {
  const bow = [
    "table",
    "back",
    "ribs",
    "pegs",
    "neck-joint",
    "fingerboard",
    "bridge",
    "tailpiece",
    "sound-post",
  ];
  assert.equal(
    answer("stringed-instrument", "How long is the back", { not_there: bow }),
    "There is no instrument with it.",
  );
});

test("that a body shows no retouching says nothing of rubbed gilding", () => {
  const denied = { denials: [["body", "retouched", "ultraviolet"]] };
  assert.doesNotMatch(answer("ceramics", "Is gilding", denied), /retouched/);
});

test("a material that the name has said is not said again", () => {
  assert.match(
    lot("ceramics", { short_description: "bone china teapot", materials: "Bone china, enamels, gilding" }),
    /^A bone china teapot; enamels and gilding\./,
  );
  assert.match(
    lot("silver-plate", { short_description: "silver fork", materials: "silver; the grip plated" }),
    /^A silver fork, the grip plated\./,
  );
  assert.match(
    lot("furniture", { short_description: "oak-coloured chest", materials: "oak" }),
    /^An oak-coloured chest, oak\./,
  );
  assert.match(lot("doll", { short_description: "wax doll", materials: "wax" }), /^A wax doll\. ?/);
});

test("what is left to a specialist and held is said to be held", () => {
  const caution = { hazard: "H04", level: "amber", sign: "a hilt" };
  const held = asText(
    conditionParagraph(book.plans.arms, book, recordOf({ "cautions/1": { ...caution, withdrawn: false } })),
  );
  assert.equal(
    held,
    "Condition not examined: left to a specialist. " +
      "Held back, and not offered until cleared; noted: a hilt.",
  );
});

test("a back that was examined is not said to be unseen", () => {
  const turned = { tests: { "turn-over": ["not-done", "no-time", ""] } };
  assert.doesNotMatch(paragraph("textile-rug", { ...turned, ...one("back", "patched") }), /back not seen/);
  const unseen = { ...turned, not_examined: { back: "no-time" } };
  assert.match(paragraph("textile-rug", unseen), /Not examined: the back; time did not allow it\./);
});

test("a sheet that is cut at an edge has no full margins", () => {
  const cut = {
    ...one("sheet-edges/bottom", "trimmed", { extent_mm: 2 }),
    denials: [["margins/bottom", "trimmed", "lamp"]],
  };
  assert.doesNotMatch(paragraph("work-on-paper", cut), /No sign/);
});

test("a watermark is read or not, and wiring is in what it runs through", () => {
  assert.match(
    paragraph("work-on-paper", one("watermark", "mark-illegible")),
    /The watermark is not fully legible\./,
  );
  assert.match(
    paragraph("tinplate-diecast", one("motor-electric", "unsafe-wiring")),
    /Unsafe wiring in the electric motor\./,
  );
});

test("what is of a zone names the zone before its measure", () => {
  assert.match(
    paragraph("stringed-instrument", one("sound-holes", "edge-wear", { extent_mm: 28 })),
    /Wear to the edges of a sound-hole over 28 mm\./,
  );
  assert.match(
    paragraph("book-map", one("text", "cockling", { extent_percent: 20 })),
    /Cockling over about 20 per cent of the text\./,
  );
});

test("one handle is a handle, whatever is said of it, and ends are counted that may be tines or blades", () => {
  const replaced = { ...one("handles", "replaced-part"), counts: { handles: 1 } };
  assert.match(paragraph("ceramics", replaced), /The handle is replaced\./);
  assert.match(
    paragraph("silver-plate", one("tines-blades", "replaced-part", { extent_count: 3 })),
    /Three working ends are replaced\./,
  );
});

test("a name in pencil is a signature, though pencil is on no list of the house", () => {
  const signed = { maker: "Rowan Inkpenny", maker_certainty: "by" };
  const pencil = {
    technique: "pencil",
    colour: "pencil",
    text: "Rowan Inkpenny 12/50",
    standing: "makers-own",
  };
  assert.match(
    lot("work-on-paper", { ...signed, ...mark(pencil) }),
    /Signed “Rowan Inkpenny 12\/50” lower right, in pencil\./,
  );
});

test("the same fault on every member of a zone is one on each", () => {
  const chips = (...members) => ({
    findings: members.map((member) => ({ zone: `ears/${member}`, term: "chip", severity: 2, extent_mm: 3 })),
  });
  assert.match(paragraph("doll", chips("proper-left", "proper-right")), /A chip of 3 mm to each ear\./);
  assert.match(paragraph("doll", chips("proper-left")), /A chip of 3 mm to the proper left ear\./);
  const unlike = chips("proper-left", "proper-right");
  unlike.findings[1].extent_mm = 5;
  assert.match(
    paragraph("doll", unlike),
    /5 mm to the proper right ear\. A chip of 3 mm to the proper left ear\./,
  );
  const four = (count) => ({
    findings: ["upper-left", "upper-right", "lower-left", "lower-right"]
      .slice(0, count)
      .map((corner) => ({ zone: `corners/${corner}`, term: "crease", severity: 1 })),
  });
  assert.match(paragraph("work-on-paper", four(4)), /A slight crease in each corner\./);
  assert.doesNotMatch(paragraph("work-on-paper", four(3)), /each/);
});

test("what comes in numbers that nobody counted is several", () => {
  assert.match(paragraph("textile-rug", one("back", "live-insects")), /Live insects on the back\./);
  assert.match(paragraph("furniture", one("underside", "flight-holes")), /Worm holes in the underside\./);
  assert.match(
    paragraph("furniture", one("underside", "flight-holes", { extent_count: 1 })),
    /A worm hole in the underside\./,
  );
  const spreads = one("back", "live-insects", { activity: "Q" });
  assert.match(paragraph("textile-rug", spreads), /Kept apart from other items: the live insects\./);
});

test("that a frame is replaced is not said a second time as later", () => {
  const later = { ...one("frame", "replaced-part"), origins: { frame: ["later-added", ""] } };
  const text = paragraph("painting", later);
  assert.match(text, /The frame is replaced\./);
  assert.doesNotMatch(text, /The frame is later/);
  const partly = {
    ...one("paint", "retouched", { extent_percent: 15 }),
    origins: { paint: ["restored", ""] },
  };
  assert.match(paragraph("painting", partly), /The paint is restored\./);
});

test("materials that nobody noted are not on record, and a dial is no answer to a polished case", () => {
  assert.equal(
    answer("free", "What is it made of", one("surface", "craquelure")),
    "The materials were not noted.",
  );
  assert.doesNotMatch(answer("watch", "Was the case polished", one("dial", "refinished")), /dial/);
});

test("a breath that showed nothing was a trial", () => {
  const breathed = { denials: [["engraving", "altered-inscription", "breath"]] };
  assert.doesNotMatch(answer("silver-plate", "Were arms", breathed), /Not breathed on/);
});

test("of what is missing nobody asks whether it is original", () => {
  const lost = {
    ...one("figures", "missing-part", { note: "both" }),
    not_there: ["glazing", "wheels", "tyres", "opening-parts"],
  };
  assert.equal(
    answer("tinplate-diecast", "Are wheels", lost),
    "The figures are missing (both). It has no wheels or tyres.",
  );
});

test("what is not there is named as one would say it", () => {
  const bare = { not_there: ["decoration-front", "decoration-back", "gilding"] };
  assert.equal(answer("ceramics", "Is gilding", bare), "It has no decoration or gilding.");
  const plain = { not_there: ["scales", "tubes-liquid", "batteries", "film-inside"] };
  assert.match(
    answer("camera-scientific", "Is there mercury", plain),
    /^It has no scales, glass tubes with liquid, levels, batteries or film\./,
  );
});

test("who asks for the grade is told the grade", () => {
  const graded = { facts: { class_grade: "very fine" } };
  assert.match(answer("medal-coin", "Which grade", graded), /^Very fine, as coins and medals are graded\. /);
  assert.match(answer("medal-coin", "Which grade", {}), /No grade was given\./);
});

test("what does not bear on a question is no answer to it", () => {
  const restored = { denials: [["cover", "retouched", "ultraviolet"]] };
  assert.doesNotMatch(answer("ceramics", "Do cover", restored), /retouched/);
  assert.match(answer("ceramics", "Do cover", one("cover", "associated-part")), /The cover is associated/);
  const leaf = { ...one("plates", "leaf-missing"), denials: [["text", "leaf-missing", "lamp"]] };
  assert.doesNotMatch(answer("book-map", "How much foxing", leaf), /leaf/);
  assert.doesNotMatch(answer("soft-toy", "Where is it bald", one("back", "re-stuffed")), /re-stuffed/);
  assert.doesNotMatch(answer("tinplate-diecast", "Does the casting", one("base", "mark-illegible")), /mark/);
});
