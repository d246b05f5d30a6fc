/**
 * What a text left out although it stands on the record, or said although it does not: each case as it should read.
 * Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { finding, recordOf } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

test("that a setting was looked at stands in the text by its loupe, though no stones are set in it", () => {
  const hair = { denials: [["setting", "stone-missing", "loupe"]], not_there: ["main-stone", "side-stones"] };
  const text = paragraph("jewellery", hair);
  assert.doesNotMatch(text, /complete|stone/, "nothing can be missing from it");
  assert.match(text, /Examined with a lamp and a x10 loupe\./);
  const stones = answer("jewellery", "How large", hair);
  assert.match(stones, /It has no main stone or side stones\./);
  assert.doesNotMatch(stones, /No stones are set in it/);
  const beads = { ...hair, denials: [], not_there: [...hair.not_there, "setting"] };
  assert.match(answer("jewellery", "How large", beads), /No stones are set in it\./);
});

test("a stone that is missing from a setting is told where the stones are asked for", () => {
  const out = one("setting", "stone-missing", { severity: 3, extent_count: 1 });
  assert.match(answer("jewellery", "How large", out), /One stone missing from the setting\./);
});

test("of how many of a set nobody counted it is not said that it is one", () => {
  const tiles = {
    ...one("set-count", "colour-mismatch"),
    facts: { short_description: "nine tiles", pieces: 9 },
  };
  assert.match(paragraph("ceramics", tiles), /One or more tiles of another colour in the set\./);
  const counted = one("set-count", "associated-part", { extent_count: 1 });
  assert.match(paragraph("silver-plate", counted), /An associated piece in the set\./);
  const named = one("set-count", "associated-part", { note: "the cover" });
  assert.match(paragraph("ceramics", named), /An associated piece in the set \(the cover\)\./);
});

test("what nobody could look at is not undetermined: it could not be seen, or was not tried", () => {
  const shut = { not_examined: { movement: "sealed", case: "no-time" } };
  assert.match(answer("watch", "Is it running", shut), /Whether it was serviced could not be seen\./);
  assert.match(answer("watch", "Was the case", shut), /Whether the case was polished could not be seen\./);
  const framed = { not_examined: { support: "sealed", verso: "sealed", hinges: "sealed" } };
  assert.match(answer("work-on-paper", "Is it laid", framed), /Whether it is laid down could not be seen\./);
  const seen = { ...framed, not_examined: { support: "sealed" } };
  assert.match(answer("work-on-paper", "Is it laid", seen), /Whether it is laid down was not noted\./);
  assert.match(paragraph("tinplate-diecast", {}), /The electric motor was not tried\./);
});

test("half a question is answered, or said to be open", () => {
  const clock = { not_there: ["finials", "weights", "base-dome"] };
  const all = (more) => answer("clock", "Is all of it there", { ...clock, ...more });
  assert.match(
    all({}),
    new RegExp(
      "Whether the pendulum and the keys are present was not noted\\. " +
        "Whether the feet are there was not noted\\. It has no finials or weights\\.",
    ),
  );
  const key = one("keys", "missing-part", { extent_count: 1, note: "the case key" });
  assert.match(
    all(key),
    /One key is missing \(the case key\)\. Whether the pendulum and the other keys are present was not noted\./,
  );
  assert.match(
    answer("clock", "Is all of it there", {}),
    /Whether the finials and feet, the pendulum, .* are present was not noted\./,
  );

  const box = one("box-flaps", "tear", { extent_count: 1 });
  const open = /Whether all flaps and inner trays are there was not noted\./;
  assert.match(answer("tinplate-diecast", "Does the box", box), open);
  const lost = one("box-flaps", "missing-part", { extent_count: 1 });
  assert.doesNotMatch(answer("tinplate-diecast", "Does the box", lost), open);

  const imprint = { place: "title leaf", technique: "printed", colour: "", reading: "", withdrawn: false };
  const book = (text, more = {}) => ({
    facts: { "marks/0": { ...imprint, text, completeness: "complete" }, ...more },
  });
  const edition = (said) => answer("book-map", "Which edition", said);
  assert.match(edition(book("Printed for A. B.")), /Edition and issue were not noted\./);
  assert.doesNotMatch(edition(book("Printed for A. B., second edition")), /Edition and issue|not copied/);
  const called = { short_description: "county survey, first edition" };
  assert.match(
    edition({ facts: called }),
    /Said in the description alone: “first edition”\. No imprint was copied\./,
  );
  assert.doesNotMatch(edition({ facts: called }), /Edition and issue|fault noted .*title leaf/);
  assert.doesNotMatch(edition(one("title-leaf", "leaf-missing")), /imprint/);

  const ring = { not_there: ["clasp", "brooch-pin"] };
  assert.match(answer("jewellery", "Does the catch", ring), /It has no catch\./);
  const beads = { not_there: ["brooch-pin", "setting"], ...one("clasp", "missing-part", { severity: 3 }) };
  const held = answer("jewellery", "Does the catch", beads);
  assert.match(held, /The clasp is missing\..* It has no claws or other setting\./);
  assert.doesNotMatch(held, /It has no catch/);
  assert.match(answer("jewellery", "Are there repairs", beads), /fault noted on .*the stringing/);
  assert.doesNotMatch(answer("jewellery", "Which metal", {}), /mount/);

  const worn = one("plating", "plating-loss", { extent_percent: 10 });
  assert.match(answer("silver-plate", "Is it silver", worn), /Loss of .*plating.* It is plated\./);
  assert.match(
    answer("silver-plate", "Are the marks", {}),
    /Whether everything that should bear marks does was not noted\./,
  );
  const single = { not_there: ["marks-parts"] };
  assert.doesNotMatch(answer("silver-plate", "Are the marks", single), /every part/);

  const mark = { ...imprint, place: "base", text: "N", completeness: "worn" };
  const speaks = (standing) =>
    answer("ceramics", "Is the mark", { facts: { "marks/0": { ...mark, standing } } });
  assert.match(speaks("borne"), /What speaks for or against the mark was not noted\./);
  assert.doesNotMatch(speaks("not-relied-on"), /What speaks/);
  const evidence = {
    maker: "A. B.",
    maker_certainty: "attributed-to",
    maker_evidence: ["style", "owner-told"],
  };
  assert.match(answer("ceramics", "Is the mark", { facts: evidence }), /What speaks for the maker: style\./);
});

test("what is on the back of a picture is told of its stretcher, too", () => {
  const back = (more) => answer("painting", "How large", more);
  assert.match(back({ not_examined: { stretcher: "covered" } }), /Not examined: the stretcher; covered/);
  assert.doesNotMatch(back({ not_there: ["frame"] }), /original/);
});

test("a part that is missing from one of several is there on the others, which are asked for", () => {
  const facts = { short_description: "five scent bottles", pieces: 5 };
  const stopper = (note) =>
    answer("glass", "Does the stopper", { ...one("stopper", "missing-part", { severity: 3, note }), facts });
  const said = stopper("from one bottle of the five");
  assert.match(
    said,
    /Whether the stoppers and the bodies belong together was not noted\. Stoppers not lifted\./,
  );
  assert.match(said, /Numbers on stoppers and necks not read\./);
  for (const note of ["", "from all five"]) assert.doesNotMatch(stopper(note), /not (lifted|read)/);
});

test("asked how long a fault is, an answer says that nobody measured it", () => {
  const how = (...findings) => answer("ceramics", "Which chips", { findings });
  const crack = { zone: "body", term: "crack", severity: 3 };
  const chip = { zone: "rim", term: "chip", severity: 2 };
  assert.match(how(crack), /^A crack in the body\..* The crack was not measured\./);
  assert.match(how(crack, chip), /The crack and the chip were not measured\./);
  assert.match(how({ ...chip, extent_count: 3 }), /The chips were not measured\./);
  const sized = { ...chip, zone: "foot-rim", extent_mm: 4 };
  assert.match(how(chip, sized), /The other chip was not measured\./);
  for (const one of [sized, { ...chip, note: "of about 2 cm" }, { ...chip, extent_words: "small" }])
    assert.doesNotMatch(how(one), /not measured/);
  assert.match(how({ ...chip, note: "at 4 o'clock" }), /The chip was not measured\./);
  assert.doesNotMatch(answer("ceramics", "Is anything", { findings: [crack] }), /not measured/);
});

test("of a framed textile it is said whether it was seen out of its frame, and of no other", () => {
  const framed = { facts: { short_description: "sampler in a frame" } };
  const open = /Whether it was seen out of the frame was not noted\./;
  assert.match(paragraph("textile-rug", framed), open);
  assert.match(answer("textile-rug", "Have colours", framed), open);
  const stated = { ...framed, statements: { "out-of-frame": "examined out of the frame" } };
  for (const one of [
    stated,
    { facts: { short_description: "rug" } },
    { ...framed, not_there: ["frame-mount"] },
  ])
    assert.doesNotMatch(
      paragraph("textile-rug", one) + answer("textile-rug", "Have colours", one),
      /not noted/,
    );
  assert.match(paragraph("textile-rug", stated), /Examined out of the frame\./);
});

test("where nobody looked an answer is that it was not examined, and why: not that it was not noted", () => {
  const covered = (...zones) => ({
    not_examined: Object.fromEntries(zones.map((zone) => [zone, "covered"])),
  });
  assert.equal(
    answer("watch", "Is the dial", covered("dial", "sub-dials")),
    "Not examined: the dial and the sub-dials; covered, and out of sight.",
  );
  assert.equal(
    answer("furniture", "Was it refinished", covered("surface", "veneer")),
    "Whether it was refinished could not be seen. Not examined: the surface and the veneer; covered, and out of sight.",
  );
  const blank = { untouched: ["gilding", "decoration-front", "decoration-back"] };
  assert.equal(
    answer("ceramics", "Is gilding", blank),
    "Nothing is recorded of the decoration or the gilding.",
  );
});

test("what is typed in no good order reads in one all the same", () => {
  const by = { dates: { words: "c. 1890" }, dates_certainty: "certain", maker: "X", maker_certainty: "by" };
  const of = (short_description, more = by) => lot("ceramics", { short_description, ...more });
  assert.equal(of("cup, or beaker"), "A cup, or beaker, c. 1890, by X.");
  assert.equal(
    of("teapot and cover, damaged, and a stand"),
    "A teapot and cover, damaged, and a stand, c. 1890, by X.",
  );
  assert.equal(of("vase,"), "A vase, c. 1890, by X.");
  assert.equal(of("Vase: blue; white"), "A vase, c. 1890, by X: blue; white.");
  assert.equal(of("2x vase", {}), "2x vase.");
  assert.equal(of("one pair gloves", {}), "One pair of gloves.");
  assert.equal(of("chessmen", {}), "Chessmen.");
  assert.equal(of("Union flag", {}), "A Union flag.");
  assert.equal(of("oak chair", { materials: "oak; pine" }), "An oak chair, pine.");
  assert.equal(
    of("thing", { materials: "oak, with brass, and ivory" }),
    "A thing; oak, with brass and ivory.",
  );
  assert.equal(of("vase", { dates: { words: "not known" }, dates_certainty: "probable" }), "A vase.");
  assert.equal(of("vase", { maker: "marked T", maker_certainty: "by" }), "A vase, marked T.");
  const mark = { place: "base", technique: "painted", text: "K", reading: "", completeness: "complete" };
  const marked = (more) =>
    of("six spoons", { "marks/0": { colour: "", withdrawn: false, ...mark, ...more } });
  assert.match(marked({ colour: "In blue" }), /painted in blue: “K”/);
  assert.match(marked({ place: "Each base" }), /a mark on each base, painted/);
  assert.match(marked({ text: "“a” and “b”" }), /: “‘a’ and ‘b’”\.$/);
});

test("a caution says once where its sign is, and once that its clearance is for no more", () => {
  const caution = { hazard: "H12", level: "amber", zone: "inside", called: "", place: "" };
  const held = (sign) => paragraph("ceramics", { facts: { "cautions/0": { ...caution, sign } } });
  assert.match(held("white dust on the body"), /cleared; noted: white dust on the body\./);
  assert.match(held("white dust"), /cleared; noted: white dust on the inside\./);
  const cleared = { decision: "cleared", cleared_for: "only for display" };
  const facts = { "cautions/0": { ...caution, sign: "dust" }, "caution-decisions/0": cleared };
  assert.match(paragraph("ceramics", { facts }), /Noted: dust on the inside; cleared only for display\./);
});

test("a fault of a zone that is asked about stands in an answer, though no question names it", () => {
  const scratched = one("movement", "scratch", { severity: 1 });
  assert.match(answer("watch", "Is it running", scratched), /^A slight scratch on the movement\./);
  const rubbed = one("image", "abrasion", { extent_percent: 20 });
  assert.match(
    answer("work-on-paper", "Are there tears", rubbed),
    /Abrasion over about 20 per cent of the image\./,
  );
});

test("of a thing that was examined before it was left to a specialist it is not said that nobody did", () => {
  const record = recordOf({ "findings/0": finding({ zone: "outline", term: "crack", severity: 3 }) });
  const of = (one) => asText(conditionParagraph(book.plans.arms, book, one));
  assert.match(of(record), /^Condition not stated: left to a specialist\./);
  assert.match(of(recordOf({})), /^Condition not examined: left to a specialist/);
});
