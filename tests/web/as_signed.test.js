/** What a cataloguer would sign: sentences that said what is so, and said it like a form, one by one. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { clear } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const called = (short_description, more = {}) => ({ ...more, facts: { short_description } });

test("a part bears the name that the trade has for it", () => {
  const ran = {
    tests: Object.fromEntries(["is-it-going", "strike-once"].map((name) => [name, ["works", "", ""]])),
  };
  assert.match(answer("clock", "Does it run", ran), / the striking work, the bell or gong or/);
  assert.match(answer("stringed-instrument", "Has it cracks", {}), / the table, the back, the ribs, /);
  const unseen = { denials: ["bass", "treble"].map((side) => [`ribs/${side}`, "crack", "lamp"]) };
  assert.match(paragraph("stringed-instrument", unseen), /No crack seen in the ribs under a lamp\./);
  const cracked = one("ribs/bass", "crack", { extent_mm: 20 });
  assert.match(paragraph("stringed-instrument", cracked), /A crack of 20 mm in the bass rib\./);
  assert.match(answer("stringed-instrument", "Bow:", {}), /on the bow stick or the frog\./);
  const worn = one("engraving", "soft-detail", { severity: 1 });
  assert.match(paragraph("jewellery", worn), /The engraving is slightly worn soft\./);
  const stained = one("stress", "stain", { extent_count: 2 });
  assert.match(paragraph("textile-rug", stained), /Two stains on the places under strain\./);
});

test("what was seen for certain has no hedge", () => {
  const wiring = one("motor-electric", "unsafe-wiring", { severity: 3 });
  assert.match(paragraph("tinplate-diecast", wiring), /Unsafe wiring in the electric motor\./);
  assert.match(
    paragraph("tinplate-diecast", { findings: [{ ...wiring.findings[0], certainty: "possible" }] }),
    /Possibly unsafe wiring in the electric motor\./,
  );
});

test("a bow without a violin is told to be one, and what hangs on a watch is named as far as it is known", () => {
  const not_there = [
    "scroll",
    "neck",
    "neck-joint",
    "bridge",
    "sound-post",
    "pegs",
    "fingerboard",
    "tailpiece",
  ];
  for (const question of ["Are scroll", "How long"])
    assert.match(
      answer("stringed-instrument", question, called("bow", { not_there })),
      /^There is no instrument with it\./,
    );
  const papers = (name) => answer("watch", "Are box", called(name));
  assert.match(papers("pocket watch"), /Whether a chain, fob or key is with it was not noted\. /);
  assert.match(papers("pocket watch with albert chain"), /There is a chain, fob or key with it\. /);
});

test("a zone that was looked at has a result, also where a trial of it failed or a caution stands on it", () => {
  const going = { tests: { "set-hands": ["works-in-part", "", ""] } };
  assert.match(
    answer("watch", "Are hands", going),
    /Nothing further noted on the hands\. No further fault noted on the case, the crown/,
  );
  const opened = { tests: { ...going.tests, "open-back": ["works-in-part", "", ""] } };
  const scratched = { ...opened, ...one("movement", "scratch", { severity: 1 }) };
  assert.match(answer("watch", "Is it running", scratched), /^A slight scratch on the movement\. /);
  for (const [class_id, begins] of [
    ["watch", "Are hands"],
    ["watch", "Is it running"],
  ])
    assert.doesNotMatch(answer(class_id, begins, scratched), /were examined|was examined/);
});

test("of a look that showed nothing it is said what was looked for", () => {
  const looks = Object.entries(book.plans).flatMap(([class_id, { tests }]) =>
    tests.filter(({ looks }) => looks).map(({ test: name, said, unread }) => [class_id, name, said, unread]),
  );
  assert.ok(looks.length > 10);
  for (const [class_id, name, said, unread] of looks) {
    assert.match(said, / for /, `${class_id} ${name}`);
    const text = paragraph(class_id, { tests: { [name]: ["works", "nothing-seen", ""] } });
    const result = unread ? "; none seen." : ", with nothing to report.";
    assert.ok(text.toLowerCase().includes(said + result), text);
  }
  const both = {
    tests: { ultraviolet: ["works", "nothing-seen", ""], "light-behind": ["works", "nothing-seen", ""] },
  };
  assert.match(
    paragraph("painting", { ...both, ...one("frame", "chip") }),
    /Looked at under ultraviolet for retouching, with nothing to report\. Looked at against the light for/,
  );
  // Only beside a fault of what it was for there is nothing further, and a look stands where trials do.
  assert.match(
    paragraph("painting", { ...both, ...one("paint", "retouched"), denials: [["paint", "flaking", "lamp"]] }),
    /retouching, with nothing further to report\. .* holes and tears, with nothing to report\. .*No flaking/,
  );
});

test("of several pieces a fault is had by so many of them, and how many were counted", () => {
  const facts = { short_description: "dinner service, 58 pieces", pieces: 58 };
  const said = (...found) => paragraph("ceramics", { ...one(...found), facts });
  assert.match(said("join", "crack", { piece_count: 2 }), /Two of the 58 have a crack/);
  assert.match(
    said("body", "hairline", { piece_count: 3, extent_count: 4, extent_mm: 22 }),
    /Three of the 58 have hairlines of up to 22 mm in the body, four in all\./,
  );
  assert.match(
    said("body", "hairline", { piece_count: 1, extent_count: 1, certainty: "probable" }),
    /One of the 58 probably has a hairline in the body\./,
  );
  assert.match(said("rim", "chip", { piece: "12" }), /Piece 12 of the 58 has a chip to the rim\./);
  assert.match(
    said("outline", "yellowing", { piece_count: 2, extent_percent: 30 }),
    /Two of the 58 have yellowing, each over about 30 per cent\./,
  );
  assert.match(said("cover", "restuck", { piece_count: 2 }), /The covers of two of the 58 are stuck back\./);
  assert.match(
    said("body", "hairline", { piece_count: 2, certainty: "not-determined" }),
    /Two of the 58: whether there is a hairline in the body was not determined\./,
  );
});

test("what is so of the whole has a subject", () => {
  assert.match(paragraph("book-map", one("outline", "distortion")), /The whole is out of shape\./);
  const of = { facts: { short_description: "pair of vases", pieces: 2 } };
  assert.match(
    paragraph("ceramics", { ...one("outline", "distortion", { piece: "left" }), ...of }),
    /The left one is out of shape\./,
  );
  assert.match(paragraph("furniture", one("outline", "refinished")), /Refinished throughout\./);
});

test("what was not tried on several things is said of all of them", () => {
  const brooches = called("seventeen brooches");
  assert.match(paragraph("jewellery", brooches), / Catches not tried\./);
  assert.match(paragraph("jewellery", called("brooch")), / Catch not tried\./);
  const bottles = paragraph("glass", called("pair of decanters"));
  assert.match(bottles, /Stoppers not lifted\. Numbers on stoppers and necks not read\./);
  assert.match(paragraph("ceramics", called("six tureens")), /Fit of the covers not tried\./);
  const breathed = { tests: { breath: ["works", "", ""] }, lights: { engraving: "breath" } };
  assert.match(paragraph("silver-plate", called("six forks", breathed)), /by breath\./);
  assert.match(paragraph("silver-plate", {}), /Engraving not breathed on\./);
});

test("that marks were not copied is said in one sentence, and in the same words wherever it is asked", () => {
  const worn = one("marks-body", "mark-illegible", { extent_count: 1 });
  const told = answer("silver-plate", "Are the marks", worn);
  assert.match(
    told,
    /legible\. The marks were not copied\. Whether everything that should bear marks does was not noted\./,
  );
  assert.match(told, /was not noted\. Nothing further noted on the/);
  assert.match(answer("silver-plate", "Is it silver", worn), / The marks were not copied\./);
  const none = { not_there: ["marks-body", "marks-parts"] };
  assert.match(answer("silver-plate", "Is it silver", none), / No marks were copied\./);
});

test("a medal is named, and what its name says of its papers is not quoted beside them", () => {
  const mark = { place: "rim", technique: "impressed", colour: "", text: "12 Pte. T. Hollow", reading: "" };
  const named = { "marks/0": { ...mark, completeness: "complete", withdrawn: false } };
  const naming = { "zones/naming": clear() };
  assert.match(
    lot("medal-coin", { ...named, ...naming }),
    /Named on the rim, impressed: “12 Pte\. T\. Hollow”\./,
  );
  const borne = { "marks/0": { ...named["marks/0"], standing: "not-relied-on" } };
  assert.match(
    lot("medal-coin", { ...borne, ...naming }),
    /It bears a naming on the rim, .* which is not relied on\./,
  );
  assert.match(lot("medal-coin", named), /It has a mark on the rim, impressed:/);
  const group = { short_description: "group of five medals with papers" };
  const papers = answer("medal-coin", "Is the group", { facts: group });
  assert.match(papers, /There are papers with it\./);
  assert.doesNotMatch(papers, /in the description alone/);
  assert.match(
    answer("medal-coin", "Is the group", { facts: group, untouched: ["documents"] }),
    /Said in the description alone: “with papers”\./,
  );
  assert.match(answer("medal-coin", "Is the naming", { not_there: ["naming"] }), /^It is not named\./);
});

test("how a thing was weighed stands beside its weight", () => {
  const tests = { weigh: ["works", "", "the six without the odd one"] };
  const facts = { "measures/weight": { value: 518, unit: "g", typed: "518", basis: "weighable" } };
  assert.match(
    answer("silver-plate", "What does it weigh", { tests, facts }),
    /^Weight 518 g \([^)]*\) weighable \(the six without the odd one\)\. (?!.*eighed)/,
  );
  assert.match(paragraph("silver-plate", { tests, facts }), / Weighed: the six without the odd one\./);
});

test("only what is there is asked whether it is the right one", () => {
  const bare = { not_there: ["papers", "packaging", "chain-key"] };
  assert.match(
    answer("watch", "Are box", bare),
    /^Whether the strap and the buckle are the right ones was not noted\./,
  );
  assert.match(
    answer("watch", "Are box", {}),
    /Whether the box, the papers, the strap and the buckle are the right ones was not noted\./,
  );
});

test("how many are bent says nothing of how far", () => {
  const hands = (more) => paragraph("clock", one("hands", "bent", { extent_count: 2, ...more }));
  assert.match(hands({ severity: 1 }), /Two hands are slightly bent\./);
  assert.match(hands({ severity: 2 }), /Two hands are bent\./);
  assert.match(hands({ severity: 1, extent_mm: 3 }), /Two hands are bent by up to 3 mm\./);
});

test("what does not bear on a question is told under another", () => {
  const fringe = one("ends/top", "loss", { note: "the fringe" });
  assert.doesNotMatch(answer("textile-rug", "Is the pile", fringe), /fringe/);
  assert.match(answer("textile-rug", "Are there repairs", fringe), /fringe/);
  const shut = { tests: { "open-back": ["works-in-part", "", ""] } };
  assert.doesNotMatch(answer("watch", "Was the case", shut), /The back opened/);
  assert.match(answer("watch", "Is it running", shut), /The back opened only in part\./);
  for (const [class_id, begins] of [
    ["glass", "Are rim and foot"],
    ["ceramics", "Which chips"],
  ])
    assert.doesNotMatch(answer(class_id, begins, one("outline", "converted")), /onverted/);
  assert.doesNotMatch(answer("free", "Is there any paper", { not_there: ["extras", "packaging"] }), /extra/);
});

test("what a zone is since goes on with its note as a fault does", () => {
  const origins = (note) => paragraph("book-map", { origins: { spine: ["replaced", note] } });
  assert.match(origins("with the old label laid on"), /The spine is replaced, with the old label laid on\./);
  assert.match(origins("new calf"), /The spine is replaced \(new calf\)\./);
});

test("a note that says where goes on with its sentence, and one clasp has one catch", () => {
  const noted = (term, note) => paragraph("clock", one("dial", term, { extent_mm: 9, note }));
  assert.match(noted("hairline", "beside the winding hole"), / in the dial beside the winding hole\./);
  assert.match(noted("hairline", "where it meets the bezel"), / in the dial where it meets the bezel\./);
  assert.match(noted("hairline", "on the back"), / in the dial, on the back\./);
  const fails = one("clasp", "catch-fails", { extent_count: 1 });
  assert.match(paragraph("jewellery", fails), /The catch of the clasp does not hold\./);
  assert.match(
    paragraph("jewellery", { ...fails, counts: { clasp: 2 } }),
    /A catch of the clasp does not hold\./,
  );
  assert.match(
    lot("free", { short_description: "owl in a glass case", materials: "mounted bird, painted wood" }),
    /^An owl in a glass case; mounted bird and painted wood\./,
  );
});

test("nothing to report is said of the eyes, never of both", () => {
  const moved = answer("soft-toy", "Are pads", {});
  assert.match(moved, / fault noted on the eyes, the paw pads or the foot pads\./);
  assert.match(
    answer("soft-toy", "Are pads", one("eyes/proper-left", "replaced-part")),
    / the proper right eye, /,
  );
  assert.match(paragraph("soft-toy", { not_examined: { eyes: "covered" } }), /: both eyes; covered/);
});

test("what each of several things has is named as several, and what one of them has as one", () => {
  const decanters = (more) => ({ facts: { short_description: "pair of decanters", pieces: 2 }, ...more });
  const asked = (begins, more) => answer("glass", begins, decanters(more));
  assert.match(asked("Does the stopper", {}), /on the stoppers or the stopper pegs\./);
  assert.match(
    paragraph("glass", decanters({ denials: [["foot", "chip", "lamp"]] })),
    /seen on the feet under/,
  );
  assert.match(asked("Are rim", { not_there: ["foot"] }), /They have no feet\./);
  const crack = (more) => paragraph("glass", decanters(one("neck", "crack", more)));
  assert.match(crack({}), /A crack in a neck\. Not noted: which of the two the crack is on\./);
  assert.match(crack({ piece: "left" }), /The left one has a crack in the neck\./);
  assert.match(
    asked("Does the stopper", { not_there: ["stopper", "stopper-peg"] }),
    /^They have no stoppers\.$/,
  );
  assert.match(
    paragraph("glass", decanters(one("inside", "stain", { extent_count: 2 }))),
    /stains on one or both insides\./,
  );
  const service = { facts: { short_description: "dinner service, 58 pieces", pieces: 58 } };
  assert.match(answer("ceramics", "Is the mark", service), /^The marks were examined/);
  const coins = { facts: { short_description: "212 copper coins", pieces: 212 } };
  const worn = one("obverse", "wear");
  assert.match(paragraph("medal-coin", { ...coins, ...worn }), /Wear to one or more obverses\./);
  const moved = ["shutter-fire", "iris", "focus"].map((name) => [name, ["works", "", ""]]);
  const glasses = { tests: Object.fromEntries(moved), facts: { short_description: "opera glasses" } };
  assert.match(
    answer("camera-scientific", "Does shutter", glasses),
    / on the aperture, the shutter, the focus, /,
  );
  assert.match(
    paragraph("glass", { ...one("neck", "crack"), facts: { short_description: "decanter" } }),
    / the neck/,
  );
});

test("of several zones named just before it is said on these; one is named again, since there may be another", () => {
  const asked = (denials, more) => answer("ceramics", "Is anything", { denials, ...more });
  const sought = ["body", "rim"].map((zone) => [zone, "retouched", "ultraviolet"]);
  assert.match(
    asked(sought),
    /to the body or the rim seen under ultraviolet\. No fault noted on these or on the glaze, /,
  );
  const foot = [["rim", "chip", "fingertip"]];
  const glass = answer("glass", "Are rim", { denials: foot, not_there: ["lip", "foot", "base"] });
  assert.match(glass, /^No chip felt on the rim with a fingertip\. No fault noted on the rim under a lamp\./);
  const sides = { ...one("rim", "chip"), denials: ["body", "rim"].map((zone) => [zone, "crack", "lamp"]) };
  assert.match(
    answer("ceramics", "Which chips", sides),
    /body or the rim under a lamp\. .* noted on the body, /,
  );
});

test("what was not tried has one name", () => {
  const toy = { not_there: ["motor-electric", "steam-parts"] };
  const said = paragraph("tinplate-diecast", toy);
  assert.match(said, /^Good, so far as examined\. Clockwork not tested\./);
  assert.doesNotMatch(said, /[Mm]otor|was not tried/);
  const cars = { ...toy, facts: { short_description: "two tinplate cars" } };
  assert.match(paragraph("tinplate-diecast", cars), /^Good, so far as examined\./);
});

test("what nobody noted is said of parts by their names, each with its article", () => {
  for (const plan of Object.values(book.plans))
    for (const { unless_origin, leaves_open = [] } of plan.questions)
      for (const words of [unless_origin, ...leaves_open.map(({ words }) => words)].filter(Boolean)) {
        assert.doesNotMatch(words, /\bthey are\b/, `${plan.class_id}: ${words}`);
        const [, first = ""] = /^whether (\S+) /.exec(words) ?? [];
        if (first)
          assert.match(first, /^(the|it|all|there|arms|parts|edition|every|each|everything|any)$/, words);
      }
});

test("what is so of a part of one of several is said of that part, not behind a colon", () => {
  const decanters = { facts: { short_description: "pair of decanters", pieces: 2 } };
  const said = (term, more) => paragraph("glass", { ...decanters, ...one("rim", term, more) });
  assert.match(
    said("trimmed", { piece: "left", extent_mm: 5 }),
    /The rim of the left one is ground down by 5 mm\./,
  );
  assert.match(said("replaced-part", { piece_count: 2 }), /The rims of both are replaced\./);
  const loose = { facts: { short_description: "set of eleven volumes", pieces: 11 } };
  assert.match(
    paragraph("book-map", { ...loose, ...one("sewing", "slack", { severity: 1, piece_count: 2 }) }),
    /The sewing of two of the eleven is slightly slack\./,
  );
});
