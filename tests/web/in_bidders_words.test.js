/** What one who bids by the text alone would misread, or miss: a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { deskTexts, versionOf } from "../../web/job/desk_words.ts";
import { lotHeading } from "../../web/job/lot.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { clear, recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const named = (short_description, pieces) => ({ facts: { short_description, pieces } });

test("nobody is told of a hand that is not on record, nor of a lamp on a filling", () => {
  const opened = (lights) => answer("soft-toy", "Was it ever opened", { lights });
  const nothing = "No fault noted on the nose, the mouth or the back under a lamp";
  assert.ok(
    opened({ cover: "torch" }).endsWith(`${nothing}, or on the filling.`),
    opened({ cover: "torch" }),
  );
  const byHand = opened({ filling: "by-hand" });
  assert.match(byHand, /No fault noted on the filling when tried once by hand\./);
});

test("that a zone of marks does not apply is no word of whether it has any", () => {
  const marks = (class_id, not_there, of = named("vase", 1)) =>
    answer(class_id, "Is the mark as shown", { ...of, not_there });
  assert.match(marks("ceramics", ["mark"]), /Whether it is marked was not noted\./);
  assert.match(marks("ceramics", ["mark"], named("pair of vases", 2)), /Whether they are marked was not/);
  assert.doesNotMatch(marks("ceramics", ["mark"]), /copied/);
  assert.match(marks("ceramics", []), /examined under a lamp and not copied/);
});

test("of paper nobody looked through, or at under ultraviolet, it is said so", () => {
  const poster = { facts: { short_description: "folded poster" }, lights: { support: "torch" } };
  const tears = answer("work-on-paper", "Are there tears", poster);
  assert.match(tears, /Not looked at against the light\./);
  assert.match(tears, /Ultraviolet not used\./);
  assert.doesNotMatch(tears, /Not looked at in low side light/);
  const print = paragraph("work-on-paper", poster);
  assert.match(print, /Not looked at against the light\./);
  assert.match(print, /Ultraviolet not used\./);
  const neither = answer("work-on-paper", "Are there tears", { facts: { short_description: "etching" } });
  assert.match(neither, /Not looked at against the light or in low side light\./);
});

test("a frontispiece is looked for with the plates, and the neck of a violin for cracks", () => {
  const complete = answer("book-map", "Is it complete", named("gift book", 1));
  assert.match(complete, /No fault noted on .*the frontispiece/);
  const cracks = answer("stringed-instrument", "Has it cracks", named("violin", 1));
  for (const zone of ["neck", "peg-box", "scroll"]) assert.ok(cracks.includes(`the ${zone}`), cracks);
  const original = { ...named("violin", 1), origins: { neck: ["original-probably", ""] } };
  assert.doesNotMatch(answer("stringed-instrument", "Has it cracks", original), /original/);
  const bow = { ...named("violin bow", 1), not_there: ["neck", "table", "back", "scroll"] };
  assert.doesNotMatch(answer("stringed-instrument", "Has it cracks", bow), /no neck/);
});

test("what was made good on a leaf is not said to be new", () => {
  const filled = paragraph("book-map", one("title-leaf", "filled", { extent_mm: 20 }));
  assert.match(filled, /The title leaf is made good over 20 mm\./);
});

test("a part that is new is no change of the rest, and its note is no part of its name", () => {
  const clock = (note, original = "") =>
    paragraph("clock", {
      ...one("movement", "replaced-part", { note }),
      origins: { movement: ["original-probably", original] },
    });
  assert.match(clock("the mainspring"), /The mainspring of the movement is replaced\./);
  assert.match(clock("the mainspring"), /The movement is otherwise apparently original\./);
  for (const note of ["new mainspring", "a modern mainspring"])
    assert.ok(clock(note).includes(`The mainspring of the movement is replaced (${note}).`), clock(note));
  assert.match(clock("the mainspring, new"), /The mainspring of the movement is replaced \(new\)\./);
  assert.match(
    clock("mainspring", "but for the mainspring"),
    /The movement is apparently original, but for the mainspring\./,
  );
  for (const note of ["the mainspring", "new mainspring", "the mainspring, new"])
    assert.doesNotMatch(clock(note), /not settled/);
  assert.match(clock("new"), /The movement is replaced \(new\)\..*not settled/);
  assert.match(clock("1950s, by another hand"), /The movement is replaced \(1950s, by another hand\)\./);
});

test("a part that is not of one of several is that part of them, and no riddle", () => {
  const chest = (zone, note, more) => paragraph("furniture", one(zone, "replaced-part", { note, ...more }));
  assert.match(chest("drawers", "bottom board"), /The bottom board of one or more drawers is replaced\./);
  assert.match(chest("drawers", "bottom board", { extent_count: 1 }), /The bottom board of one drawer is/);
  assert.match(chest("seat", "webbing"), /The webbing of the seat is replaced\./);
  assert.match(
    chest("handles", "new brass handles"),
    /One or more handles are replaced \(new brass handles\)\./,
  );
  const frame = paragraph("painting", one("hanging", "missing-part", { note: "backboard" }));
  assert.match(frame, /A part missing from the hanging fittings \(backboard\)\./);
  assert.match(
    answer("painting", "How large is it unframed", one("hanging", "missing-part", { note: "backboard" })),
    /backboard/,
  );
});

test("leaves that nobody counted are no single leaf, and what was counted of the plates says how many", () => {
  const lacking = (zone, note, facts = {}, more = {}) =>
    paragraph("book-map", {
      facts: { short_description: "book of birds", ...facts },
      ...one(zone, "leaf-missing", { note, ...more }),
    });
  const count = (value) => ({ value, unit: "n", typed: String(value), basis: null });
  assert.match(lacking("plates", ""), /One or more plates missing\./);
  assert.match(
    lacking("plates", "plates 4, 7, 11 and 29"),
    /One or more plates missing \(plates 4, 7, 11 and 29\)/,
  );
  assert.match(lacking("text", "end of Revelation"), /One or more leaves missing from the text \(end of Rev/);
  const called = { "measures/plates-called-for": count(30), "measures/plates-present": count(26) };
  assert.match(lacking("plates", "4, 7, 11 and 29", called), /Four plates missing \(4, 7, 11 and 29\)/);
  assert.match(lacking("plates", "plate 4"), /A plate missing \(plate 4\)\./);
  assert.match(
    lacking("plates", "the map of the north", { short_description: "county survey" }),
    /A map missing \(the map of the north\)\./,
  );
  assert.match(lacking("plates", "", {}, { extent_count: 1 }), /One plate missing\./);
  assert.match(lacking("title-leaf", ""), /The title leaf is missing\./);
});

test("what is from another thing is from one", () => {
  const watch = (short) => paragraph("watch", { ...named("pocket watch", 1), ...short });
  const movement = one("movement", "associated-part", { note: "from a wristwatch" });
  assert.match(watch(movement), /The movement is associated, from a wristwatch\./);
  assert.match(
    watch({ origins: { packaging: ["associated", "from another maker"] } }),
    /, from another maker\./,
  );
});

test("of a set the pieces that are later are no part of them", () => {
  const chairs = (more) =>
    paragraph("furniture", { ...named("set of six chairs", 6), ...one("outline", "associated-part", more) });
  assert.match(
    chairs({ piece_count: 2, note: "later copies" }),
    /Two of the six are not of the set \(later copies\)\./,
  );
  assert.match(
    chairs({ piece: "4", note: "a later copy" }),
    /The fourth of the six is not of the set \(a later/,
  );
  for (const note of ["later, made to match", "made to match"])
    assert.doesNotMatch(chairs({ piece_count: 2, note }), /from another/);
  assert.match(chairs({ piece_count: 2 }), /Two of the six are associated, from another set\./);
});

test("which of a pair rang clear is not known where nobody noted which has the hairline", () => {
  const pair = (...findings) =>
    paragraph("ceramics", {
      ...named("pair of vases", 2),
      findings,
      tests: { ring: ["works", null, null] },
    });
  const chip = { zone: "rim", term: "chip", severity: 2, piece: "left" };
  const hairline = { zone: "body", term: "hairline", severity: 2, piece_count: 1 };
  assert.match(pair(chip, hairline), /One of the two rang clear when tapped once\./);
  assert.match(pair({ ...hairline, piece_count: null, piece: "left" }), /The other one rang clear/);
});

test("a neck that broke is told to who asks whether scroll, neck and body are one", () => {
  const neck = one("neck", "break", { severity: 3, note: "glued" });
  const asked = answer("stringed-instrument", "Are scroll, neck", { ...named("violin", 1), ...neck });
  assert.match(asked, /The neck is broken \(glued\)\./);
  assert.doesNotMatch(asked, /later work noted on [^.]*the neck[ ,.](?!joint)/);
});

test("handles of which nobody counted how many are missing are not all gone", () => {
  const chest = (more, counts = {}) =>
    answer("furniture", "Are handles, feet and top", {
      ...named("oak chest of drawers", 1),
      counts,
      ...one("handles", "missing-part", more),
    });
  const open = /Whether .*handles.* original was not noted\./;
  assert.match(chest({}), /One or more handles are missing\./);
  assert.match(chest({}), open);
  assert.match(chest({}, { handles: 8 }), open);
  assert.doesNotMatch(chest({ note: "all" }), open);
  assert.doesNotMatch(chest({ extent_count: 8 }, { handles: 8 }), open);
});

test("that nobody measured a thing is said where its sizes would stand", () => {
  const size = { "measures/height": { value: 120, unit: "mm", typed: "120", basis: null } };
  const seen = { "zones/body": clear() };
  assert.equal(lot("ceramics", seen), "A thing. Not measured.");
  assert.doesNotMatch(lot("ceramics", { ...seen, ...size }), /Not measured/);
  assert.doesNotMatch(lot("ceramics", {}), /Not measured/);
  assert.doesNotMatch(
    lot("ceramics", { ...seen, seen_words: "12 cm high, with a domed cover" }),
    /Not measured/,
  );
  const pages = { "measures/plates-present": { value: 4, unit: "n", typed: "4", basis: null } };
  const text = { "zones/text": clear() };
  assert.match(lot("book-map", { ...text, ...pages }), /Not measured\.$/);
});

test("a loss, a stain and a patch have a size as a chip has", () => {
  const worn = (...findings) => paragraph("textile-rug", { findings });
  const loss = { zone: "ends/top", term: "loss", severity: 2 };
  const stain = { zone: "field", term: "stain", severity: 2 };
  assert.match(worn(loss, stain), /The stain and the loss were not measured\./);
  assert.match(worn({ zone: "back", term: "patched", severity: 2, extent_count: 2 }), /The patches were not/);
  for (const more of [{ severity: 1 }, { extent_percent: 10 }, { extent_mm: 8 }, { extent_words: "half" }])
    assert.doesNotMatch(worn({ ...loss, ...more }), /not measured/, JSON.stringify(more));
  // Of what a zone is as a whole there is no size.
  assert.doesNotMatch(worn({ zone: "face", term: "patched", severity: 2 }), /not measured/);
});

test("what the desk wrote in place of that gives way once there is a size", () => {
  const plan = book.plans.ceramics;
  const values = { short_description: "vase", "zones/body": clear() };
  const textOf = (of) => deskTexts(plan, book, recordOf(of)).find(({ name }) => name === "description");
  const line = textOf(values).lines.find(({ words }) => words === "Not measured.");
  const version = versionOf("description", line, "rewritten", "No size was taken.");
  const rewritten = { ...values, [`sentences/description/${line.sentence}`]: version };
  assert.match(textOf(rewritten).words, /No size was taken\./);
  const size = { value: 120, unit: "mm", typed: "120", basis: null };
  assert.doesNotMatch(textOf({ ...rewritten, "measures/height": size }).words, /No size was taken/);
});

test("a frame that was glued is no retouching of a picture, and a panel has no lining to look for", () => {
  const picture = (zone, term, begins) =>
    answer("painting", begins, { ...named("oil on panel", 1), not_there: ["lining"], ...one(zone, term) });
  assert.doesNotMatch(picture("frame", "restuck", "Is there retouching"), /glued/);
  assert.match(picture("frame", "restuck", "How large is it"), /A glued repair to the frame\./);
  assert.match(picture("support", "tear", "Is it lined"), /A tear in the support/);
  assert.doesNotMatch(picture("support", "tear", "Is it lined"), /Whether it is lined/);
});

test("which edition it is stands before the look at its paper", () => {
  const edition = answer("book-map", "Which edition", {
    facts: {
      short_description: "county survey",
      maker: "Barnabas Quire",
      maker_certainty: "by",
      dates: { words: "1787", earliest: 1787, latest: 1787, edtf: "1787" },
      dates_certainty: "certain",
    },
    tests: { "light-behind": ["works", null, "a crowned shield"] },
  });
  assert.match(edition, /^1787, .*Looked at against the light/);
});

test("what a thing is called with and lacks is said beside its name", () => {
  const heading = (class_id, short_description, more) =>
    lotHeading(
      book,
      recordOf(written(book.plans[class_id], { facts: { short_description }, ...one(...more) })),
    ).words;
  const lost = (zone, more) => [zone, "missing-part", more];
  const teapot = "porcelain teapot and cover";
  assert.equal(heading("ceramics", teapot, lost("cover")), "A porcelain teapot and cover, lacking the cover");
  assert.equal(
    heading("watch", "wristwatch with box", lost("packaging")),
    "A wristwatch with box, lacking the box",
  );
  // A part of it alone, what may be there, and what the name does not speak of, is no matter of a heading.
  for (const [called, more] of [
    [teapot, lost("cover", { note: "the finial" })],
    [teapot, lost("cover", { certainty: "possible" })],
    [teapot, lost("spout")],
    ["teapot without cover", lost("cover")],
  ])
    assert.doesNotMatch(heading("ceramics", called, more), /lacking/);
});

test("where nothing could be examined its reason stands alone, and no list of parts", () => {
  const { zones } = book.plans.ceramics;
  const reasons = (some) => Object.fromEntries(some.map(({ zone }) => [zone, "too-dark"]));
  const dark = paragraph("ceramics", { ...named("tureen and cover", 1), not_examined: reasons(zones) });
  assert.match(dark, /Not examined: the light was not good enough\./);
  const most = paragraph("ceramics", { ...named("tureen", 1), not_examined: reasons(zones.slice(1)) });
  assert.match(most, /Not examined: the body, /);
});

test("what is sound on the one of a pair that nobody told apart is on one of the two", () => {
  const pair = (...findings) => answer("ceramics", "Which chips", { ...named("pair of vases", 2), findings });
  const chip = { zone: "rim", term: "chip", severity: 2, piece: "left" };
  const hairline = { zone: "body", term: "hairline", severity: 2, piece_count: 1 };
  assert.match(pair(chip, hairline), /the body of one of the two/);
  assert.match(pair(hairline), /the body of the other/);
});

test("where some of several are replaced it is open what the others are", () => {
  const chest = (findings, counts = {}) =>
    answer("furniture", "Are handles, feet and top", { ...named("chest of drawers", 1), counts, findings });
  const replaced = (zone, more = {}) => ({ zone, term: "replaced-part", severity: 2, ...more });
  assert.match(
    chest([replaced("handles")]),
    /Whether the top and the feet, and any other handles, are original was not noted\./,
  );
  assert.match(
    chest([replaced("handles", { extent_count: 2 })], { handles: 8 }),
    /the other handles, are orig/,
  );
  for (const [all, counts] of [[{ note: "all" }], [{ extent_count: 8 }, { handles: 8 }]])
    assert.doesNotMatch(chest([replaced("handles", all)], counts), /other handles/);
});

test("as many tyres as were counted are missing of the wheels", () => {
  const lost = (extent_count) =>
    paragraph("tinplate-diecast", one("wheels", "missing-part", { note: "tyre", extent_count }));
  assert.match(lost(2), /Two tyres are missing\./);
  assert.match(lost(1), /One tyre is missing\./);
});

test("a note that speaks of several seats does not make them one", () => {
  const chairs = (note) =>
    paragraph("furniture", { ...named("set of four chairs", 4), ...one("seat", "replaced-part", { note }) });
  for (const note of ["drop-in seats", "two seats", "the front seats"])
    assert.ok(chairs(note).includes(`One or more seats are replaced (${note}).`), chairs(note));
  assert.match(chairs("webbing"), /The webbing of the seat is replaced\./);
});

test("a word of the trade is explained once, behind it", () => {
  const book_worn = paragraph("work-on-paper", {
    findings: [
      { zone: "margins/top", term: "mount-burn", severity: 2, activity: "w" },
      { zone: "surface", term: "mount-burn", severity: 2, activity: "w" },
    ],
  });
  assert.match(book_worn, /Mount burn \(a brown band from an acid mount\) to the top margin\./);
  assert.match(book_worn, /Mount burn to the surface\./);
  const glass = one("metal", "crizzling", { severity: 3, activity: "P" });
  assert.match(
    paragraph("glass", glass),
    /Crizzling \(unstable glass, with a fine net or haze in its surface\) of the glass\./,
  );
  assert.match(paragraph("glass", glass), /The crizzling may get worse\./);
  assert.match(
    paragraph("medal-coin", one("obverse", "contact-marks", { extent_count: 2 })),
    /Two contact marks \(small knocks from other metal\) on the obverse\./,
  );
});

test("weak cloth is perished, and nobody is promised that treatment helps", () => {
  const weak = one("stringing", "fibre-rot", { severity: 3, activity: "P" });
  const beads = paragraph("jewellery", weak);
  assert.match(beads, /The stringing is perished\./);
  assert.match(beads, /The perished stringing may get worse\./);
});

test("what was opened at the back was re-stuffed through it, and a patch is a thing on it", () => {
  assert.match(paragraph("soft-toy", one("back", "re-stuffed")), /Re-stuffing through the back\./);
  assert.match(paragraph("soft-toy", one("filling", "re-stuffed")), /The filling is renewed or added to\./);
  assert.match(paragraph("textile-rug", one("back", "patched")), /A patch on the back\./);
  assert.match(paragraph("stringed-instrument", one("inside", "patched")), /A patch on the inside\./);
  assert.match(
    paragraph("soft-toy", one("foot-pads/proper-left", "patched")),
    /The proper left foot pad is patched/,
  );
});

test("what was tried is no part of what nobody looked at", () => {
  const values = {
    short_description: "mantel clock",
    "tests/is-it-going": { result: "works", why: null, note: "" },
  };
  const told = asText(conditionParagraph(book.plans.clock, book, recordOf(values)));
  assert.match(
    told,
    /Not examined: nothing is recorded of any part of it beyond the description and what was/,
  );
});

test("what a note tells of a part is never said of the whole", () => {
  const told = (class_id, zone, note, more = {}) =>
    paragraph(class_id, one(zone, "replaced-part", { note, ...more }));
  for (const note of [
    "mainspring, replaced in 2021, with bill",
    "new mainspring fitted",
    "mainspring only",
    "only the mainspring",
    "the mainspring is new",
    "mainspring in 2021",
    "mainspring by our watchmaker",
    "new balance staff and mainspring",
    "the mainspring of the movement, 2021",
    "an escape wheel",
  ])
    assert.ok(
      told("watch", "movement", note).includes(`A part of the movement is replaced (${note}).`),
      note,
    );
  assert.match(
    told("watch", "movement", "mainspring (new)"),
    /A part of the movement is replaced: mainspring \(new\)/,
  );
  assert.match(told("watch", "movement", "mainspring and one jewel"), /of the movement are replaced\./);
  for (const [class_id, zone, note, part] of [
    ["jewellery", "main-stone", "only the foil", "the main stone"],
    ["painting", "frame", "one corner ornament, in plaster", "the frame"],
    ["furniture", "upholstery", "webbing only", "the upholstery"],
    ["furniture", "locks", "key only", "one or more locks"],
    ["soft-toy", "filling", "head only", "the filling"],
  ])
    assert.ok(told(class_id, zone, note).includes(`A part of ${part} is replaced (${note}).`), note);
  assert.match(
    told("furniture", "doors", "glass panel", { extent_count: 2 }),
    /A part of two doors is replaced \(glass panel\)\./,
  );
});

test("a note that tells how, by what or of the rest leaves the whole replaced", () => {
  const told = (class_id, zone, note) => paragraph(class_id, one(zone, "replaced-part", { note }));
  for (const note of ["only recently", "all but the mainspring", "a quartz movement", "new, by another hand"])
    assert.match(told("watch", "movement", note), /The movement is replaced\b/, note);
  assert.match(
    told("soft-toy", "eyes", "a boot button"),
    /One or (?:both|more) eyes are replaced|eyes? is replaced/,
  );
  assert.match(told("doll", "stringing", "new elastic fitted"), /The stringing is replaced/);
  assert.match(told("furniture", "handles", "front left only"), /One or more handles are replaced/);
});

test("an origin whose note tells of a part is one of a part, and the rest is what it was", () => {
  const origin = (note) => paragraph("watch", { origins: { movement: ["replaced", note] } });
  assert.match(origin("mainspring only"), /A part of the movement is replaced \(mainspring only\)\./);
  assert.match(origin("1950s"), /The movement is replaced \(1950s\)\./);
  const both = paragraph("watch", {
    ...one("movement", "replaced-part", { note: "mainspring, 2021" }),
    origins: { movement: ["original-probably", ""] },
  });
  assert.match(both, /The movement is otherwise apparently original\./);
});

test("an origin of some pieces by its note is one of those, and of no item as a whole", () => {
  const set = named("set of six chairs", 6);
  const six = (origins) => paragraph("furniture", { ...set, origins });
  const of = (origin, note) => six({ outline: [origin, note], seat: ["replaced", ""] });
  assert.match(of("later-added", "two of the six"), /Two of the six are later\./);
  assert.match(of("later-added", "one"), /One of the six is later\./);
  assert.match(of("replaced", "chairs 5 and 6"), /Two of the six are replaced \(chairs 5 and 6\)\./);
  assert.match(
    of("associated", "two, made to match"),
    /Two of the six are not of the set \(made to match\)\./,
  );
  assert.match(of("later-added", "the carvers"), /Some of the six are later \(the carvers\)\./);
  assert.match(of("original-probably", "four of the six"), /Four of the six are apparently original\./);
  assert.match(of("later-added", "1920s"), /The item as a whole is later \(1920s\)\./);
  assert.doesNotMatch(of("later-added", "two of the six"), /Excellent|as a whole/);
  assert.match(six({ seat: ["replaced", ""] }), /One or more seats are replaced\./);
  assert.match(six({ seat: ["replaced", "all six"] }), /The seats? (?:is|are) replaced \(all six\)\./);
  assert.match(six({ seat: ["replaced", "two of the six"] }), /The seats of two of the six are replaced\./);
  const pair = { ...named("pair of vases", 2), origins: { outline: ["replaced", "left one"] } };
  assert.match(paragraph("ceramics", pair), /The left one is replaced\./);
});

test("what is called pearl-like or imitation is called beads, and pearls alone are pearls", () => {
  const string = (called) =>
    paragraph("jewellery", {
      ...named(called, 1),
      ...one("pearls-or-beads", "missing-part", { severity: 3, extent_count: 2 }),
    });
  for (const called of [
    "string of pearl-like beads",
    "string of simulated pearls",
    "string of glass pearls",
    "row of imitation pearls",
    "necklace of pearl beads",
  ]) {
    assert.match(string(called), /Two beads are missing\./, called);
    assert.doesNotMatch(string(called), /pearl/, called);
  }
  assert.match(string("three-row pearl necklace"), /Two pearls are missing\./);
});

test("a brooch with a locket or a loop is asked about as a brooch, and so is a cameo", () => {
  const converted = one("outline", "converted", { severity: 3, note: "from the centre of a necklace" });
  for (const called of ["garnet brooch with locket back", "brooch and pendant", "shell cameo"])
    assert.match(
      answer("jewellery", "How large is it, and was it converted", { ...named(called, 1), ...converted }),
      /Converted from the centre of a necklace|converted, from the centre|from the centre of a necklace/,
      called,
    );
});

test("pearls that are missing are told to who asks of a necklace by another name", () => {
  const lost = one("pearls-or-beads", "missing-part", { severity: 3, extent_count: 2 });
  const necklace = named("three-strand necklace of imitation pearls", 1);
  assert.match(
    answer("jewellery", "How large are the pearls", { ...necklace, ...lost }),
    /Two beads are missing\./,
  );
});
