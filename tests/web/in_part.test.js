/** What is so of a part, or was not tried, or was found where nobody asked for it, in what bidders are told. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answerInWords } from "../../web/job/answer_words.ts";
import { fiveAnswers } from "../../web/job/answers.ts";
import { asText } from "../../web/job/sentences.ts";
import { recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const named = (short_description, pieces, more = {}) => ({ facts: { short_description, pieces, ...more } });
const weight = (basis) => ({ "measures/weight": { value: 518, unit: "g", typed: "518", basis } });

test("one plated fork of seven makes no silver of the others unweighable", () => {
  const forks = (basis, more) =>
    answer("silver-plate", "What does it weigh", {
      ...named("seven forks", 7, weight(basis)),
      ...one("plating", "plating-loss", more),
    });
  assert.doesNotMatch(forks("gross", { note: "tines of the odd fork" }), /plated, and so/);
  assert.match(forks("gross", { piece: "7" }), /Whether the others are weighable silver was not noted\./);
  assert.doesNotMatch(forks("weighable", { piece: "7" }), /Whether|plated, and so/);
  assert.match(forks("gross", {}), /They are plated, and so not weighable silver\./);
  const pot = answer("silver-plate", "What does it weigh", {
    ...named("teapot", 1, weight("gross")),
    ...one("plating", "plating-loss", { note: "the handle" }),
  });
  assert.match(pot, /Whether the rest of it is weighable silver was not noted\./);
});

test("what is loaded or plated is not weighed as silver, whatever was said at the scale", () => {
  const pot = (basis, zone, term) =>
    answer("silver-plate", "What does it weigh", {
      ...named("teapot", 1, weight(basis)),
      ...one(zone, term),
    });
  for (const [zone, term] of [
    ["loading", "loose-part"],
    ["plating", "plating-loss"],
  ])
    for (const basis of ["weighable", "gross", "net"]) {
      const said = pot(basis, zone, term);
      assert.doesNotMatch(said, /oz t|518 g weighable/);
      assert.match(said, /not weighable/);
    }
  assert.match(pot("weighable", "body", "dent"), /518 g \(16\.7 oz t\) weighable/);
});

test("a trial that was not made stands before a sweep over what it alone shows", () => {
  const watch = (more) => ({
    ...named("pocket watch", 1),
    tests: { "open-back": ["not-done", "no-tool", ""] },
    ...more,
  });
  assert.match(paragraph("watch", watch()), /Back not opened: the tool for it was not at hand\./);
  for (const begins of ["Is it running", "Are hands"]) {
    const said = answer("watch", begins, watch());
    assert.match(said, /Back not opened/);
    assert.doesNotMatch(said, /No fault noted on [^.]*the movement/);
  }
  const seen = watch(one("movement", "seized"));
  assert.doesNotMatch(paragraph("watch", seen), /Back not opened/);
  const rug = { ...named("rug", 1), tests: { "turn-over": ["not-done", "no-time", ""] } };
  const colours = answer("textile-rug", "Have colours", rug);
  assert.match(colours, /Not turned over, back not seen: time did not allow it\./);
  assert.doesNotMatch(colours, /noted on [^.]*the back/);
});

test("what is serious on a zone that is asked about stands in an answer", () => {
  const cases = [
    ["ceramics", "Is anything restored", "neck", "trimmed"],
    ["furniture", "Is it all of one piece", "drawers", "colour-mismatch"],
    ["soft-toy", "Was it ever opened", "chest", "patched"],
    ["watch", "Is it running", "movement", "corrosion-active"],
    ["watch", "Was the case polished", "inner-cover", "altered-inscription"],
    ["watch", "Are box, papers", "chain-key", "missing-part"],
    ["watch", "Are box, papers", "chain-key", "associated-part"],
    ["book-map", "How much foxing", "inscriptions", "altered-inscription"],
    ["camera-scientific", "Are case and accessories", "signature", "altered-inscription"],
    ["tinplate-diecast", "Are wheels", "roof-top", "missing-part"],
    ["textile-rug", "For costume", "label", "missing-part"],
    ["medal-coin", "Is the group complete", "case", "missing-part"],
    ["painting", "Is the paint stable", "edges/bottom", "paint-loss"],
  ];
  for (const [class_id, begins, zone, term] of cases)
    assert.match(
      answer(class_id, begins, one(zone, term, { severity: 3, note: "qqq" })),
      /qqq/,
      `${zone} ${term}`,
    );
  assert.doesNotMatch(
    answer("watch", "Are hands", one("chain-key", "associated-part", { note: "qqq" })),
    /qqq/,
  );
});

test("of every plan, what is usual on a zone that is asked about and serious stands in an answer, unless put aside", () => {
  for (const plan of Object.values(book.plans))
    for (const { zone, usual, members } of plan.zones) {
      const asking = plan.questions.filter(({ zones }) => zones.includes(zone));
      for (const term of usual) {
        const { family } = book.vocabulary.terms.find((row) => row.term === term);
        const isOpen = ({ aside }) => ![zone, term, family].some((one) => aside.includes(one));
        if (zone === "outline" || !asking.some(isOpen)) continue;
        const key = members.length ? `${zone}/${members[0]}` : zone;
        const record = recordOf(written(plan, one(key, term, { severity: 3, note: "qqq" })));
        const answers = fiveAnswers(plan, book, record).map((row) => asText(row.answer));
        assert.ok(answers.join(" ").includes("qqq"), `${plan.class_id} ${key} ${term}`);
      }
    }
});

test("of several that nobody counted one or more are missing, stuck back or replaced", () => {
  const said = (class_id, zone, term, more) => paragraph(class_id, one(zone, term, more));
  assert.match(said("furniture", "legs", "restuck"), /One or more legs are stuck back\./);
  assert.match(said("tinplate-diecast", "figures", "missing-part"), /One or more figures are missing\./);
  assert.match(said("stringed-instrument", "pegs", "replaced-part"), /One or more pegs are replaced\./);
  assert.match(said("furniture", "joints", "open-joint"), /One or more joints are open\./);
  assert.match(
    said("furniture", "handles", "missing-part", { extent_count: 2 }),
    /Two handles are missing\./,
  );
  assert.match(
    said("watch", "papers", "missing-part"),
    /One or more of the box, papers or receipts are missing\./,
  );
  const counted = { counts: { handles: 2 }, ...one("handles", "replaced-part") };
  assert.match(paragraph("furniture", counted), /One or both handles are replaced\./);
});

test("of what is not there nothing is left open", () => {
  const lacquer = answer("camera-scientific", "Is the lacquer", { not_there: ["finish-metal"] });
  assert.doesNotMatch(lacquer, /Whether the lacquer/);
  const stopper = (...not_there) =>
    answer("glass", "Does the stopper", { ...named("decanter", 1), not_there });
  assert.doesNotMatch(stopper("stopper"), /belong/);
  assert.match(stopper("stopper"), /It has no stopper/);
  assert.doesNotMatch(stopper("stopper-peg"), /It has no stopper/);
  assert.match(stopper("stopper-peg"), /No fault noted on the stopper/);
});

test("a sight size is no size out of the frame, and the largest sheet is one", () => {
  const mm = (value, basis) => ({ value, unit: "mm", typed: String(value), ...(basis ? { basis } : {}) });
  const picture = (basis) =>
    answer("painting", "How large", {
      facts: { "measures/height": mm(405, basis), "measures/width": mm(610, basis) },
    });
  assert.match(picture("sight size"), /sight size; the size out of the frame was not taken\. /);
  assert.doesNotMatch(picture("full size"), /out of the frame was not taken/);
  const sheets = lot("work-on-paper", {
    short_description: "bundle of 43 photographs",
    pieces: 43,
    "measures/largest-height": mm(254),
    "measures/largest-width": mm(203),
  });
  assert.match(sheets, /of the largest sheet 25\.4 x 20\.3 cm/);
  assert.doesNotMatch(sheets, /whether the others/);
});

test("of numbers that were read it is open whether they match, and of a look whether anything showed", () => {
  const read = { ...named("decanter", 1), tests: { "number-match": ["works", "", ""] } };
  assert.match(answer("glass", "Does the stopper", read), /were read; whether they match was not noted\./);
  const noted = { tests: { "number-match": ["works", "", "both 3"] } };
  assert.doesNotMatch(answer("glass", "Does the stopper", noted), /whether they match/);
});

test("gilding is worn or renewed, and no plate", () => {
  const cup = (term, more) => paragraph("silver-plate", one("gilding", term, more));
  assert.match(cup("plating-loss", { extent_percent: 40 }), /The gilding is worn over about 40 per cent\./);
  assert.match(cup("re-plated"), /The gilding is renewed\./);
});

test("what is judged to be from another is of another of its kind", () => {
  const judged = (class_id, name, zone) =>
    paragraph(class_id, { ...named(name, 1), origins: { [zone]: ["associated", ""] } });
  assert.match(judged("clock", "longcase clock", "movement"), /is associated, from another clock\./);
  assert.match(judged("glass", "decanter", "stopper"), /is associated, from another decanter\./);
});

test("what lies with a thing is of no other thing of its kind", () => {
  for (const [class_id, name, zone] of [
    ["watch", "pocket watch", "papers"],
    ["watch", "pocket watch", "chain-key"],
    ["camera-scientific", "box camera", "accessories"],
  ]) {
    const said = paragraph(class_id, { ...named(name, 1), ...one(zone, "associated-part", { note: "qqq" }) });
    assert.match(said, /associated/);
    assert.doesNotMatch(said, /from another/);
  }
});

test("one size has one unit", () => {
  const mm = (value) => ({ value, unit: "mm", typed: String(value) });
  const picture = (height, width) =>
    lot("painting", { "measures/height": mm(height), "measures/width": mm(width) });
  assert.match(picture(610, 915), /61\.0 x 91\.5 cm \(24 x 36 in\)/);
  assert.match(picture(1220, 1525), /\(4 ft 1\/16 in x 5 ft 1\/16 in\)/);
});

test("two pictures are examined out of their frames", () => {
  const out = { statements: { "out-of-frame": "examined out of the frame" } };
  assert.match(
    paragraph("painting", { ...named("pair of landscapes", 2), ...out }),
    /Examined out of the frames\./,
  );
  assert.match(paragraph("painting", { ...named("landscape", 1), ...out }), /Examined out of the frame\./);
});

test("of one part its name stands once where nothing was found on it", () => {
  const denied = {
    keys: ["denials/main-stone/chip"],
    words: "No chip seen on the main stone through a loupe.",
  };
  const nothing = {
    keys: ["clear/main-stone"],
    words: "No further fault noted on the main stone under a lamp.",
  };
  const said = answerInWords([denied, nothing].map((row) => ({ from: [], ...row })));
  assert.equal(said, "No chip seen on the main stone through a loupe, nor any further fault under a lamp.");
});
