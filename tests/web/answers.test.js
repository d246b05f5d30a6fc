/** What the answers to bidders hold, and what they leave open: single records, each of which once said too much. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one } from "./as_text.js";

const caution = (hazard, zone = null) => ({
  hazard,
  level: "amber",
  sign: "a sign",
  zone,
  called: "",
  place: "",
});
const tried = (name, result, note = "") => ({ tests: { [name]: [result, null, note] } });

test("nothing is to be reported of no part that failed a trial", () => {
  const clasp = answer("jewellery", "Does the catch", tried("clasp", "no-response"));
  assert.match(clasp, /^The catch did not work when tried once\./);
  assert.doesNotMatch(clasp, /to report[^.]*\bclasp\b/);
  const dull = answer("ceramics", "Which", tried("ring", "works-in-part"));
  assert.match(dull, /^Rang dully when tapped once\. Examined under a lamp: its general form, the body, /);
  assert.doesNotMatch(dull, /to report/);
  const ghost = answer("silver-plate", "Were arms", tried("breath", "works-in-part"));
  assert.doesNotMatch(ghost, /to report[^.]*\bengraving\b/);
  // A trial that is no answer to what is asked leaves nothing to report in that respect alone.
  assert.match(
    answer("furniture", "Is there worm", tried("rock", "no-response")),
    /^Examined under a lamp, with nothing to report in this respect: [^.]*\blegs\b/,
  );
});

test("nothing is to be reported of no part on which a caution stands, or where cautions are asked for", () => {
  const tubes = answer("camera-scientific", "Is there mercury", { facts: { "cautions/1": caution("H13") } });
  assert.match(
    tubes,
    /^Held under one caution \(a sign\): not offered until cleared\. Examined under a lamp: the scales, /,
  );
  assert.doesNotMatch(tubes, /to report/);
  const hands = answer("clock", "Are hands", { facts: { "cautions/1": caution("H10", "hands") } });
  assert.match(hands, /Held under one caution \(the hands: a sign\)/);
  assert.doesNotMatch(hands, /to report[^.]*\bhands\b/);
  const moth = answer("textile-rug", "Has it moth", { facts: { "cautions/1": caution("H26") } });
  assert.match(moth, /Held under one caution/);
  assert.doesNotMatch(moth, /to report/);
  for (const zone of [null, "upholstery"])
    assert.match(
      answer("furniture", "Does it open", { facts: { "cautions/1": caution("H27", zone) } }),
      /Held under one caution/,
    );
});

test("no trial is missed of what another trial or a finding tells", () => {
  const of = (class_id, begins, short) => answer(class_id, begins, short);
  assert.doesNotMatch(of("watch", "Is it running", tried("wind-few", "works")), /not tested|not wound/i);
  assert.match(
    of("clock", "Does it run", tried("wind-part", "works-in-part")),
    /Strike and pendulum not tested\./,
  );
  assert.match(of("clock", "Does it run", tried("is-it-going", "no-response")), /Not wound\./);
  assert.match(
    of("clock", "Does it run", tried("wind-part", "not-done")),
    /Running, strike and pendulum not tested\./,
  );
  assert.doesNotMatch(of("tinplate-diecast", "Does the motor", one("clockwork", "no-action")), /not tested/);
});

test("a book of which fewer plates are there than were called for is not said to be complete", () => {
  const counted = (present) => ({
    denials: [
      ["plates", "leaf-missing", "lamp"],
      ["text", "leaf-missing", "lamp"],
    ],
    facts: {
      "measures/plates-called-for": { value: 24, unit: "n", typed: "" },
      "measures/plates-present": { value: present, unit: "n", typed: "" },
    },
  });
  const short = answer("book-map", "Is it complete", counted(23));
  assert.match(short, /The text is complete, .*24 plates and maps called for\. 23 plates and maps present\./);
  assert.doesNotMatch(short, /plates are complete|to report[^.]*\bplates\b/);
  assert.match(answer("book-map", "Is it complete", counted(24)), /The text and the plates are complete/);
});

test("one part that was judged does not silence what is not determined of the others", () => {
  assert.match(
    answer("soft-toy", "Are pads", { denials: [["paw-pads/proper-right", "replaced-part", "lamp"]] }),
    /Whether both eyes, the proper left paw pad and both foot pads are the original ones is not determined\./,
  );
  const hands = { hands: ["original-probably", ""] };
  assert.match(
    answer("watch", "Are hands", { origins: hands, not_there: ["crown"] }),
    /Whether the movement is right for this case is not determined\./,
  );
});

test("an answer holds what was found of the kind that is asked for, wherever it is", () => {
  const holds = (class_id, begins, short, words) => assert.match(answer(class_id, begins, short), words);
  holds("stringed-instrument", "Has it cracks", one("back", "frass"), /^Fresh frass on the back\./);
  holds(
    "stringed-instrument",
    "Has it cracks",
    one("inside", "live-insects"),
    /^Live insects on the inside\./,
  );
  holds(
    "painting",
    "How large",
    one("frame-ornament", "replaced-part"),
    /^The ornament of the frame is replaced\./,
  );
  holds("clock", "What is repaired", one("finials", "missing-part"), /^The finials are missing\./);
  holds("furniture", "Does it open", one("stretchers", "loose-part"), /^The stretchers are loose\./);
  holds("furniture", "Does it open", one("feet", "restuck"), /stuck/);
  holds("tinplate-diecast", "Does the motor", one("action", "no-action"), /^The action did not respond/);
  holds("work-on-paper", "Are there tears", one("image", "crease"), /^A crease in the image\./);
  holds(
    "camera-scientific",
    "Is there mercury",
    one("meter", "battery-leak"),
    /^Battery leakage in the meter\./,
  );
});

test("what an answer would have to be told, and was not, it says is not determined", () => {
  const frame = answer("work-on-paper", "Are the margins", {});
  assert.match(frame, /Whether it was seen out of its frame is not determined\./);
  const unframed = { statements: { "out-of-frame": "examined out of the frame" } };
  assert.doesNotMatch(answer("work-on-paper", "Are the margins", unframed), /not determined/);
  assert.doesNotMatch(answer("work-on-paper", "Are the margins", { not_there: ["frame"] }), /not determined/);

  assert.match(answer("soft-toy", "Has it moth", {}), /Whether it has a smell is not determined\./);
  const smelled = { denials: [["outline", "odour-musty", "smell"]] };
  assert.doesNotMatch(answer("soft-toy", "Has it moth", smelled), /not determined/);
  assert.doesNotMatch(answer("soft-toy", "Has it moth", one("cover", "odour-smoke")), /not determined/);

  const electric = { not_there: ["clockwork", "key"] };
  assert.match(
    answer("tinplate-diecast", "Does the motor", electric),
    /Whether the electric motor runs is not /,
  );
  assert.doesNotMatch(
    answer("tinplate-diecast", "Does the motor", { ...electric, ...one("motor-electric", "no-action") }),
    /not determined/,
  );
});

test("an answer says that there are none of the pads that it is asked for", () => {
  const bare = { not_there: ["paw-pads", "foot-pads"] };
  assert.match(answer("soft-toy", "Are pads", bare), /It has no paw pads or foot pads\./);
});

test("the weight of what is loaded, and of a part, is told as it was taken", () => {
  assert.match(answer("silver-plate", "What does it weigh", {}), /Part of it is loaded or filled\./);
  assert.doesNotMatch(answer("silver-plate", "What does it weigh", { not_there: ["loading"] }), /loaded/);
  const forks = {
    ...tried("weigh", "works", "the six without the odd one"),
    facts: { "measures/weight": { value: 518, unit: "g", typed: "", basis: "weighable" } },
  };
  assert.match(
    answer("silver-plate", "What does it weigh", forks),
    /Weighed: the six without the odd one\. /,
  );
});

test("papers of which some are missing are not said to be there, and the imprint tells the edition", () => {
  const papers = answer("medal-coin", "Is the group", one("documents", "missing-part", { extent_count: 2 }));
  assert.match(papers, /^Two documents are missing\./);
  assert.doesNotMatch(papers, /papers with it|Not on record/);
  const imprint = {
    colour: "",
    reading: "",
    withdrawn: false,
    place: "title leaf",
    technique: "printed",
    completeness: "complete",
    text: "For Quire, 1787",
  };
  assert.match(answer("book-map", "Which edition", { facts: { "marks/0": imprint } }), /“For Quire, 1787”/);
});
