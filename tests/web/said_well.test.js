/** What a bidder would ask about is said, and nothing that contradicts it: cases that once went wrong, one by one. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { lotDescription } from "../../web/job/lot.ts";
import { markSentences } from "../../web/job/marks.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

test("a crack covers hairlines, and a restoration retouching: none is denied beside the other", () => {
  const hairline = { ...one("rim", "hairline", { extent_mm: 9 }), denials: [["rim", "crack", "lamp"]] };
  assert.doesNotMatch(paragraph("ceramics", hairline), /No crack/);
  assert.match(
    paragraph("ceramics", { denials: [["rim", "crack", "lamp"]] }),
    /No crack seen in the rim under a lamp\./,
  );
  const filled = { ...one("spout", "filled"), denials: [["spout", "retouched", "ultraviolet"]] };
  assert.doesNotMatch(paragraph("ceramics", filled), /No sign/);
});

test("what is denied of the whole is not denied beside a finding on a zone of it", () => {
  const married = { ...one("top", "associated-part"), denials: [["outline", "associated-part", "lamp"]] };
  assert.doesNotMatch(paragraph("furniture", married), /No associated/);
  const image = { ...one("paint", "retouched"), denials: [["image", "retouched", "ultraviolet"]] };
  assert.doesNotMatch(paragraph("painting", image), /No sign/);
});

test("a zone that was replaced is not said to show no sign of it", () => {
  const replaced = { origins: { pegs: ["replaced", ""] }, denials: [["pegs", "replaced-part", "lamp"]] };
  assert.match(paragraph("stringed-instrument", replaced), /The pegs are replaced\./);
  assert.doesNotMatch(paragraph("stringed-instrument", replaced), /No sign/);
});

test("a test that worked says nothing that a finding speaks against", () => {
  const works = { tests: { breath: ["works", "", ""] } };
  assert.match(paragraph("silver-plate", works), /no ghost seen/);
  assert.doesNotMatch(
    paragraph("silver-plate", { ...works, ...one("engraving", "altered-inscription") }),
    /no ghost/,
  );
  const ring = { tests: { ring: ["works", "", ""] }, ...one("body", "crack") };
  assert.doesNotMatch(paragraph("ceramics", ring), /[Rr]ang clear/);
  assert.match(paragraph("ceramics", ring), /It was tapped once\./);
});

test("what was tried in vain, in part or not at all is said in words of its own", () => {
  const tried = (result, why = "", note = "") =>
    paragraph("watch", { tests: { "is-it-going": [result, why, note] } });
  assert.match(tried("no-response"), /It was not going when examined\./);
  assert.match(tried("works-in-part", "", "stops face down"), /not steadily; not timed: stops face down\./);
  assert.match(
    paragraph("stringed-instrument", { tests: { play: ["not-done", "strings slack", ""] } }),
    /Not played: strings slack\./,
  );
  assert.match(
    paragraph("glass", { tests: { ultraviolet: ["not-done", "no-tool", ""] } }),
    /Ultraviolet not used: the tool for it was not at hand\./,
  );
});

test("a light that showed one finding is not named beside another on the same zone", () => {
  const both = {
    lights: { paint: "ultraviolet" },
    findings: [
      { zone: "paint", term: "craquelure", extent_percent: 100 },
      { zone: "paint", term: "retouched", light: "ultraviolet" },
    ],
  };
  const text = paragraph("painting", both);
  assert.match(text, /Craquelure all over the paint\./);
  assert.match(text, /The paint is retouched, seen under ultraviolet\./);
});

test("a refinished top answers whether it was refinished, a mended crack whether it has cracks", () => {
  const asked = answer("furniture", "Was it refinished", one("top", "refinished"));
  assert.match(asked, /The top is refinished\./);
  const cracks = answer(
    "stringed-instrument",
    "Has it cracks",
    one("table", "restuck", { severity: 3, extent_count: 1 }),
  );
  assert.match(cracks, /A glued repair to the table/);
  const seen = answer("ceramics", "Is anything restored", {
    tests: { ultraviolet: ["works", "nothing-seen", ""] },
  });
  assert.match(seen, /Looked at under ultraviolet for restoration, with nothing to report\./);
});

test("no count is lost, whatever it counts", () => {
  const says = (class_id, zone, term, more) => paragraph(class_id, one(zone, term, more));
  assert.match(
    says("furniture", "top", "edge-wear", { severity: 1, extent_count: 3 }),
    /Wear to the edges of the top, in three places\./,
  );
  assert.match(
    says("furniture", "handles", "replaced-part", { extent_count: 8 }),
    /Eight handles are replaced\./,
  );
  assert.match(
    says("furniture", "locks", "missing-part", { extent_count: 4, note: "keys" }),
    /Four keys missing from the locks\./,
  );
  assert.match(says("painting", "paint", "craquelure", { extent_percent: 100 }), /all over the paint/);
  assert.match(
    says("jewellery", "size-change", "resized", { extent_count: 2 }),
    /The shank has been resized twice\./,
  );
  assert.match(
    says("doll", "hands/proper-left", "filled", { extent_count: 2 }),
    /Two filled areas to the proper left hand\./,
  );
  const hands = { ...one("hands", "replaced-part", { extent_count: 3 }), counts: { hands: 3 } };
  assert.match(paragraph("clock", hands), /All three hands are replaced\./);
  const twice = { findings: [1, 2].map(() => ({ zone: "body", term: "dent", severity: 1, extent_mm: 6 })) };
  assert.match(paragraph("silver-plate", twice), /Two dents of up to 6 mm in the body\./);
});

test("each sense has its verb", () => {
  const says = (class_id, ...denial) => paragraph(class_id, { denials: [denial] });
  assert.match(
    says("soft-toy", "outline", "odour-musty", "smell"),
    /No musty odour smelled at arm's length\./,
  );
  assert.match(says("glass", "rim", "chip", "fingertip"), /No chip felt on the rim with a fingertip\./);
  assert.match(
    says("jewellery", "clasp", "catch-fails", "by-hand"),
    /The catch of the clasp held when tried once by hand\./,
  );
  assert.match(
    says("doll", "eye-rims/proper-left", "chip", "lamp"),
    /No chip seen on the proper left eye rim under a lamp\./,
  );
});

test("a mark says whose it is and whether it is relied on, also where nobody can read it", () => {
  const mark = (more) => ({
    "marks/1": {
      place: "inside",
      technique: "label",
      colour: "",
      completeness: "worn",
      text: "Thornapple\n1790",
      reading: "",
      withdrawn: false,
      ...more,
    },
  });
  assert.match(
    lot("stringed-instrument", mark({ standing: "not-relied-on" })),
    /It bears a label inside, worn: “Thornapple \/ 1790”, which is not relied on\./,
  );
  assert.match(
    lot("painting", mark({ technique: "painted", standing: "borne" })),
    /It bears an inscription inside, painted, worn/,
  );
  assert.match(
    lot("painting", mark({ standing: "makers-own" })),
    /It bears a label inside, worn: “Thornapple \/ 1790”, in our opinion the painter's own\./,
  );
  assert.match(
    lot("ceramics", mark({ technique: "struck", text: "", completeness: "illegible" })),
    /It has a mark inside, struck, illegible\./,
  );
  assert.match(lot("ceramics", mark({ reading: "Thornapple, 1790" })), /read as Thornapple, 1790\./);
});

test("a weight says what was weighed, in troy ounces too where the trade has them, and counts are said", () => {
  const weight = (more) => ({ "measures/weight": { value: 518, unit: "g", typed: "", ...more } });
  assert.match(
    lot("silver-plate", weight({ basis: "weighable" })),
    /Weight 518 g \(16\.7 oz t\) weighable\./,
  );
  assert.match(lot("jewellery", weight({})), /Weight 518 g; whether gross or net was not noted\./);
  assert.match(lot("jewellery", weight({ basis: "net" })), /Weight 518 g net\./);
  assert.match(
    lot("ceramics", { "measures/height": { value: 155, unit: "mm", typed: "", basis: "with cover" } }),
    /Height 15\.5 cm \(6 1\/8 in\) with cover\./,
  );
  assert.match(
    lot("clock", { "zones/hands": { state: "clear", reason: null, light: "lamp", count: 3 } }),
    /Counted: three hands\./,
  );
  const plain = { ...book, print: { ...book.print, sizes: { inches: false, troy_ounces: false } } };
  const metric = lotDescription(
    book.plans["silver-plate"],
    plain,
    recordOf({
      short_description: "pot",
      ...weight({}),
      "measures/height": { value: 155, unit: "mm", typed: "" },
    }),
  );
  assert.match(asText(metric), /Height 15\.5 cm and weight 518 g; whether gross or net was not noted\./);
});

test("silence never reads as fine", () => {
  assert.equal(
    asText(conditionParagraph(book.plans.glass, book, recordOf({}))),
    "Not examined: nothing is recorded of any part of it.",
  );
  assert.match(
    paragraph("glass", { untouched: ["rim", "foot"] }),
    /Nothing is recorded of the rim or the foot\./,
  );
  assert.match(
    paragraph("glass", { not_examined: { inside: "no-time" } }),
    /Not examined: the inside; time did not allow it\./,
  );
  assert.match(paragraph("glass", { light: null }), /By what light it was examined is not recorded\./);
  assert.match(paragraph("arms", {}), /^Condition not examined: left to a specialist\.$/);
  assert.match(paragraph("medal-coin", {}), /^Not graded on the scale for coins and medals\./);
  assert.match(paragraph("watch", {}), /^Good, so far as examined\. .*Running not tested/);
  const differs = { facts: { "check-in": { state: "differs", words: "a chip" } } };
  assert.match(
    paragraph("glass", differs),
    /^Not graded: what was noted when it was checked in has not been examined since\./,
  );
  const pair = { ...differs, facts: { ...differs.facts, short_description: "pair of decanters" } };
  assert.match(
    paragraph("glass", pair),
    /^Not graded: what was noted when they were checked in has not been examined since\./,
  );
  const unseen = book.plans.glass.zones.map(({ zone }) => [zone, "no-time"]);
  assert.match(
    paragraph("glass", { not_examined: Object.fromEntries(unseen) }),
    /^Not graded: too little of it was examined\./,
  );
});

test("a reason in the examiner's own words stands as typed, with one stop", () => {
  const tried = (why, note = "") => paragraph("clock", { tests: { "wind-part": ["not-done", why, note] } });
  assert.match(tried("UV lamp broken."), /: UV lamp broken\. /);
  assert.match(tried("  owner says\nfully wound. ", "Key turns."), /: owner says fully wound; Key turns\. /);
  assert.match(tried("stiff?"), /: stiff\? /);
  const house = { not_examined: { inside: "box-stuck-shut" } };
  assert.match(paragraph("glass", house), /Not examined: the inside; box stuck shut\./);
});

test("a question or a cry at the end of a note keeps its sign, and gets no stop beside it", () => {
  assert.match(paragraph("glass", one("rim", "chip", { note: "later?" })), / \(later\?\)\. /);
  assert.match(paragraph("glass", one("rim", "chip", { note: "sharp!" })), / \(sharp!\)\. /);
  assert.match(paragraph("glass", one("rim", "chip", { note: "sharp. New?" })), /: sharp\. New\? /);
});

test("what is said of the whole names no place", () => {
  assert.match(
    paragraph("glass", one("outline", "crack", { extent_mm: 9 })),
    /A crack of 9 mm \(place not noted\)\. /,
  );
  assert.match(paragraph("book-map", one("outline", "distortion")), /\. The whole is out of shape\. /);
  assert.match(paragraph("book-map", one("outline", "rebound")), /\. Rebound\. /);
  assert.match(paragraph("painting", one("outline", "refinished")), /\. Refinished throughout\. /);
  const denied = { denials: [["outline", "associated-part", "lamp"]] };
  assert.match(paragraph("furniture", denied), /No sign of any part from another piece seen under a lamp\./);
  assert.match(
    paragraph("glass", one("outline", "grime", { extent_percent: 30 })),
    /Grime over about 30 per cent of the whole\./,
  );
  assert.match(paragraph("glass", one("outline", "grime", { extent_percent: 100 })), /Grime all over\. /);
});

test("a fault that is called after its zone does not name it twice", () => {
  assert.match(
    paragraph("silver-plate", one("plating", "plating-loss", { extent_percent: 20 })),
    /Loss of about 20 per cent of the plating\. /,
  );
});

test("what was not seen is named before the light it was looked for in", () => {
  const denied = { denials: [["dial", "replaced-part", "inside-lamp"]] };
  assert.match(paragraph("clock", denied), /No sign of replacement of the dial seen with a lamp inside\. /);
});

test("what a thing never had is called what a bidder calls it", () => {
  const none = { not_there: ["bow-stick", "bow-frog", "bow-brand", "case"] };
  assert.match(paragraph("stringed-instrument", none), /Without bow or case\. /);
  assert.equal(answer("stringed-instrument", "Bow", none), "There is no bow with it.");
  const box = { not_there: ["box", "box-flaps", "extras"] };
  assert.match(paragraph("tinplate-diecast", box), /Without box\. /);
  assert.equal(answer("tinplate-diecast", "Does the box", box), "It has no box.");
  assert.equal(
    answer("glass", "Does the stopper", { not_there: ["stopper", "stopper-peg"] }),
    "It has no stopper.",
  );
});

test("lights that were used together are told apart", () => {
  const both = { lights: { rim: "inside-lamp", body: "breath" } };
  const smelled = { lights: { rim: "by-hand", body: "breath", spout: "smell" } };
  assert.match(
    paragraph("silver-plate", smelled),
    /with a lamp, and by breath, by hand and by smell at arm's length\.$/,
  );
  assert.match(
    paragraph("silver-plate", both),
    /Examined with a lamp and an inside lamp with mirror, and by breath\.$/,
  );
});

test("a numbered member has no article, one with a name has, and what is out of line is so by a measure", () => {
  const lug = (number) => ({ zone: `lugs/${number}`, term: "bent", severity: 2 });
  const two = { findings: [lug(1), lug(2)] };
  const one_of_them = { findings: [{ ...lug(4), extent_mm: 2 }] };
  const missing = { not_examined: { "lugs/3": "covered" } };
  assert.match(paragraph("watch", two), /The upper right and lower right lugs are bent\. /);
  assert.match(paragraph("watch", one_of_them), /The upper left lug is bent by 2 mm\. /);
  assert.match(paragraph("watch", missing), /Not examined: the lower left lug; covered, and out of sight\. /);
  const members = book.print.members.filter(({ of }) => !of);
  const unnamed = { ...book, print: { ...book.print, members } };
  const numbered = (short) => {
    const { watch } = book.plans;
    return asText(conditionParagraph(watch, unnamed, recordOf(written(watch, short))));
  };
  assert.match(numbered(two), /Lugs 1 and 2 are bent\. /);
  assert.match(numbered(one_of_them), /Lug 4 is bent by 2 mm\. /);
  assert.match(numbered(missing), /Not examined: lug 3; covered, and out of sight\. /);
});

test("one thing of which nobody is sure is one", () => {
  const doubted = one("case", "dent", { extent_count: 1, certainty: "not-determined" });
  assert.match(paragraph("watch", doubted), /Whether there is a dent in the case was not determined\. /);
});

test("what may go on is named as what it is, one or several", () => {
  const going = (term, more) => paragraph("doll", one("outline", term, { activity: "P", ...more }));
  assert.match(going("odour-musty", {}), /\. The musty odour may get worse\. /);
  assert.match(going("crack", { extent_count: 2 }), /\. The cracks may get worse\. /);
  assert.match(going("crack", { extent_count: 1 }), /\. The crack may get worse\. /);
  assert.match(going("red-rot", {}), /\. The red rot may get worse\. /);
});

test("what was typed as a line of its own begins small within a sentence", () => {
  const typed = { materials: "Bisque, composition", colour_now: "Faded pink", colour_was: "Crimson" };
  assert.match(lot("doll", typed), /A thing; bisque and composition\. Colour now faded pink; .*, crimson\./);
  assert.match(lot("doll", { materials: "PVC and felt" }), /A thing; PVC and felt\./);
});

test("a fault of the whole stands in the answers that it bears on, and the others answer for themselves alone", () => {
  const crazed = one("outline", "crazing", { severity: 1 });
  assert.match(answer("ceramics", "Is gilding", crazed), /^No such fault noted on .*the gilding\.$/);
  const married = one("outline", "associated-part");
  assert.match(answer("ceramics", "Do cover", married), /^An associated part\. /);
  assert.doesNotMatch(answer("ceramics", "Which chips", married), /associated/);
  const musty = one("outline", "odour-musty");
  assert.match(answer("soft-toy", "Has it moth", musty), /^A musty odour/);
  assert.doesNotMatch(answer("soft-toy", "Where is it bald", musty), /musty/);
});

test("what broke or mended a zone is no answer to what it does not bear on", () => {
  const seam = one("back", "open-seam");
  assert.match(answer("soft-toy", "Was it ever opened", seam), /open seam/);
  assert.doesNotMatch(answer("soft-toy", "Has it moth", seam), /open seam/);
  assert.match(answer("soft-toy", "Has it moth", one("back", "hole")), /[Aa] hole/);
});

test("a light that was not used denies nothing, unless something was seen with it", () => {
  const unused = { tests: { breath: ["not-done", "no-time", ""] } };
  const denied = { ...unused, denials: [["engraving", "altered-inscription", "breath"]] };
  assert.doesNotMatch(paragraph("silver-plate", denied), /when breathed on|by breathing/);
  assert.match(paragraph("silver-plate", denied), /Engraving not breathed on: time did not allow it\./);
  const seen = { ...denied, ...one("blank-shield", "altered-inscription", { light: "breath" }) };
  assert.match(paragraph("silver-plate", seen), /when breathed on/);
  assert.doesNotMatch(paragraph("silver-plate", seen), /Not breathed on/);
});

test("a signature that is held for the maker's own is not left open in the same answer", () => {
  const mark = {
    place: "margin",
    technique: null,
    colour: "",
    completeness: "complete",
    text: "R. I.",
    reading: "",
    withdrawn: false,
  };
  const signed = (standing) =>
    answer("work-on-paper", "Is the signature", { facts: { "marks/0": { ...mark, standing } } });
  assert.match(signed("borne"), /was not noted\./);
  assert.doesNotMatch(signed("makers-own"), /was not noted/);
});

test("tyres have perished, so many as there are", () => {
  assert.match(
    paragraph("tinplate-diecast", one("tyres", "rubber-perish", { extent_count: 6 })),
    /Six tyres have perished\./,
  );
});

test("a trial that is asked about and that nobody spoke of is said to be missing", () => {
  assert.match(answer("clock", "Does it run", {}), /Running, strike and pendulum not tested\. No fault/);
  const going = { tests: { "is-it-going": ["works", "", ""] } };
  assert.doesNotMatch(answer("clock", "Does it run", going), /of the going/);
  assert.match(answer("ceramics", "Is anything restored", {}), /Ultraviolet not used\./);
  assert.doesNotMatch(answer("ceramics", "Is anything restored", { light: "ultraviolet" }), /not used/);
});

test("of what nobody looked at no list of zones is read out", () => {
  const plan = book.plans.clock;
  assert.match(
    asText(fiveAnswers(plan, book, recordOf({}))[0].answer),
    /^Not examined\. Nothing is recorded of any part of it\.$/,
  );
});

test("what only the owner says is never printed as fact", () => {
  const told = one("rim", "chip", { certainty: "told", extent_mm: 3 });
  assert.doesNotMatch(paragraph("ceramics", told), /chip/i);
  assert.match(
    answer("ceramics", "Which chips", told),
    /According to the owner, and not seen at the examination: a chip of 3 mm to the rim\./,
  );
});

test("what holds the word down stays on the screen; that it is incomplete is said", () => {
  const text = paragraph("book-map", one("plates", "leaf-missing", { severity: 4, extent_count: 1 }));
  assert.doesNotMatch(text, /because of|finding|key/);
  const poor = paragraph("doll", one("head", "break", { severity: 4 }));
  assert.match(poor, /^Poor, because broken\. The head is broken\./);
  const moved = { facts: { grade: { word: "very good", computed: "excellent", reason: "dull to the eye" } } };
  assert.match(paragraph("glass", moved), /^Very good\. /);
});

test("an original zone of which some was replaced is original otherwise", () => {
  const some = {
    ...one("hands", "replaced-part", { extent_count: 1 }),
    origins: { hands: ["original-probably", ""] },
  };
  assert.match(paragraph("clock", some), /The hands are otherwise apparently original\./);
  const all = { ...one("dial", "repainted"), origins: { dial: ["original-probably", ""] } };
  assert.match(
    paragraph("clock", all),
    /That the dial is apparently original is recorded as well; which of the two is right is not settled\./,
  );
});

test("sides stand in words, members before their noun", () => {
  const stain = (zone, more) => paragraph("work-on-paper", one(zone, "stain", more));
  assert.match(stain("margins/viewers-left"), /A stain on the left margin\./);
  assert.match(stain("image", { side: "upper" }), /A stain on the image, in the upper part\./);
  const lugs = { findings: ["1", "3"].map((lug) => ({ zone: `lugs/${lug}`, term: "wear", severity: 1 })) };
  assert.match(paragraph("watch", lugs), /Slight wear to the upper right and lower left lugs\./);
  assert.match(
    paragraph("watch", one("dial", "stain", { side: "clock-4" })),
    /A stain on the dial, at 4 o'clock\./,
  );
});

test("the same on two sides is told of each, and a side that only repeats the member it is on is not", () => {
  const stained = (class_id, zone_of, ...sides) => {
    const of = (side) => ({ zone: zone_of(side), term: "staining", severity: 2, side });
    return paragraph(class_id, { findings: sides.map(of) });
  };
  assert.match(
    stained("ceramics", () => "body", "viewers-left", "viewers-right"),
    /Staining to the body, on the left as viewed\. Staining to the body, on the right as viewed\./,
  );
  assert.match(
    stained("doll", (side) => `shoes/${side}`, "proper-left", "proper-right"),
    /Staining to both shoes\./,
  );
});

test("an old statement is left to the test that says the same", () => {
  const both = {
    statements: { "not-played": "Not played" },
    tests: { play: ["not-done", "strings slack", ""] },
  };
  assert.equal(paragraph("stringed-instrument", both).match(/Not played/g).length, 1);
});

test("what is asked and nobody gave an opinion of is not answered by silence", () => {
  const said = (short) => answer("stringed-instrument", "Is the label to be believed", short);
  const open = "Whether the label is to be believed was not noted.";
  const looked = "The label was examined under a lamp and not copied.";
  assert.equal(said({}), `${looked} ${open} Whether there are papers with it was not noted.`);
  assert.doesNotMatch(said({ origins: { label: ["later", ""] } }), /to be believed/);
  assert.doesNotMatch(said(one("label", "altered-inscription")), /to be believed/);
  assert.doesNotMatch(said({ denials: [["label", "altered-inscription", "lamp"]] }), /to be believed/);
  assert.match(said(one("label", "stain")), /to be believed was not noted/);
  assert.equal(
    said({ not_there: ["label"] }),
    "It has no label. Whether there are papers with it was not noted.",
  );
});

test("a frame that is not there has no origin to be open", () => {
  const unframed = {
    not_there: ["frame", "reverse", "labels"],
    facts: { "measures/height": { value: 500, unit: "mm" } },
  };
  assert.doesNotMatch(answer("painting", "How large is it unframed", unframed), /original/);
});

test("a size, mark, maker or date that is asked for and not on record is said to be missing", () => {
  const weight = (facts) =>
    answer("silver-plate", "What does it weigh", {
      facts,
      not_there: ["loading"],
      tests: { weigh: ["works"] },
    });
  assert.equal(weight({}), "Weight was not noted. The materials were not noted.");
  assert.equal(
    weight({ materials: "silver", "measures/weight": { value: 518, unit: "g", basis: "gross" } }),
    "Weight 518 g (16.7 oz t) gross. Materials as seen: silver.",
  );
  const edition = (facts) => answer("book-map", "Which edition", { facts });
  const by = { maker: "Thornapple", maker_certainty: "by" };
  const open = "It is by Thornapple. No imprint was copied. Edition and issue were not noted.";
  assert.equal(edition(by), `${open} The date was not noted.`);
  const dates = { words: "1880", earliest: 1880, latest: 1880, edtf: "1880" };
  assert.equal(
    edition({ ...by, dates, dates_certainty: "probable" }),
    open.replace("It is", "Probably 1880,"),
  );
});

test("of two things that read alike each is said, however grave either is, and whether it goes on or not", () => {
  const two = (zone, term, more, others) => ({
    findings: [
      { zone, term, severity: 3, ...more },
      { zone, term, severity: 2, ...others },
    ],
  });
  assert.match(paragraph("ceramics", two("rim", "chip")), /Two chips to the rim\./);
  assert.match(paragraph("doll", two("head", "crack", { activity: "w" })), /Two cracks in the head\./);
  assert.match(
    paragraph("painting", two("image", "foxing", { extent_count: 6 }, { extent_count: 6, severity: 3 })),
    /in twelve places/,
  );
});

test("nobody is told of a light that was not used where something is told of", () => {
  const lit = { lights: { body: "ultraviolet" } };
  const said = answer("ceramics", "Is anything restored", lit);
  assert.match(said, /No fault noted on the body under ultraviolet\./);
  assert.match(said, /No fault noted on [^.]*the rim/);
  const faded = {
    lights: { "ears/viewers-right": "ultraviolet" },
    findings: ["left", "right"].map((side) => ({
      zone: `ears/viewers-${side}`,
      term: "fading",
      severity: 2,
    })),
  };
  assert.doesNotMatch(paragraph("soft-toy", faded), /Fading of both ears, seen under ultraviolet/);
});

test("a zone whose only finding was withdrawn is not passed over", () => {
  const values = written(book.plans.glass, one("rim", "chip", { withdrawn: true }));
  values["zones/rim"] = { ...values["zones/rim"], state: "finding" };
  const text = asText(conditionParagraph(book.plans.glass, book, recordOf(values)));
  assert.match(text, /Nothing is recorded of the (rim|lip)/);
});

test("nothing is denied beside a finding of its sense", () => {
  const beside = (class_id, zone, found, denied) =>
    paragraph(class_id, { ...one(zone, found), denials: [[zone, denied, "lamp"]] });
  for (const [class_id, zone, found, denied] of [
    ["doll", "head", "break", "hairline"],
    ["tinplate-diecast", "wheels", "associated-part", "replaced-part"],
    ["soft-toy", "stuffing", "replaced-part", "re-stuffed"],
    ["textile-rug", "field", "patched", "hole"],
    ["work-on-paper", "image", "stain", "foxing"],
  ])
    assert.doesNotMatch(beside(class_id, zone, found, denied), /\bNo /, `${denied} beside ${found}`);
});

test("a count out of a count is in words, and short forms keep their stops", () => {
  assert.match(lot("silver-plate", { short_description: "1 of 6 spoons" }), /^One of six spoons\./);
  assert.match(lot("book-map", { short_description: "2 vols. of maps" }), /^Two vols\. of maps\./);
  assert.match(
    lot("book-map", { short_description: "all six vols. in cases" }),
    /^All six vols\. in cases\./,
  );
});

test("a material keeps no capital of its line, whatever it is", () => {
  assert.match(
    lot("free", { short_description: "Thornapple bowl", materials: "Zebrano" }),
    /^A Thornapple bowl, zebrano\./,
  );
});

test("two lengths have one unit, one plate is a plate, and a lens keeps its millimetres", () => {
  const stains = one("face", "stain", { extent_mm: 120, extent_mm_across: 80, extent_count: 2 });
  assert.match(paragraph("textile-rug", stains), /Two stains of up to 12\.0 x 8\.0 cm on the face\./);
  const counted = (value) => lot("book-map", { "measures/plates-present": { value, unit: "n", typed: "" } });
  assert.match(counted(1), / One plate or map present\./);
  assert.match(counted(23), / 23 plates and maps present\./);
  const lens = { "measures/focal-length": { value: 105, unit: "mm", typed: "" } };
  assert.match(lot("camera-scientific", lens), /Focal length as engraved 105 mm\.$/);
});

test("what was not determined was not seen, by whatever light it was looked at", () => {
  const doubted = one("handles", "filled", { certainty: "not-determined", light: "ultraviolet" });
  assert.match(
    paragraph("ceramics", doubted),
    /Whether the handles are filled was not determined under ultraviolet\./,
  );
});

test("a hollow thing is not said to be filled, nor a filling to be stuffed", () => {
  assert.match(paragraph("ceramics", one("spout", "filled")), /The spout is made good with filler\./);
  assert.match(paragraph("ceramics", one("rim", "filled")), /The rim is filled\./);
  assert.match(paragraph("book-map", one("title-leaf", "filled")), /The title leaf is made good\./);
  assert.match(paragraph("soft-toy", one("filling", "re-stuffed")), /The filling is renewed or added to\./);
});

test("what stops is said to stop so many times, and sides are in words", () => {
  const stops = one("shutter", "stops", { extent_count: 2 });
  assert.match(paragraph("camera-scientific", stops), /The shutter stops after a start twice\./);
  assert.match(
    paragraph("work-on-paper", one("image", "crease", { side: "top" })),
    /in the image, at the top\./,
  );
});

test("of a thing without stones nobody misses that they were tested, nor of a crack that there is no bow", () => {
  const plain = { not_there: ["main-stone", "side-stones"] };
  assert.doesNotMatch(answer("jewellery", "How large", plain), /Stones not tested/);
  assert.match(answer("jewellery", "How large", {}), /Stones not tested/);
  const violin = { not_there: ["bow-stick", "bow-frog", "bow-brand"] };
  assert.doesNotMatch(answer("stringed-instrument", "Has it cracks", violin), /It has no bow/);
  assert.match(
    answer("jewellery", "How large are the stones", {}),
    /Length, width and depth of the main stone not taken\. Whether there are papers with it was not noted\./,
  );
});

test("an odour in two places is not two odours", () => {
  const musty = (extent_count) => paragraph("textile-rug", one("outline", "odour-musty", { extent_count }));
  assert.match(musty(2), /\. A musty odour, in two places\./);
  assert.match(musty(null), /\. A musty odour\./);
});

const held = (sign, zone = null, more = {}) => ({
  hazard: "H10",
  level: "amber",
  sign,
  zone,
  called: "",
  place: "",
  ...more,
});

test("a caution is printed by where and what was seen, each of several, and never by what it may be", () => {
  const said = (...raised) =>
    paragraph("clock", { facts: Object.fromEntries(raised.map((one, at) => [`cautions/${at}`, one])) });
  assert.match(
    said(held("brown paint.", "hands")),
    /Held back, and not offered until cleared; noted: brown paint on the hands\./,
  );
  assert.match(
    said(held("brown paint on the hands", "hands")),
    /until cleared; noted: brown paint on the hands\./,
  );
  assert.match(
    said(held("brown paint", "hands"), held("a silver column", null, { hazard: "H13" })),
    /Held back, and not offered until cleared; noted: brown paint on the hands; a silver column\./,
  );
  assert.match(said(held("")), /Held back, and not offered until cleared\./);
  assert.match(
    said(held("Luminous paint, glows", "hands")),
    /Held back, and not offered until cleared; noted: something on the hands\./,
  );
  const glass = held("a leaded shade", null, { hazard: "H12" });
  assert.match(said(glass), /Held back, and not offered until cleared; noted: a leaded shade\./);
  assert.match(
    answer("clock", "Are hands", { facts: { "cautions/0": held("brown paint", "hands") } }),
    /Held back, and not offered until cleared; noted: brown paint on the hands\./,
  );
});

test("a zone has the name that fits the thing, and one neutral name where nobody can tell", () => {
  const named = (name, class_id, zone, term) =>
    paragraph(class_id, { ...one(zone, term), facts: { short_description: name } });
  assert.match(
    named("tin limousine", "tinplate-diecast", "roof-top", "replaced-part"),
    /The roof is replaced/,
  );
  assert.match(named("tin thing", "tinplate-diecast", "roof-top", "replaced-part"), /The top is replaced/);
  assert.match(named("six forks", "silver-plate", "tines-blades", "bent"), /One or more tines are bent/);
  assert.match(named("Fish knives", "silver-plate", "tines-blades", "bent"), /One or more blades are bent/);
  assert.match(
    named("knives and forks", "silver-plate", "tines-blades", "bent"),
    /One or more working ends are bent/,
  );
  const size = { "measures/string-length": { value: 650, unit: "mm", typed: "650" } };
  assert.match(lot("stringed-instrument", { short_description: "guitar", ...size }), /Scale length 65\.0 cm/);
  assert.match(lot("stringed-instrument", size), /String length 65\.0 cm/);
  // Of a bell and a gong, or a chain and a key, the trade has no name for both, nor of unlike things in one zone.
  for (const { zone, one: single, many, counted } of book.print.zones.filter(
    ({ zone, unlike }) => !["bell-gong", "chain-key"].includes(zone) && !unlike,
  ))
    for (const words of [single, many, ...(counted ?? [])]) assert.doesNotMatch(words ?? "", / or /, zone);
});

test("what was seen of a part that is missing makes it missing in part", () => {
  const both = { findings: [...one("cover", "missing-part").findings, ...one("cover", "chip").findings] };
  assert.match(paragraph("ceramics", both), /A chip to the cover\. A part missing from the cover\./);
  assert.match(paragraph("ceramics", one("cover", "missing-part")), /The cover is missing\./);
  const down = {
    ...one("sound-post", "detached-part"),
    tests: { "post-standing": ["no-response", "", ""] },
  };
  const text = paragraph("stringed-instrument", down);
  assert.match(text, /The sound-post is detached\./);
  assert.doesNotMatch(text, /is down/);
});

test("of a fault on what was replaced it is said that this was replaced, and no more of what has no share", () => {
  const crack = one("head", "crack", { origin: "replaced", note: "at the crown" });
  assert.match(paragraph("doll", crack), /A crack in the head at the crown; the head is replaced\./);
  const mended = one("head", "crack", { origin: "repaired" });
  assert.match(paragraph("doll", mended), /A crack in the head, repaired\./);
  const fading = one("colours", "fading", { extent_percent: 40 });
  assert.match(paragraph("textile-rug", fading), /Fading of the colours over about 40 per cent\./);
});

test("what was looked for in vain is a noun, and what is in a zone is not on it", () => {
  const denied = (class_id, term, light, ...zones) =>
    paragraph(class_id, { denials: zones.map((zone) => [zone, term, light]) });
  assert.match(
    denied("soft-toy", "re-sewn", "lamp", "back"),
    /No sign of re-sewing to the back seen under a lamp\./,
  );
  assert.match(denied("ceramics", "trimmed", "lamp", "rim"), /No sign of grinding to the rim seen/);
  const unlike = ["colour-mismatch", "retouched"].map((term) => ["body", term, "lamp"]);
  const apart = paragraph("ceramics", { denials: unlike });
  assert.match(apart, /No sign of another colour in the body seen/);
  assert.match(apart, /No sign of retouching to the body seen/);
  assert.match(denied("painting", "repainted", "torch", "paint"), /No sign of repainting seen in low/);
  assert.match(
    denied("clock", "associated-part", "lamp", "movement", "dial"),
    /No sign seen under a lamp that the dial or the movement is from another clock\./,
  );
  assert.match(denied("book-map", "rebound", "lamp", "outline"), /No sign of rebinding seen under a lamp\./);
  assert.match(
    denied("soft-toy", "live-insects", "lamp", "cover", "filling"),
    /No live insect seen on the cover or in the filling under a lamp\./,
  );
});

test("of several things they have none, and what no ring is asked for is said to be none", () => {
  const { zones } = book.plans["tinplate-diecast"];
  const named = (short_description) =>
    answer("tinplate-diecast", "Does the box", {
      facts: { short_description },
      not_there: zones.map(({ zone }) => zone).filter((zone) => zone.startsWith("box")),
    });
  for (const name of ["14 loose vehicles", "vehicles", "two tin boats", "pair of cars", "set of six cars"])
    assert.match(named(name), /^They have no box\./, name);
  for (const name of ["tin boat", "tea set", "part set of cars", "flatware"])
    assert.match(named(name), /^It has no box\./, name);
  const brooch = { not_there: ["shoulders", "size-change"] };
  assert.match(answer("jewellery", "Which ring", brooch), /^Does not apply: no ring\./);
});

test("a mend that was measured is a thing of that length, on whichever of several it is", () => {
  const leg = one("legs", "restuck", { extent_count: 1, extent_mm: 40, note: "at the block" });
  assert.match(paragraph("furniture", leg), /A glued repair of 40 mm to a leg at the block\./);
  const unmeasured = one("legs", "restuck", { extent_count: 1 });
  assert.match(paragraph("furniture", unmeasured), /One leg is stuck back\./);
});

test("a weight says what was weighed, a fault of a part of it what part, and a fault of the whole that it has no place", () => {
  const weight = { value: 518, unit: "g", typed: "518", basis: "weighable" };
  const weighed = { result: "works", why: "", note: "without the odd one." };
  const text = lot("silver-plate", { "measures/weight": weight, "tests/weigh": weighed });
  assert.match(text, /Weight 518 g \(16\.7 oz t\) weighable \(without the odd one\)\./);
  const corner = one("frame", "loose-part", { extent_count: 1, note: "lower right corner" });
  assert.match(paragraph("painting", corner), /A loose part of the frame \(lower right corner\)\./);
  assert.match(
    paragraph("painting", one("frame", "loose-part", { extent_count: 1 })),
    /The frame is loose\./,
  );
  const dents = one("outline", "dent", { extent_count: 2 });
  assert.match(paragraph("silver-plate", dents), /Two dents \(place not noted\)\./);
  assert.match(
    paragraph("silver-plate", one("outline", "dent", { extent_count: 2, note: "on the foot" })),
    /Two dents on the foot\./,
  );
});

test("a look is told unless all that is asked about was seen by it, and through a lens it is a torch", () => {
  const looked = { tests: { ultraviolet: ["works", "nothing-seen", ""] } };
  const restored = (more) => answer("ceramics", "Is anything restored", { ...looked, ...more });
  assert.match(restored({}), /Looked at under ultraviolet for restoration, with nothing to report\./);
  assert.match(restored({ denials: [["rim", "retouched", "ultraviolet"]] }), /Looked at/);
  assert.match(restored({ lights: { rim: "ultraviolet" } }), /Looked at/);
  assert.doesNotMatch(restored({ light: "ultraviolet" }), /Looked at/);
  const clear = { denials: [["finder", "mould", "torch"]] };
  assert.match(
    paragraph("camera-scientific", clear),
    /No mould seen in the finder with a torch\. .*Examined with a lamp and a torch\.$/,
  );
  const inside = { denials: [["lens", "mould", "inside-lamp"]] };
  assert.match(
    paragraph("camera-scientific", inside),
    /No mould seen on the lens with an inside lamp and mirror\. .*Examined with a lamp and an inside lamp with/,
  );
});

test("what only whoever moves a part can find is not said beside that it was not tried", () => {
  const play = one("focus", "play");
  const undone = { tests: { focus: ["not-done", "", ""] } };
  for (const said of [play, { ...undone, ...play }]) {
    assert.match(paragraph("camera-scientific", said), /play in the focus/i);
    assert.doesNotMatch(paragraph("camera-scientific", said), /[Ff]ocus not tried/);
    assert.doesNotMatch(answer("camera-scientific", "Does shutter", said), /[Ff]ocus not tried/);
  }
  assert.match(paragraph("camera-scientific", undone), /Focus not tried\./);
});

test("a mark found on a part is the mark that was not copied, and several things have several", () => {
  const marked = (more, name) =>
    paragraph("tinplate-diecast", { facts: { short_description: name }, ...more });
  const found = one("base", "mark-illegible");
  assert.match(marked(found, "tinplate car"), /not fully legible\. .*The mark was not copied\./);
  assert.match(marked({}, "tinplate car"), /The mark was examined under a lamp and not copied\./);
  assert.match(marked({}, "three tinplate cars"), /The marks were examined under a lamp and not copied\./);
  const counted = (pieces) =>
    paragraph("tinplate-diecast", { facts: { short_description: "tinplate car", pieces } });
  assert.match(counted(1), /The mark was examined under a lamp and not copied\./);
  assert.match(counted(2), /The marks were examined under a lamp and not copied\./);
});

test("an answer tells every look that bears on what is asked, and what it leaves open", () => {
  const ultraviolet = { tests: { ultraviolet: ["not-done", "", ""] } };
  assert.match(answer("doll", "Has the head", ultraviolet), /Ultraviolet not used\./);
  assert.match(answer("doll", "Has the head", {}), /Ultraviolet not used\./);
  assert.match(answer("work-on-paper", "Are there tears", ultraviolet), /Ultraviolet not used\./);
  assert.match(answer("book-map", "Is it complete", one("map-sheet", "trimmed")), /map sheet is trimmed/);
  assert.match(answer("book-map", "Which edition", {}), /Edition and issue were not noted\./);
  const shut = { not_examined: { movement: "sealed", balance: "sealed" } };
  assert.match(answer("watch", "Is it running", shut), /Whether it was serviced could not be seen\./);
  const facts = { short_description: "ring, yellow metal", materials: "yellow metal" };
  assert.match(answer("jewellery", "Which metal", { facts }), /Materials as seen: yellow metal\./);
  assert.doesNotMatch(answer("jewellery", "Which metal", { facts }), /in the description alone/);
});

test("what is missing of the windows and lamps of a car is no pane", () => {
  const missing = one("glazing", "missing-part", { extent_count: 1, note: "left headlamp" });
  const of = (short_description) =>
    paragraph("tinplate-diecast", { facts: { short_description }, ...missing });
  assert.match(of("die-cast lorry"), /One part missing from the glazing \(left headlamp\)\./);
});

test("a doll without a mark on its head is said to have none", () => {
  assert.match(paragraph("doll", { not_there: ["head-mark"] }), /Without mark on the head\./);
});

test("a part that has no zone of its own does what its fault is called by", () => {
  const shift = (zone, more) => paragraph("soft-toy", one(zone, "stuffing-shift", more));
  assert.match(shift("neck", { severity: 1 }), /The stuffing in the neck has slightly shifted\./);
  assert.match(
    shift("neck", { extent_percent: 10, certainty: "probable" }),
    /The stuffing has probably shifted over about 10 per cent of the neck\./,
  );
  assert.match(shift("filling"), /The filling has shifted\./);
  assert.match(
    shift("neck", { certainty: "not-determined" }),
    /Whether the stuffing in the neck has shifted was not determined\./,
  );
});

test("where marks were looked for in vain is said, and rests on what says where", () => {
  const record = recordOf(written(book.plans.ceramics, { facts: { marks_looked: "Underside" } }));
  const [none] = markSentences(book.plans.ceramics, book, record);
  assert.match(none.words, /^No marks found, looked for on the underside\.$/);
  assert.deepEqual(none.from, ["marks_looked"]);
});

test("what was measured on another basis is told by itself", () => {
  const size = (value, basis) => ({ value, unit: "mm", typed: "", basis });
  const of = (basis) =>
    lot("painting", { "measures/height": size(300, "sight size"), "measures/width": size(200, basis) });
  assert.match(of("sight size"), /Height by width of the picture 30\.0 x 20\.0 cm .* sight size\./);
  assert.match(of("full size"), /Height of the picture 30\.0 cm .* sight size and width .* full size\./);
  assert.match(of(""), /Height of the picture 30\.0 cm .* sight size and width of the picture 20\.0 cm/);
});

test("what is denied of one part more than of the whole is denied of it", () => {
  const denials = [
    ["outline", "chip", "lamp"],
    ["rim", "chip", "lamp"],
    ["rim", "crack", "lamp"],
  ];
  assert.match(
    paragraph("ceramics", { denials }),
    /No chip seen under a lamp\. No crack or chip seen on the rim/,
  );
});

test("that a trial failed is told where the fault that would tell it is none to speak of", () => {
  const down = (severity) =>
    paragraph("stringed-instrument", {
      ...one("sound-post", "detached-part", { severity }),
      tests: { "post-standing": ["no-response", null, ""] },
    });
  assert.match(down(0), /sound-post is down/);
  assert.doesNotMatch(down(3), /sound-post is down/);
});

test("what was counted once, and then not examined, is told with no number", () => {
  const hands = (state) => lot("clock", { "zones/hands": { state, reason: null, light: null, count: 3 } });
  assert.match(hands("clear"), /three hands/);
  assert.doesNotMatch(hands("not-examined"), /three/);
});

test("beside a length of five centimetres a shorter one is in centimetres too", () => {
  const size = (value) => ({ value, unit: "mm", typed: "" });
  const said = (height) => lot("ceramics", { "measures/height": size(height), "measures/width": size(30) });
  assert.match(said(50), /3\.0 cm/);
  assert.match(said(49), /30 mm/);
});

test("a flaw of no weight that nobody noted anything of is told to who asks alone", () => {
  const chip = (more) => paragraph("ceramics", one("rim", "chip", { severity: 0, ...more }));
  assert.doesNotMatch(chip({}), /[Cc]hip/);
  assert.match(chip({ note: "from the making" }), /[Cc]hip/);
});
