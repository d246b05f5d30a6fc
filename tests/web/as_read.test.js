/** What a bidder would be told wrongly, or in words that nobody signs, where two things on record meet. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answerInWords } from "../../web/job/answer_words.ts";
import { answer, lot, one, paragraph } from "./as_text.js";

const named = (short_description, more = {}) => ({ facts: { short_description, ...more } });

test("what is said to be original and was found to be changed is neither printed twice nor dropped", () => {
  const seat = (more, origin = "original") => ({
    ...one("upholstery", "re-covered", more),
    origins: { upholstery: [origin, ""] },
  });
  const open = "is recorded as well; which of the two is right is not settled\\.";
  const original = "That the upholstery is original as far as can be seen";
  assert.match(
    paragraph("furniture", seat()),
    new RegExp(`The upholstery is re-covered\\. ${original} ${open}`),
  );
  const cases = [
    ["book-map", "spine", "rebound"],
    ["ceramics", "gilding", "re-plated"],
    ["ceramics", "cover", "associated-part"],
    ["doll", "hair", "replaced-part"],
  ];
  for (const [class_id, zone, term] of cases) {
    const text = paragraph(class_id, { ...one(zone, term), origins: { [zone]: ["original-probably", ""] } });
    assert.match(
      text,
      / is apparently original is recorded as well; which of the two is right is not settled\./,
    );
    assert.equal(text.match(/original/g).length, 1);
  }
  // What was changed in part leaves the rest as it was said to be.
  const handles = { ...one("handles", "replaced-part"), origins: { handles: ["original-probably", ""] } };
  assert.match(
    paragraph("furniture", handles),
    /One or more handles are replaced\. .*The handles are otherwise apparently original\./,
  );
  assert.match(
    paragraph("furniture", seat({ extent_percent: 20 })),
    /The upholstery is otherwise original as far/,
  );
  assert.match(paragraph("furniture", seat({}, "later")), /The upholstery is later\./);
});

test("a part that a note names is what was replaced or came off, and not all that it is of", () => {
  const said = (class_id, zone, note, term = "replaced-part", more = {}) =>
    paragraph(class_id, { ...named("thing"), ...one(zone, term, { note, ...more }) });
  assert.match(said("watch", "movement", "the mainspring"), /The mainspring of the movement is replaced\./);
  assert.match(said("painting", "stretcher", "two wedges"), /Two wedges of the stretcher are replaced\./);
  assert.match(said("stringed-instrument", "tailpiece", "strings"), /The strings are replaced\./);
  assert.match(
    said("stringed-instrument", "bow-frog", "the button", "replaced-part", { certainty: "probable" }),
    /The button of the frog is probably replaced\./,
  );
  assert.match(said("furniture", "locks", "the key"), /The key of a lock is replaced\./);
  assert.match(
    said("clock", "movement", "the bridge", "loose-part"),
    /The bridge of the movement is loose\./,
  );
  // What it is made of, or how it is, is no part of it.
  assert.match(said("watch", "movement", "brass"), /The movement is replaced \(brass\)\./);
  assert.match(
    said("clock", "hands", "minute hand", "replaced-part", { extent_count: 1 }),
    /One hand is replaced \(minute hand\)\./,
  );
  // Of several that nobody counted a note says which, and not how many.
  assert.match(said("furniture", "handles", "brass"), /One or more handles are replaced \(brass\)\./);
  assert.match(said("furniture", "handles", "both upper"), /The handles are replaced \(both upper\)\./);
  assert.match(said("textile-rug", "fastenings", "two hooks", "missing-part"), /Two hooks are missing\./);
});

test("what lies with a thing is of no other thing of its kind, and has its own name", () => {
  const watch = (more) => ({ ...named("pocket watch"), ...more });
  const chain = watch(one("chain-key", "associated-part", { note: "a plated chain" }));
  assert.match(paragraph("watch", chain), /The chain is associated \(a plated chain\)\./);
  assert.match(answer("watch", "Are box, papers", chain), /The chain is associated \(a plated chain\)\./);
  assert.match(
    paragraph("watch", watch({ origins: { papers: ["associated", ""] } })),
    /The papers are associated\./,
  );
  assert.match(
    paragraph("watch", watch(one("papers", "associated-part", { note: "the box" }))),
    /The box is associated\./,
  );
  const frog = { origins: { "bow-frog": ["associated", ""] } };
  assert.match(paragraph("stringed-instrument", frog), /The frog is associated, from another bow\./);
  assert.match(
    paragraph("clock", { ...named("regulator"), origins: { movement: ["associated", ""] } }),
    /from another clock\./,
  );
  assert.match(
    paragraph("furniture", { ...named("bureau"), origins: { outline: ["altered", ""] } }),
    /The bureau is altered\./,
  );
});

test("a sampler is laid down itself, and has no pile", () => {
  const sampler = (more) => ({ ...named("needlework sampler, framed"), ...more });
  const laid = sampler({
    ...one("frame-mount", "laid-down", { note: "on card" }),
    not_there: ["stress", "fastenings"],
  });
  assert.match(paragraph("textile-rug", laid), /The sampler is laid down, on card\./);
  assert.doesNotMatch(paragraph("textile-rug", laid), /[Pp]ile/);
  assert.equal(answer("textile-rug", "Is the pile", laid), "Does not apply: no rug or carpet.");
  assert.match(answer("textile-rug", "Are there repairs", laid), /Whether it was cut down was not noted\./);
  const pile = { ...named("velvet panel"), ...one("field", "pile-loss") };
  assert.match(answer("textile-rug", "Is the pile", pile), /Loss of the pile|[Pp]ile/);
  assert.match(
    paragraph("textile-rug", { ...named("rug"), ...one("back", "laid-down") }),
    /The rug is laid down\./,
  );
});

test("what was looked for in vain was so before a check-in that differed", () => {
  const told = {
    facts: {
      short_description: "violin",
      "check-in": { state: "differs", words: "the scroll has broken off", second_by: "A" },
    },
    denials: [["back", "crack", "lamp"]],
  };
  assert.match(
    paragraph("stringed-instrument", told),
    /Before it was checked in, no crack seen in the back under a lamp\./,
  );
  const cracks = answer("stringed-instrument", "Has it cracks", told);
  assert.match(
    cracks,
    /Before it was checked in, no crack seen in the back under a lamp\. .*Before it was checked in, no fault noted on /,
  );
  assert.doesNotMatch(cracks, /(?:^|\. )No crack/);
});

test("that a thing is held back stands first where it bears on the question, and last where it does not", () => {
  const held = (hazard, sign) => ({
    facts: {
      short_description: "vase converted to a lamp",
      "cautions/1": { hazard, sign, zone: null, withdrawn: false, raised_by: "A", decisions: [] },
    },
    ...one("rim", "chip"),
  });
  const chips = answer("ceramics", "Which chips", held("H24", "a flex"));
  assert.match(chips, /^A chip to the rim\. .*Held back, [^.]*\.$/);
});

test("what does not bear on a question stands in no answer to it", () => {
  const beads = { ...named("string of beads"), ...one("stringing", "fibre-rot", { severity: 3 }) };
  assert.doesNotMatch(answer("jewellery", "Are there repairs", beads), /perished/);
  assert.match(answer("jewellery", "How long is it", beads), /The stringing is perished\./);
  const worm = { ...named("watercolour"), ...one("frame", "flight-holes", { extent_count: 4 }) };
  assert.doesNotMatch(answer("work-on-paper", "Are there tears", worm), /worm/);
});

test("a fault is said in words that fit what it is on", () => {
  const said = (class_id, name, zone, term, more) =>
    paragraph(class_id, { ...named(name), ...one(zone, term, more) });
  const cases = [
    ["ceramics", "vase", "body", "restuck", "A glued repair to the body"],
    ["ceramics", "vase", "neck", "trimmed", "The neck is cut down"],
    ["furniture", "table", "legs", "trimmed", "One or more legs are cut down"],
    ["camera-scientific", "camera", "optics-other", "chip", "A chip to another optical part"],
    ["painting", "landscape", "edges/top", "edge-wear", "Wear to the top edge"],
    ["painting", "landscape", "tension", "slack", "The canvas is slack"],
    ["book-map", "atlas", "joints/upper", "rebound", "The atlas is rebacked"],
    ["doll", "doll", "face-paint", "repainted", "The face is repainted"],
    ["glass", "decanter", "stopper-peg", "seized", "The stopper is stuck"],
    ["clock", "clock", "weights", "fibre-rot", "Rotting lines of the weights"],
    ["watch", "watch", "hands", "colour-mismatch", "The hands do not match in colour"],
    ["jewellery", "ring", "side-stones", "stone-missing", "One or more side stones are missing"],
  ];
  for (const [class_id, name, zone, term, words] of cases)
    assert.match(said(class_id, name, zone, term, {}), new RegExp(` ${words}\\.`));
  assert.match(
    said("ceramics", "cup", "handles", "restuck", {}),
    /The handle is stuck back|One or more handles are stuck back/,
  );
});

test("framed or not goes with light and tools, and each of a pair has a frame", () => {
  const pair = {
    ...named("pair of portraits", { pieces: 2 }),
    statements: { "out-of-frame": "Examined out of the frame." },
    denials: [["paint", "flaking", "torch"]],
  };
  assert.match(
    paragraph("painting", pair),
    /No flaking seen .*Examined out of the frames\. Examined with a lamp/,
  );
});

test("a note that says which of several, or begins with the noun, is no other thing", () => {
  const locks = {
    ...named("chest of drawers"),
    ...one("locks", "missing-part", { extent_count: 2, note: "the two top drawers" }),
  };
  assert.match(paragraph("furniture", locks), /Two locks are missing \(the two top drawers\)\./);
  const nozzle = {
    ...named("candlestick"),
    ...one("finial", "replaced-part", { note: "the finial, plated" }),
  };
  assert.match(paragraph("silver-plate", nozzle), /The finial is replaced \(plated\)\./);
  const set = {
    ...named("part tea set", {
      pieces: 7,
      "listed/0": { words: "cups", count: 6, withdrawn: false },
      "listed/1": { words: "teapot", count: 1, withdrawn: false },
    }),
    ...one("gilding", "abrasion", { note: "rims of the cups" }),
  };
  assert.doesNotMatch(paragraph("ceramics", set), /Not noted: which/);
  const open = { ...set, ...one("gilding", "abrasion", { note: "at the rims" }) };
  assert.match(paragraph("ceramics", open), /Not noted: which of the seven/);
});

test("a name written by hand with the maker's surname is a signature, and photographs are counted as such", () => {
  const mark = {
    place: "lower left corner",
    technique: "handwritten",
    colour: "",
    completeness: "complete",
    text: "E M Larch 87",
    reading: "",
    standing: "makers-own",
  };
  const facts = {
    short_description: "watercolour of a harbour",
    maker: "E. M. Larch",
    maker_certainty: "by",
  };
  assert.match(
    lot("work-on-paper", { ...facts, class_id: "work-on-paper", "marks/a": mark }),
    /Signed “E M Larch 87”/,
  );
  const other = { ...mark, text: "A. Lumb" };
  assert.doesNotMatch(
    lot("work-on-paper", { ...facts, class_id: "work-on-paper", "marks/a": other }),
    /Signed/,
  );
  assert.match(
    lot("work-on-paper", { short_description: "bundle of photographs", pieces: 43 }),
    /Counted: 43 photographs\./,
  );
  const bundle = {
    short_description: "bundle of photographs",
    class_id: "work-on-paper",
    "marks/a": { ...mark, technique: "printed" },
  };
  assert.match(lot("work-on-paper", bundle), /in our opinion the photographer's own/);
  assert.match(lot("painting", { short_description: "shipping in a storm" }), /^Shipping in a storm\./);
});

test("what is told of a zone and of its neighbour is one sentence, and nothing is in an inside", () => {
  const said = [
    { words: "Nothing further noted on the movement under a lamp.", from: [], keys: ["clear/movement"] },
    {
      words: "No further fault noted on the bell or gong under a lamp.",
      from: [],
      keys: ["clear/bell-gong"],
    },
  ];
  assert.equal(
    answerInWords(said),
    "Nothing further noted on the movement, nor any further fault on the bell or gong, under a lamp.",
  );
  const felt = { ...said[1], words: "No further fault noted on the bell with a fingertip." };
  assert.equal(answerInWords([said[0], felt]), `${said[0].words} ${felt.words}`);
  assert.match(paragraph("ceramics", one("inside", "hairline")), /A hairline on the inside\./);
});

test("a dealer's label is no signature, and what names one medal is said as of three", () => {
  const label = {
    place: "stretcher bars",
    technique: "label",
    colour: "",
    completeness: "torn",
    text: "Lot 88",
    reading: "",
    standing: "borne",
  };
  const relined = { facts: { short_description: "landscape", "marks/a": label }, not_there: ["signature"] };
  assert.doesNotMatch(answer("painting", "Is the signature", relined), /label/);
  assert.match(answer("painting", "How large", relined), /It bears a label on the stretcher bars/);
  const naming = {
    ...label,
    place: "rim of the fourth",
    technique: "impressed",
    completeness: "complete",
    text: "PTE. A. LUMB",
  };
  const medals = { facts: { short_description: "group of four medals", pieces: 4, "marks/a": naming } };
  assert.match(
    answer("medal-coin", "Is the naming", medals),
    /Named on the rim of the fourth, impressed: “PTE\. A\. LUMB”/,
  );
});

test("a piece that is what its zone is called has the fault itself", () => {
  const lines = [
    ["teapot with cover", 1],
    ["cups", 6],
    ["saucers", 5],
  ].map(([words, count], at) => [`listed/${at}`, { words, count, withdrawn: false }]);
  const set = (more) => ({ ...named("part tea set", { pieces: 12, ...Object.fromEntries(lines) }), ...more });
  const on = (zone, term, more) => paragraph("ceramics", set(one(zone, term, more)));
  assert.match(
    on("stand", "chip", { piece_count: 2, piece_words: "saucers" }),
    /Two of the five saucers have a chip\./,
  );
  assert.match(
    on("rim", "chip", { piece_count: 2, piece_words: "saucers" }),
    /Two of the five saucers have a chip to the rim\./,
  );
  assert.match(
    on("cover", "replaced-part", { piece_count: 1, piece_words: "teapot with cover" }),
    /The cover of the teapot is replaced\./,
  );
  assert.match(answer("ceramics", "Do cover", set({})), /the saucers/);
  // Of two handles that one piece has, nobody said how many.
  assert.match(
    on("handles", "restuck", { piece_count: 1, piece_words: "teapot with cover" }),
    /One or more handles of the teapot with cover are stuck back\./,
  );
});

test("of several things it is their paint that is repainted, of one it is the thing", () => {
  const painted = (facts) => paragraph("tinplate-diecast", { facts, ...one("paint", "repainted") });
  assert.match(painted({ short_description: "tinplate car" }), /The car is repainted\./);
  assert.match(painted({ short_description: "rolling clown" }), /The clown is repainted\./);
  assert.match(painted({ short_description: "three lorries", pieces: 3 }), /The paint is repainted\./);
});
