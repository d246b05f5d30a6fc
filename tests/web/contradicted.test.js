/**
 * What stands on record beside what speaks against it, each case as it should read: a text says one of two that cannot
 * both be so, that which was seen. Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const trial = (result, note = "") => [result, "no-time", note];

test("a catch that did not hold is not without fault, nor a stone that rattled fast in its setting", () => {
  const catches = (result) =>
    paragraph("jewellery", {
      tests: { clasp: trial(result) },
      denials: [["clasp", "catch-fails", "by-hand"]],
    });
  for (const result of ["no-response", "works-in-part"]) assert.doesNotMatch(catches(result), /No fault/);
  assert.match(catches("works"), /The catch of the clasp held/);
  const rattled = {
    tests: { "claw-touch": trial("no-response") },
    denials: [["setting", "loose-part", "loupe"]],
  };
  assert.doesNotMatch(paragraph("jewellery", rattled), /No sign/);
  const dull = { tests: { ring: trial("works-in-part") }, denials: [["body", "crack", "lamp"]] };
  assert.doesNotMatch(paragraph("ceramics", dull), /No crack/);
});

test("of a part that is missing nobody tells that it works, fits or is original", () => {
  const gone = (zone, more) => ({ ...one(zone, "missing-part", { severity: 4 }), ...more });
  const fits = { tests: { "cover-fit": trial("works") }, origins: { cover: ["original-probably", ""] } };
  assert.match(
    paragraph("ceramics", gone("cover", fits)),
    /The cover is missing\.( [A-Z][^.]* not [^.]*\.| Not tapped\.)* Examined/,
  );
  const runs = { tests: { "is-it-going": trial("works"), "set-hands": trial("works") } };
  assert.doesNotMatch(paragraph("watch", gone("movement", runs)), /Going/);
  assert.match(paragraph("watch", gone("movement", runs)), /The hands moved when set forwards/);
  const lifts = { tests: { stopper: trial("works") }, origins: { stopper: ["associated", ""] } };
  assert.match(
    paragraph("glass", gone("stopper", lifts)),
    /The stopper is missing\. The mark was examined under a lamp and not copied\. Examined/,
  );
  assert.doesNotMatch(paragraph("ceramics", { not_there: ["cover"], ...fits }), /cover fits/);
  const denied = { denials: [["cover", "chip", "lamp"]] };
  assert.doesNotMatch(paragraph("ceramics", gone("cover", denied)), /No chip/);
});

test("a note that tells more of what is missing is kept", () => {
  const hair = {
    ...one("hair", "missing-part"),
    origins: { hair: ["original-probably", "lies in the box"] },
  };
  assert.match(paragraph("doll", hair), /The hair is apparently original \(lies in the box\)\./);
  const cover = {
    ...one("cover", "missing-part"),
    tests: { "cover-fit": trial("works", "one of tin fits") },
  };
  assert.match(paragraph("ceramics", cover), /The fit of the cover: one of tin fits\./);
});

test("what was weighed is not said to be unweighed, nor what was seen inside not looked at", () => {
  const weighed = {
    facts: { "measures/weight": { value: 518, unit: "g", typed: "" } },
    tests: { weigh: ["not-done", "no-tool", ""] },
  };
  assert.doesNotMatch(paragraph("silver-plate", weighed), /Not weighed/);
  const inside = {
    tests: { "inside-look": ["not-done", "no-tool", ""] },
    lights: { inside: "inside-lamp" },
  };
  assert.doesNotMatch(paragraph("stringed-instrument", inside), /Not looked at inside/);
  assert.match(
    paragraph("stringed-instrument", { ...inside, untouched: ["inside"] }),
    /Not looked at inside/,
  );
});

test("a voice that did not answer is not told a second time as tried", () => {
  const mute = { ...one("voice", "no-action"), tests: { "tilt-voice": trial("works") } };
  assert.match(paragraph("soft-toy", mute), /The voice did not respond when tried\. Examined/);
});

test("a clock that goes is said to go though its strike is silent, and what failed is told once", () => {
  const silent = { ...one("strike", "no-action"), tests: { "is-it-going": trial("works") } };
  assert.match(
    paragraph("clock", silent),
    /did not respond when tried\. It was going when examined, not timed\./,
  );
  const failing = { ...one("clasp", "catch-fails"), tests: { clasp: trial("no-response") } };
  assert.match(
    paragraph("jewellery", failing),
    /The catch of the clasp does not hold\. Loupe not used\..* Examined/,
  );
  const two = one("clasp", "catch-fails", { extent_count: 2, certainty: "possible" });
  assert.match(paragraph("jewellery", two), /Two catches of the clasp possibly do not hold\./i);
  const stopped = { ...one("movement", "stops"), tests: { "is-it-going": trial("works") } };
  assert.doesNotMatch(paragraph("clock", stopped), /Going when/);
});

test("a statement gives way to a finding, a mark or a zone that says otherwise", () => {
  const undetermined = { statements: { "belonging-not-determined": "not determined whether they belong" } };
  const clock = (more) => paragraph("clock", { ...undetermined, ...more });
  assert.match(clock({}), /Not determined whether they belong/);
  assert.doesNotMatch(clock(one("movement", "associated-part")), /Not determined/);
  assert.doesNotMatch(clock({ origins: { case: ["married", ""] } }), /Not determined/);
  const running = { statements: { "running-not-timed": "running when examined, not timed" } };
  assert.doesNotMatch(paragraph("watch", { ...one("movement", "stops"), ...running }), /Running/);
  const edge = { statements: { "edge-seen": "edge seen" }, not_examined: { edge: "sealed" } };
  assert.doesNotMatch(paragraph("medal-coin", edge), /Edge seen/);
  const label = (standing) =>
    paragraph("stringed-instrument", {
      statements: { "label-not-relied-on": "label not relied on" },
      facts: {
        "marks/0": {
          ...{
            place: "inside",
            technique: "label",
            colour: "",
            completeness: "complete",
            text: "X",
            reading: "",
          },
          ...{ withdrawn: false, standing },
        },
      },
    });
  assert.match(label(null), /Label not relied on/);
  assert.doesNotMatch(label("makers-own"), /not relied on/);
  assert.doesNotMatch(label("not-relied-on"), /not relied on/, "the description says it of the mark");
});

test("a back that was not examined was not seen, and what has no frame was not out of it", () => {
  const back = { statements: { "back-seen": "back seen" }, not_examined: { back: "no-time" } };
  assert.doesNotMatch(paragraph("textile-rug", back), /Back seen/);
  const bare = {
    statements: { "out-of-frame": "examined out of the frame" },
    not_there: ["frame", "glazing"],
  };
  assert.doesNotMatch(paragraph("work-on-paper", bare), /out of the frame/);
  const eyes = { ...one("eyes/proper-left", "missing-part"), tests: { "sleep-eyes": trial("works") } };
  assert.doesNotMatch(paragraph("doll", eyes), /opened and closed/);
});

test("film is named once, by whoever says that none was used", () => {
  const fired = {
    tests: { "shutter-fire": trial("works") },
    statements: { "not-tested-film": "not tested with film" },
  };
  assert.equal(paragraph("camera-scientific", fired).split("film").length, 2);
});

test("marks that cannot be read are not called legible", () => {
  const mark = (completeness) => ({
    denials: [["marks-body", "mark-illegible", "loupe"]],
    facts: {
      "marks/0": {
        ...{ place: "base", technique: "struck", colour: "", completeness, text: "", reading: "" },
        withdrawn: false,
      },
    },
  });
  assert.doesNotMatch(paragraph("silver-plate", mark("illegible")), /legible/);
  assert.match(paragraph("silver-plate", mark("complete")), /are legible/);
});

test("what was told alone names no light, takes none from its neighbour, and lowers no word", () => {
  const told = { zone: "rim", term: "filled", severity: 3, certainty: "told" };
  const alone = { findings: [told], lights: { rim: "ultraviolet" } };
  assert.match(
    answer("ceramics", "Is anything restored", alone),
    /According to the owner, and not seen at the examination: the rim is filled\./,
  );
  assert.match(paragraph("ceramics", alone), /^Excellent\./);
  const beside = {
    findings: [
      { zone: "rim", term: "retouched", severity: 2 },
      { ...told, term: "chip" },
    ],
    lights: { rim: "ultraviolet" },
  };
  assert.match(paragraph("ceramics", beside), /The rim is retouched, seen under ultraviolet\./);
});

test("where a fault was seen on what was else not examined, no more is said than that", () => {
  const chip = { ...one("rim", "chip"), not_examined: { rim: "no-time", body: "no-time" } };
  assert.match(
    paragraph("ceramics", chip),
    /Not examined: the body; time did not allow it\. Not examined further: the rim; time did not allow it\./,
  );
});

test("an odour is smelled by no lamp", () => {
  assert.match(
    paragraph("soft-toy", { denials: [["outline", "odour-musty", "lamp"]] }),
    /No musty odour smelled\. Examined/,
  );
  assert.match(
    paragraph("soft-toy", { denials: [["outline", "odour-musty", "smell"]] }),
    /No musty odour smelled at arm's length\./,
  );
});

test("what was doubted in several places is closed off by its comma", () => {
  const doubted = one("frontispiece", "yellowing", { certainty: "not-determined", extent_count: 7 });
  assert.match(
    paragraph("book-map", doubted),
    /Whether there is yellowing of the frontispiece, in seven places, was not determined\./,
  );
});

test("a hedge stands within the verb, and a note begins with its words", () => {
  assert.match(
    paragraph("tinplate-diecast", one("tyres", "rubber-perish", { certainty: "possible" })),
    /The tyres have possibly perished\./,
  );
  assert.match(
    paragraph("glass", one("rim", "chip", { note: ": an old one" })),
    /A chip to the rim \(an old one\)\./,
  );
});

test("a sheet that is cut at the bottom has its other margins still", () => {
  const sides = ["top", "bottom", "viewers-left", "viewers-right"];
  const cut = {
    ...one("sheet-edges/bottom", "trimmed", { extent_mm: 2 }),
    denials: sides.map((side) => [`margins/${side}`, "trimmed", "lamp"]),
  };
  const text = paragraph("work-on-paper", cut);
  assert.match(text, /No sign of trimming to the top, right or left margin seen/);
  assert.doesNotMatch(text, /No sign[^.]*bottom/);
});

test("what is denied of the whole is not denied of a part of it again, but in another light", () => {
  const denied = (light) => ({
    denials: [
      ["outline", "crack", "lamp"],
      ["body", "crack", light],
    ],
  });
  assert.equal(paragraph("ceramics", denied("lamp")).split("No crack").length, 2);
  assert.match(
    paragraph("ceramics", denied("behind")),
    /No crack seen under a lamp\. No crack seen in the body with/,
  );
});

test("what bears the name of its zone is not placed on it again", () => {
  assert.match(
    paragraph("camera-scientific", { denials: [["lens", "cement-separation", "torch"]] }),
    /No separation of the lens cement seen with a torch\./,
  );
});

test("a mend is of the family of what was mended, and a restored part shows how", () => {
  const beside = (class_id, zone, found, denied) =>
    paragraph(class_id, { ...one(zone, found), denials: [[zone, denied, "lamp"]] });
  const pairs = [
    ...[
      ["doll", "head", "restuck", "hairline"],
      ["doll", "head", "split", "hairline"],
    ],
    ...[
      ["work-on-paper", "support", "tape-repair", "tear"],
      ["ceramics", "body", "rivet-repair", "hairline"],
    ],
    ["silver-plate", "cover", "detached-part", "loose-part"],
  ];
  for (const pair of pairs) assert.doesNotMatch(beside(...pair), /No /, pair.join());
  const restored = (zone, denied) => ({
    origins: { [zone]: ["restored", ""] },
    denials: [[zone, denied, "lamp"]],
  });
  assert.doesNotMatch(paragraph("silver-plate", restored("plating", "re-plated")), /No sign/);
  assert.doesNotMatch(paragraph("soft-toy", restored("back", "re-sewn")), /No sign/);
});

test("one leaf that is a zone by itself is missing, in no place", () => {
  const gone = one("half-title", "leaf-missing", { extent_count: 1 });
  assert.match(paragraph("book-map", gone), /The half-title is missing\. /);
});

test("what decays or leaks is in its zone, and named once", () => {
  assert.match(paragraph("watch", one("luminous", "lume-decay")), /\. Decay of the luminous paint\. /);
  assert.match(paragraph("medal-coin", one("ribbon", "fibre-rot")), /The ribbon is perished\./);
  assert.match(paragraph("book-map", one("spine", "red-rot")), /Red rot on the spine\./);
  assert.match(
    paragraph("jewellery", { denials: [["size-change", "resized", "loupe"]] }),
    /No sign of resizing seen on the shank through a x10 loupe\./,
  );
});

test("whoever looked for a fault looked at the zone, though no state of it is on record", () => {
  const rim = { untouched: ["rim"], denials: [["rim", "chip", "fingertip"]] };
  assert.match(
    paragraph("ceramics", rim),
    /No chip felt on the rim with a fingertip\. Nothing else is recorded of the rim\. Examined with .* a fingertip\./,
  );
  assert.match(
    answer("ceramics", "Which chips", rim),
    /^No chip felt on the rim.* Nothing else is recorded of/,
  );
  assert.match(
    answer("ceramics", "Is anything restored", rim),
    /Nothing of the kind is recorded of the rim\.$/,
  );
  const lit = { untouched: ["body"], denials: [["body", "retouched", "ultraviolet"]] };
  assert.match(answer("ceramics", "Is anything restored", lit), /seen under ultraviolet/);
  const alone = { ...rim, untouched: book.plans.ceramics.zones.map(({ zone }) => zone) };
  assert.match(
    paragraph("ceramics", alone),
    /^No chip felt on the rim .*\. Nothing else is recorded of any part of it\. Examined with a fingertip\.$/,
  );
});

test("what was found on a zone is not denied of the one that it lies beside", () => {
  const beside = (class_id, zone, term, more, ...denied) =>
    paragraph(class_id, {
      ...one(zone, term, more),
      denials: denied.map((key) => [key, more.as ?? term, "lamp"]),
    });
  const stones = beside(
    "jewellery",
    "side-stones",
    "stone-missing",
    { extent_count: 1 },
    "setting",
    "main-stone",
  );
  assert.match(stones, /The main stone is in place, seen/);
  assert.doesNotMatch(stones, /setting/);
  const lined = beside("painting", "lining", "relined", {}, "support");
  assert.match(lined, /The lining is a later one\./);
  assert.doesNotMatch(lined, /No sign/);
  assert.doesNotMatch(beside("soft-toy", "filling", "re-stuffed", {}, "back"), /No sign/);
  assert.doesNotMatch(beside("medal-coin", "obverse", "over-cleaned", {}, "fields"), /No sign/);
  const front = beside("book-map", "frontispiece", "missing-part", { as: "leaf-missing" }, "text", "plates");
  assert.match(front, /The frontispiece is missing\. .*No leaf noticed missing from the text/);
});

test("what is said to be original was looked at, and of what it never had nobody says what it is", () => {
  const hands = { origins: { hands: ["original-probably", ""] }, not_examined: { hands: "sealed" } };
  assert.match(
    paragraph("clock", hands),
    /The hands are apparently original\. .*Not examined further: the hands; sealed shut\./,
  );
  const weights = { origins: { weights: ["original-probably", ""] }, not_there: ["weights"] };
  assert.doesNotMatch(paragraph("clock", weights) + answer("clock", "Is all of it", weights), /original/);
  const noted = { ...weights, origins: { weights: ["replaced", "by a spring"] } };
  assert.match(paragraph("clock", noted), /The weights are replaced by a spring\./);
});

test("a light that was not used, and by which something was looked for, is told with both", () => {
  const both = {
    tests: { ultraviolet: ["not-done", "no-time", ""] },
    denials: [["rim", "retouched", "ultraviolet"]],
  };
  const text = paragraph("ceramics", both);
  assert.match(
    text,
    /time did not allow it\. It is recorded as well that this was done; which of the two is right is not settled\./,
  );
  assert.doesNotMatch(text, /No .*under ultraviolet/);
  const used = paragraph("ceramics", { ...both, tests: { ultraviolet: ["works", "", ""] } });
  assert.doesNotMatch(used, /recorded as well/);
});

test("where marks were looked for and none was found, nobody tells of marks that were not copied", () => {
  const clear = (zone) => ({ zones: { [zone]: ["clear", "lamp"] } });
  for (const [kind, zone] of [
    ["glass", "mark"],
    ["ceramics", "mark"],
    ["painting", "signature"],
  ]) {
    const looked = { ...clear(zone), facts: { marks_looked: "under the foot" } };
    const told = (short) =>
      [
        paragraph(kind, short),
        ...book.plans[kind].questions.map((row) => answer(kind, row.question, short)),
      ].join(" ");
    assert.match(told(clear(zone)), /not copied/);
    assert.doesNotMatch(told(looked), /not copied/);
    assert.match(told({ ...looked, ...one(zone, "worn") }), /not copied/);
  }
});
