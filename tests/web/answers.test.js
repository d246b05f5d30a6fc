/** What the answers to bidders hold, and what they leave open: single records, each of which once said too much. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { fiveAnswers } from "../../web/job/answers.ts";
import { conditionParagraph } from "../../web/job/paragraph.ts";
import { asText } from "../../web/job/sentences.ts";
import { finding, recordOf, written } from "./any_words.js";
import { answer, lot, one, paragraph } from "./as_text.js";
import { set } from "./made.js";
import { book } from "./plan_book.js";

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
  assert.doesNotMatch(clasp, /fault noted[^.]*\bclasp\b/);
  const dull = answer("ceramics", "Which", tried("ring", "works-in-part"));
  assert.match(
    dull,
    /^It rang dully when tapped once\. Nothing further noted on the body, [^.]* the underside\./,
  );
  assert.doesNotMatch(dull, /fault noted/);
  const ghost = answer("silver-plate", "Were arms", tried("breath", "works-in-part"));
  assert.doesNotMatch(ghost, /fault noted[^.]*\bengraving\b/);
  // A trial that is no answer to what is asked leaves no fault noted on that question alone.
  assert.match(
    answer("furniture", "Is there worm", tried("rock", "no-response")),
    /not noted\. No such fault noted on [^.]*\blegs\b/,
  );
});

test("nothing is to be reported of no part on which a caution stands, or where cautions are asked for", () => {
  const tubes = answer("camera-scientific", "Is there mercury", { facts: { "cautions/1": caution("H13") } });
  assert.match(tubes, /^Held back, and not offered until cleared; noted: a sign\./);
  assert.doesNotMatch(tubes, /fault noted|not looked (at|for)|[Nn]othing to report/);
  const hands = answer("clock", "Are hands", { facts: { "cautions/1": caution("H10", "hands") } });
  assert.match(hands, /Held back, and not offered until cleared; noted: a sign on the hands\./);
  assert.doesNotMatch(hands, /fault noted[^.]*\bhands\b/);
  const moth = answer("textile-rug", "Has it moth", { facts: { "cautions/1": caution("H26") } });
  assert.match(moth, /Held back, and not offered/);
  assert.doesNotMatch(moth, /fault noted/);
  for (const zone of [null, "upholstery"])
    assert.match(
      answer("furniture", "Does it open", { facts: { "cautions/1": caution("H27", zone) } }),
      /Held back, and not offered/,
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
  assert.match(
    short,
    /No leaf noticed missing from the text\..* 24 plates and maps called for and 23 present\./,
  );
  assert.doesNotMatch(short, /plates are complete|missing from the plates|fault noted[^.]*\bplates\b/);
  assert.match(
    answer("book-map", "Is it complete", counted(24)),
    /No leaf noticed missing from the text or the plates/,
  );
});

test("one part that was judged does not silence what nobody noted of the others", () => {
  assert.match(
    answer("soft-toy", "Are pads", { denials: [["paw-pads/proper-right", "replaced-part", "lamp"]] }),
    /Whether both eyes, the proper left paw pad and both foot pads are the original ones was not noted\./,
  );
  const hands = { hands: ["original-probably", ""] };
  assert.match(
    answer("watch", "Are hands", { origins: hands, not_there: ["crown"] }),
    /Whether the movement is right for this case was not noted\./,
  );
});

test("an answer holds what was found of the kind that is asked for, wherever it is", () => {
  const holds = (class_id, begins, short, words) => assert.match(answer(class_id, begins, short), words);
  holds("stringed-instrument", "Has it cracks", one("back", "frass"), /^Fresh worm dust on the back\./);
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
  holds("clock", "What is repaired", one("mounts", "missing-part"), /^One or more mounts are missing\./);
  holds("furniture", "Does it open", one("stretchers", "loose-part"), /^One or more stretchers are loose\./);
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

test("what an answer would have to be told, and was not, it says was not noted", () => {
  const frame = answer("work-on-paper", "Are the margins", {});
  assert.match(frame, /Whether it was seen out of the frame was not noted\./);
  const unframed = { statements: { "out-of-frame": "examined out of the frame" } };
  assert.doesNotMatch(answer("work-on-paper", "Are the margins", unframed), /not noted/);
  assert.doesNotMatch(answer("work-on-paper", "Are the margins", { not_there: ["frame"] }), /not noted/);

  assert.match(answer("soft-toy", "Has it moth", {}), /Whether it has a smell was not noted\./);
  const smelled = { denials: [["outline", "odour-musty", "smell"]] };
  assert.doesNotMatch(answer("soft-toy", "Has it moth", smelled), /not noted/);
  assert.doesNotMatch(answer("soft-toy", "Has it moth", one("cover", "odour-smoke")), /not noted/);

  const electric = { not_there: ["clockwork", "key"] };
  assert.match(answer("tinplate-diecast", "Does the motor", electric), /The electric motor was not tried\./);
  assert.doesNotMatch(
    answer("tinplate-diecast", "Does the motor", { ...electric, ...one("motor-electric", "no-action") }),
    /electric motor was not tried/,
  );
});

test("an answer says that there are none of the pads that it is asked for", () => {
  const bare = { not_there: ["paw-pads", "foot-pads"] };
  assert.match(answer("soft-toy", "Are pads", bare), /It has no paw pads or foot pads\./);
});

test("the weight of what is loaded, and of a part, is told as it was taken", () => {
  const loaded = answer("silver-plate", "What does it weigh", one("loading", "crack"));
  assert.match(loaded, /Loaded or filled in part, and so not weighable\./);
  assert.doesNotMatch(answer("silver-plate", "What does it weigh", { not_there: ["loading"] }), /loaded/);
  const forks = {
    ...tried("weigh", "works", "the six without the odd one"),
    facts: { "measures/weight": { value: 518, unit: "g", typed: "", basis: "weighable" } },
  };
  assert.match(
    answer("silver-plate", "What does it weigh", forks),
    / weighable \(the six without the odd one\)\. /,
  );
});

test("papers of which some are missing are not said to be there, and an imprint is told with the edition", () => {
  const papers = answer("medal-coin", "Is the group", one("documents", "missing-part", { extent_count: 2 }));
  assert.match(papers, /^Two documents are missing\. Whether there are other papers with it was not noted\./);
  assert.doesNotMatch(papers, /[Tt]here are papers|Not on record/);
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

test("what the valuer concluded answers whether it belongs, and nothing is open of what the opinion names", () => {
  const concluded = (words, more = {}) =>
    answer("ceramics", "Do cover", { facts: { concluded_words: words }, not_there: ["stand"], ...more });
  const belongs = concluded("Part of a tea service; cover belongs.");
  assert.match(belongs, /^In our opinion: part of a tea service; cover belongs\./);
  assert.doesNotMatch(belongs, /belong together/);
  assert.match(
    concluded("Part of a tea service."),
    /^In our opinion: part of a tea service\. Beyond this, whether the pieces belong together was not noted\./,
  );
  assert.doesNotMatch(
    answer("ceramics", "Which", { facts: { concluded_words: "Cover belongs" } }),
    /opinion/,
  );
  assert.match(
    lot("ceramics", { concluded_words: "In our opinion made up. Cover later." }),
    /\. In our opinion made up\. Cover later\./,
  );
});

test("nobody asks whether pads that are not there are the original ones", () => {
  const bare = { not_there: ["paw-pads", "foot-pads"] };
  assert.match(
    answer("soft-toy", "Are pads", bare),
    /^Whether both eyes are the original ones was not noted\./,
  );
  const eyes = { not_there: ["paw-pads", "foot-pads"], not_examined: { eyes: "no-time" } };
  assert.doesNotMatch(answer("soft-toy", "Are pads", eyes), /pads and eyes are/);
  const set = { not_there: ["cover", "stand"] };
  assert.match(answer("ceramics", "Do cover", set), /Whether the pieces belong together was not noted\./);
});

test("a mark that cannot all be read is not one of which there is nothing to report", () => {
  const mark = { place: "shank", technique: "struck", colour: "", text: "18", reading: "", withdrawn: false };
  const worn = (completeness) =>
    answer("jewellery", "Which metal", { facts: { "marks/0": { ...mark, completeness } } });
  assert.match(worn("worn"), /Nothing further noted on the marks\./);
  assert.match(worn("complete"), /[Nn]o fault noted on the marks\./);
});

test("what a question asks beside faults is answered, or said not to be known", () => {
  assert.match(answer("watch", "Was the case", {}), /Whether the case was polished was not noted\./);
  assert.doesNotMatch(answer("watch", "Was the case", one("case", "over-cleaned")), /Whether the case/);
  assert.match(
    answer("furniture", "Is there worm", {}),
    /Whether it was treated against worm was not noted\./,
  );
  assert.match(answer("work-on-paper", "Is it laid", {}), /Whether it is laid down was not noted\./);
  const denied = { denials: [["support", "laid-down", "lamp"]] };
  assert.doesNotMatch(answer("work-on-paper", "Is it laid", denied), /Whether it is laid/);
  assert.match(answer("work-on-paper", "Are there tears", one("folds", "stain")), /It has folds\./);
  const steam = { not_there: ["clockwork", "motor-electric"] };
  assert.match(
    answer("tinplate-diecast", "Does the motor", steam),
    /Whether the key is with it was not noted\. It was not tried under steam\./,
  );
  for (const [short, begins] of [
    [{ not_there: ["plating"] }, "Whether it is silver or plate was not noted"],
    [{}, "Whether it is silver or plate was not noted; no wear to another metal noted"],
  ])
    assert.match(
      answer("silver-plate", "Is it silver", short),
      new RegExp(`^${begins}\\. The materials were not noted\\. The marks were not copied`),
    );
});

test("a trial that shows a part is not missed where that part was examined", () => {
  assert.doesNotMatch(answer("textile-rug", "Are there repairs", {}), /turning over/);
  assert.match(
    answer("textile-rug", "Are there repairs", { not_examined: { back: "no-time", lining: "no-time" } }),
    /turning over|Not examined: [^.]*the back/,
  );
});

test("nothing to report is not said of what was not looked for, and not looked for not of what was seen", () => {
  const undone = { "inside-look": ["not-done", "no-time", ""], "post-standing": ["not-done", "no-time", ""] };
  const violin = (lights) =>
    ["Has it cracks", "How long"].map((begins) =>
      answer("stringed-instrument", begins, { light: "hall-light", tests: undone, lights }),
    );
  const [cracks, setup] = violin({});
  assert.match(setup, /Sound-post not looked for: time did not allow it\./);
  assert.doesNotMatch(setup, /No fault noted on[^.]*sound-post/);
  assert.match(cracks, /Not looked at inside: time did not allow it\./);
  assert.doesNotMatch(cracks, /No fault noted on[^.]*the (inside|sound-post)/);
  const [seen, stood] = violin({ inside: "inside-lamp", "sound-post": "inside-lamp" });
  assert.match(stood, /No fault noted on the sound-post with a lamp inside\./);
  assert.doesNotMatch(stood, /not looked for/);
  assert.doesNotMatch(seen, /not looked at/i);
  const untold = answer("stringed-instrument", "How long", {
    light: "hall-light",
    lights: { "sound-post": "inside-lamp" },
  });
  assert.doesNotMatch(untold, /not looked for/, "though nobody said that it was tried");
});

test("what decides a question is told, on whichever part it is", () => {
  assert.match(
    answer("doll", "Has the head", one("shoulder-plate", "crack")),
    /A crack in the shoulder-plate/,
  );
  assert.match(answer("ceramics", "Which", one("glaze", "crazing")), /Crazing of the glaze/i);
  assert.match(answer("textile-rug", "For costume", one("back", "re-sewn")), /^The back is re-sewn\./);
  const rug = { ...one("back", "re-sewn"), not_there: ["seams", "stress", "fastenings", "hem", "lining"] };
  assert.doesNotMatch(answer("textile-rug", "For costume", rug), /re-sewn/);
  const top = { origins: { top: ["original-probably", "fits the block"] } };
  const whole = answer("furniture", "Is it all of one piece", top);
  assert.match(
    whole,
    /^The top is apparently original \(fits the block\)\. Whether the back is of one piece with the rest was not noted/,
  );
});

test("of a thing of which nothing is recorded that is said once", () => {
  const plan = book.plans.doll;
  const told = (values) =>
    fiveAnswers(plan, book, recordOf(values)).map(({ question, answer }) => [question, asText(answer)]);
  assert.deepEqual(told({}), [
    ["All five questions", "Not examined. Nothing is recorded of any part of it."],
  ]);
  const described = { short_description: "small box with bone" };
  const free = fiveAnswers(book.plans.free, book, recordOf(described));
  assert.deepEqual(
    free.map(({ question }) => question),
    ["What is it made of, and how do you know?", "The other four questions"],
  );
});

test("of what an answer says that nobody tried, it says of no tick that nothing is to be reported", () => {
  const clear = { state: "clear", light: "lamp", reason: null };
  const moves = (result) => {
    const values = {
      "zones/shutter": clear,
      "zones/transport": clear,
      "tests/shutter-fire": { result, why: "no-time", note: "" },
    };
    const all = fiveAnswers(book.plans["camera-scientific"], book, recordOf(values));
    return asText(all.find(({ question }) => question.startsWith("Does shutter")).answer);
  };
  assert.match(moves("not-done"), /Shutter not fired/);
  assert.match(moves("not-done"), /noted on [^.]*the transport/);
  assert.doesNotMatch(moves("not-done"), /noted on [^.]*the shutter/);
});

test("what is not safe is never answered by what was ticked: nobody looked for it unless that is said", () => {
  const clear = (light) => ({ state: "clear", light, reason: null });
  const zones = ["tubes-liquid", "scales", "batteries", "film-inside"];
  const swept = Object.fromEntries(zones.map((zone) => [`zones/${zone}`, clear("hall-light")]));
  const said = fiveAnswers(book.plans["camera-scientific"], book, recordOf(swept)).find(({ question }) =>
    question.startsWith("Is there mercury"),
  );
  const words = asText(said.answer);
  assert.match(
    words,
    /^Whether there is mercury, luminous paint or anything restricted was not looked for\./,
  );
  assert.doesNotMatch(words, /[Nn]othing to report|[Nn]o fault|film inside/);
});

test("what a thing is called answers where it names what is asked for", () => {
  const called = (class_id, begins, short_description) =>
    answer(class_id, begins, { facts: { short_description }, not_there: ["plating"] });
  assert.match(
    called("camera-scientific", "Is there mercury", "stick barometer, mercury"),
    /^Said in the description alone: “mercury”\./,
  );
  assert.doesNotMatch(called("camera-scientific", "Is there mercury", "stick barometer"), /Described/);
  assert.doesNotMatch(called("jewellery", "Which metal", "Marigold brooch"), /Described/);
  const tray = called("silver-plate", "Is it silver", "plated tray");
  assert.match(tray, /^Said in the description alone: “plated tray”\./);
  assert.doesNotMatch(tray, /Whether it is silver/);
  assert.match(
    called("silver-plate", "Is it silver", "tray"),
    /Whether it is silver or plate was not noted\./,
  );
});

test("of what is not in a frame it is said that it has none", () => {
  const unframed = answer("work-on-paper", "Are the margins", { not_there: ["frame"] });
  assert.match(unframed, /It has no frame\.$/);
});

test("what a thing is called may name a fault, though nothing is recorded of its parts", () => {
  const plan = book.plans["stringed-instrument"];
  const record = recordOf({ short_description: "cello, broken neck" });
  assert.equal(
    asText(conditionParagraph(plan, book, record)),
    "Not examined: nothing is recorded of any part of it beyond the description.",
  );
  const [neck, rest] = fiveAnswers(plan, book, record);
  assert.match(asText(neck.answer), /^Said in the description alone: “broken neck”\. .*Not examined\.$/);
  assert.match(asText(rest.answer), /beyond the description\.$/);
});

test("of a setting without stones it is not said that none is lacking", () => {
  const set = {
    denials: [["setting", "stone-missing", "loupe"]],
    tests: { "claw-touch": ["works", "", ""] },
  };
  const bare = answer("jewellery", "Does the catch", { ...set, not_there: ["main-stone", "side-stones"] });
  assert.doesNotMatch(bare, /stone/);
  assert.match(answer("jewellery", "Does the catch", set), /The setting is complete, no stone lacking/);
});

test("labels on the back are not copied where only a signature is", () => {
  const mark = { place: "lower right", colour: "", text: "A. B.", reading: "", completeness: "complete" };
  const back = (technique) =>
    answer("painting", "How large", { facts: { "marks/0": { ...mark, technique, withdrawn: false } } });
  assert.match(back("painted"), /The labels were examined under a lamp and not copied\./);
  assert.doesNotMatch(back("label"), /not copied/);
  assert.match(back("label"), /“A\. B\.”/);
});

test("whose bookplate it is answers which marks of owners it has, and the imprint does not", () => {
  const mark = { technique: "printed", colour: "", text: "A. B.", reading: "", completeness: "complete" };
  const owners = (place) =>
    answer("book-map", "How much foxing", { facts: { "marks/0": { ...mark, place, withdrawn: false } } });
  assert.match(owners("bookplate, upper paste-down"), /“A\. B\.”/);
  assert.doesNotMatch(owners("bookplate"), /not copied/);
  assert.match(owners("title leaf"), /The marks of ownership were examined under a lamp and not copied\./);
  assert.doesNotMatch(owners("title leaf"), /A\. B\./);
});

test("what a bidder means by a question is in its answer, whatever the fault is called", () => {
  for (const [plan, question, zone, term, said] of [
    ["furniture", "Does it open", "joints", "play", /[Pp]lay /],
    ["furniture", "Does it open", "upholstery", "foam-crumble", /foam/],
    ["medal-coin", "Is the group", "ribbon", "replaced-part", /ribbon is replaced/],
    ["medal-coin", "Are there", "note-paper", "tear", /tear/],
    ["book-map", "Is it complete", "endpapers/upper", "replaced-part", /endpaper is replaced/],
    ["book-map", "Is it complete", "map-folds", "split", /split/],
    ["camera-scientific", "Does shutter", "meter", "no-action", /meter did not respond/],
    ["camera-scientific", "Does shutter", "door", "catch-fails", /door/],
    ["painting", "How large", "edges/top", "trimmed", /trimmed/],
  ])
    assert.match(
      answer(plan, question, { findings: [{ zone, term, severity: 2 }] }),
      said,
      `${plan} ${term}`,
    );
});

test("whether parts belong is not told by what was made of them", () => {
  const restored = { origins: { case: ["restored", ""], dial: ["restored", ""] } };
  assert.match(
    answer("clock", "Do movement", restored),
    /the movement, the dial and the case belong together was not noted/,
  );
  const body = { origins: { body: ["restored", ""] } };
  assert.match(answer("doll", "Do body", body), /Whether the parts belong together was not noted/);
});

test("a cover that does not fit is told where cracks are asked for, though it could rule out other faults, too", () => {
  assert.match(
    answer("ceramics", "Which chips", tried("cover-fit", "no-response")),
    /^The cover does not fit\./,
  );
});

test("of what a question asks for the gravest comes first, also where it names the other one alone", () => {
  const findings = [
    { zone: "lens", term: "bloom", severity: 3 },
    { zone: "optics-other", term: "cement-separation", severity: 2 },
  ];
  assert.match(answer("camera-scientific", "Is the glass", { findings }), /^Bloom on the lens\. Separation/);
});

test("a maker whom nobody could name is not determined, and one of whom nothing was said is not noted", () => {
  const said = (facts) => answer("ceramics", "Is the mark", { facts });
  assert.match(said({ maker_certainty: "unknown" }), /^Maker not determined\./);
  assert.match(said({}), /The maker was not noted\./);
});

test("a part of which one fault was denied has nothing to report of the others that are asked for", () => {
  const said = answer("ceramics", "Is anything restored", { denials: [["rim", "filled", "lamp"]] });
  assert.match(said, /^No sign of filling to the rim seen under a lamp\./);
  // Nobody looked for what was restuck there: of that the look with the lamp tells.
  assert.match(said, /\. No fault noted on the body, the glaze, the rim\b/);
});

test("papers of which the name says that they are not there are not said to be with it", () => {
  const said = (short_description) => answer("watch", "Are box", { facts: { short_description } });
  assert.match(said("watch with papers"), /There are papers with it\./);
  const none = ["no papers", "not with papers", "without papers", "lacking papers", "lacks papers"];
  for (const words of [...none, "papers missing"])
    assert.match(said(`watch, ${words}`), /Whether there are papers with it was not noted\./, words);
});

test("a sentence on two parts is told where one of them is asked for", () => {
  const replaced = { origins: { cover: ["replaced", ""], gilding: ["replaced", ""] } };
  assert.match(answer("ceramics", "Do cover", replaced), /The cover and the gilding are replaced/);
});

test("of what a red caution stops the answers tell nothing else", () => {
  const stop = { ...caution("H02"), level: "red", still_allowed: [] };
  const dented = {
    findings: [{ zone: "case", term: "dent", severity: 2 }],
    facts: { "cautions/stop": stop },
  };
  assert.equal(
    answer("watch", "All five", dented),
    "Held back, and not offered until cleared; noted: a sign.",
  );
});

test("a look and a weighing have no response, and of a reason that is not on record nothing is printed", () => {
  const weighed = answer("medal-coin", "What are weight", tried("weigh", "no-response"));
  assert.doesNotMatch(weighed, /no response/);
  const undone = answer("watch", "Is it running", { tests: { "is-it-going": ["not-done", "", ""] } });
  assert.doesNotMatch(undone, /:\./);
});

test("a tick alone does not say that there are folds or papers, nor that it is loaded: its name does", () => {
  const asked = [
    ["work-on-paper", "Are there tears", "folds", "whether it has folds"],
    ["watch", "Are box", "papers", "whether there are papers with it"],
    ["silver-plate", "What does it weigh", "loading", "whether it is loaded or filled in part"],
  ];
  for (const [class_id, begins, zone, words] of asked) {
    const ticked = answer(class_id, begins, {});
    assert.match(ticked, new RegExp(`\\bW${words.slice(1)} was not noted\\.`));
    assert.doesNotMatch(ticked, new RegExp(`fault noted[^.]*\\b${zone}\\b`));
    for (const more of [{ counts: { [zone]: 1 } }, one(zone, "stain")])
      assert.doesNotMatch(answer(class_id, begins, more), new RegExp(`${words} was not noted`, "i"), zone);
  }
  const called = (short_description) => ({ facts: { short_description } });
  assert.match(answer("watch", "Are box", called("watch with box and papers")), /There are papers with it/);
  assert.match(answer("watch", "Are box", called("watch without papers")), /was not noted/);
  assert.match(answer("work-on-paper", "Are there tears", called("large folded poster")), /It has folds\./);
  const pair = called("pair of loaded candlesticks");
  assert.match(
    answer("silver-plate", "What does it weigh", pair),
    /Loaded or filled in part, and so not weighable\./,
  );
  assert.match(
    answer("tinplate-diecast", "Does the motor", called("tin car with key")),
    /The key is with it\./,
  );
});

test("what is told of a part is not followed by the same as not noted, nor by nothing to report of it", () => {
  const fired = { tests: { "shutter-fire": ["works", "", ""], focus: ["works", "", ""] } };
  assert.doesNotMatch(answer("camera-scientific", "Does shutter", fired), /moving parts move was not noted/);
  const mark = { place: "lower right", technique: "painted", colour: "", text: "A. B.", reading: "" };
  const signed = (standing) =>
    answer("painting", "Is the signature", {
      facts: { "marks/0": { ...mark, completeness: "complete", withdrawn: false, standing } },
    });
  for (const standing of ["borne", "not-relied-on", "makers-own"])
    assert.doesNotMatch(signed(standing), /fault noted[^.]*signature/);
  const patched = { ...one("inside", "patched"), tests: { "inside-look": ["works", "nothing-seen", ""] } };
  assert.match(
    answer("stringed-instrument", "Has it cracks", patched),
    /A patch on the inside\. .*Looked at inside with a lamp for repairs and worm, with nothing further to report\./,
  );
  const handle = one("handles", "missing-part", { extent_count: 1 });
  assert.doesNotMatch(answer("ceramics", "Is anything restored", handle), /fault noted[^.]*handles/);
  const two = { ...handle, counts: { handles: 2 } };
  assert.match(answer("ceramics", "Is anything restored", two), /fault noted[^.]*handles/);
});

test("every limb of a question is answered, or said to be open", () => {
  const sealed = { not_examined: { verso: "sealed", hinges: "sealed" } };
  assert.match(answer("work-on-paper", "Are the margins", sealed), /Not seen out of the frame\./);
  assert.match(answer("watch", "Is it running", {}), /Whether it was serviced was not noted\./);
  const surface = (term) => answer("furniture", "Was it refin", { denials: [["surface", term, "lamp"]] });
  assert.match(surface("repainted"), /Whether it was refinished was not noted\./);
  assert.doesNotMatch(surface("refinished"), /Whether it was refinished/);
  const bare = { not_there: ["label-mark", "voice"] };
  assert.match(answer("soft-toy", "Is there a label", bare), /a trace of a label or stud was not noted\./);
  assert.doesNotMatch(answer("soft-toy", "Is there a label", {}), /trace/);
  assert.match(
    answer("silver-plate", "Were arms", { not_there: ["engraving", "blank-shield"] }),
    /It has no engraving or blank shield\.|Whether arms or initials were taken off or added was not noted\./,
  );
});

test("what cannot be asked of a thing is answered in one sentence", () => {
  const gown = { not_there: ["field"] };
  assert.equal(answer("textile-rug", "Is the pile even", gown), "Does not apply: no rug or carpet.");
  const panel = { ...one("back", "re-sewn"), not_there: ["stress", "fastenings"] };
  assert.equal(answer("textile-rug", "For costume", panel), "Does not apply: no costume.");
  const binding = ["upper-board", "lower-board", "spine", "joints", "head-tail-caps", "sewing"];
  assert.equal(answer("book-map", "Is the binding", { not_there: binding }), "It has no binding.");
});

test("a finding that does not bear on a question is no answer to it", () => {
  const silent = [
    ["painting", "Is it lined", "frame", "loss"],
    ["painting", "Is it lined", "reverse", "stain"],
    ["painting", "Is there retouching", "support", "patched"],
    ["painting", "Is the paint stable", "paint", "retouched"],
    ["ceramics", "Is anything restored", "body", "hairline"],
    ["glass", "Is it cloudy", "metal", "making-fault"],
    ["soft-toy", "Are pads", "paw-pads/proper-left", "hole"],
    ["textile-rug", "Has it moth", "back", "re-sewn"],
    ["silver-plate", "Is it silver", "rim", "replaced-part"],
    ["silver-plate", "Were arms", "marks-body", "altered-inscription"],
    ["book-map", "Which edition", "title-leaf", "filled"],
    ["jewellery", "Are there repairs", "side-stones", "scratch"],
    ["jewellery", "Does the catch", "brooch-pin", "replaced-part"],
    ["stringed-instrument", "Are scroll", "neck", "warp"],
    ["work-on-paper", "Are there tears", "sheet-edges/bottom", "trimmed"],
    ["soft-toy", "Where is it bald", "legs/proper-left", "patched"],
    ["furniture", "Are handles, feet", "top", "warp"],
    ["medal-coin", "Is the group complete", "ribbon", "fading"],
    ["jewellery", "Are there repairs", "setting", "bent"],
    ["book-map", "Which edition", "map-sheet", "tear"],
  ];
  for (const [class_id, begins, zone, term] of silent) {
    const words = answer(class_id, begins, one(zone, term));
    assert.equal(words, answer(class_id, begins, one(zone, term, { severity: 1 })), `${term}: ${words}`);
    const plainly = (some) =>
      some
        .replaceAll("o such fault", "o fault")
        .replaceAll("No sign of later work noted on", "No fault noted on");
    assert.equal(plainly(words), plainly(answer(class_id, begins, {})), `${class_id} ${term}`);
  }
  const told = [
    ["soft-toy", "Was it ever opened", "neck", "stuffing-shift", /stuffing in the neck has shifted/],
    ["soft-toy", "Was it ever opened", "face", "stitch-loss", /Loss of stitches/],
    ["book-map", "Is it complete", "map-folds", "laid-down", /laid down/],
  ];
  for (const [class_id, begins, zone, term, words] of told)
    assert.match(answer(class_id, begins, one(zone, term)), words);
});

test("serial numbers answer whether the numbers match, and the maker's name does not", () => {
  const mark = { place: "front", technique: "engraved", colour: "", reading: "", completeness: "complete" };
  const numbers = (text) =>
    answer("camera-scientific", "Are case", { facts: { "marks/0": { ...mark, text, withdrawn: false } } });
  assert.match(numbers("No. 4417"), /4417/);
  assert.doesNotMatch(numbers("Quire & Son"), /Quire|signature/);
});

test("what differed at the check-in is told where it may be, and beside whatever denies faults until it is recorded", () => {
  const differs = (words) => ({ facts: { "check-in": { state: "differs", words, second_by: "" } } });
  const heel = differs("a chip at the proper left heel");
  assert.match(answer("doll", "Do body", heel), /Before it was checked in, no fault .*checked in: a chip at/);
  // A heel is a foot's or a shoe's.
  assert.match(answer("doll", "Are wig", heel), /Before it was checked in, no fault .*checked in: a chip at/);
  for (const begins of ["Has the head", "Do the eyes"])
    assert.match(answer("doll", begins, heel), /Before it was checked in, no .*checked in: a chip at/);
  const unseen = { ...heel, not_examined: { eyes: "no-time", "eye-rims": "no-time" } };
  assert.doesNotMatch(answer("doll", "Do the eyes", unseen), /checked in/);
  assert.match(answer("doll", "Do the eyes", differs("a new chip")), /checked in: a new chip\./);
});

test("what two people say otherwise of a finding is told as not settled, though one of them withdrew it", () => {
  const chip = finding({ zone: "rim", term: "chip", severity: 2, extent_mm: 3 });
  const side = (value) => ({ value, operation_id: value.extent_mm });
  const between = (kept, other, settled = null) => {
    const record = recordOf(written(book.plans.ceramics, { denials: [["rim", "chip", "lamp"]] }));
    record.fields["findings/1"] = side(kept);
    record.disagreements = [
      { field: "findings/1", kept: side(kept), other: side(other), settled, disagreement_id: "1" },
    ];
    const [first] = fiveAnswers(book.plans.ceramics, book, record);
    return [conditionParagraph(book.plans.ceramics, book, record), first.answer].map(asText);
  };
  const gone = { ...chip, withdrawn: true };
  for (const [kept, other] of [
    [chip, { ...chip, extent_mm: 8 }],
    [chip, gone],
    [gone, chip],
  ])
    for (const text of between(kept, other)) {
      assert.match(
        text,
        /(3 mm to the rim; whether it is there is|recorded as 3 mm as well, and) not settled\./,
      );
      assert.doesNotMatch(text, /No chip/);
    }
  for (const text of between(chip, gone, { choose: "kept" })) assert.doesNotMatch(text, /settled/);
  for (const text of between(gone, chip, { choose: "kept" })) assert.match(text, /No chip/);
});

test("what is denied of the whole is denied of what was examined, where somebody could not see it all", () => {
  const denied = (short) =>
    answer("ceramics", "Which chips", { denials: [["outline", "crack", "lamp"]], ...short });
  assert.match(denied({}), /^No crack seen under a lamp\./);
  for (const short of [{ not_examined: { inside: "sealed" } }, { untouched: ["rim"] }])
    assert.match(denied(short), /^No crack seen on what was examined under a lamp\./);
  assert.match(denied({ not_there: ["cover"] }), /^No crack seen under a lamp\./);
});

test("of a tester's reading that nobody noted that is said", () => {
  const stones = (note) => answer("jewellery", "How large", tried("stone-tester", "works", note));
  assert.match(stones(""), /whose reading is no proof; what it read was not noted\./);
  assert.doesNotMatch(stones("spinel"), /read was not noted/);
});

test("that a top is original does not say that all of a table is of one piece", () => {
  const top = (not_there) =>
    answer("furniture", "Is it all of one piece", { origins: { top: ["original-probably", ""] }, not_there });
  assert.match(top(["back"]), /original\. Whether it is all of one piece was not noted\./);
  assert.match(top([]), /original\. Whether the back is of one piece with the rest was not noted\./);
});

test("a note that begins with a preposition goes on with its sentence", () => {
  const noted = (zone, term, note, more = {}) => paragraph("ceramics", one(zone, term, { note, ...more }));
  assert.match(noted("spout", "replaced-part", "by one of metal"), /The spout is replaced by one of metal\./);
  assert.match(
    noted("spout", "replaced-part", "with the tip kept"),
    /The spout is replaced, with the tip kept\./,
  );
  assert.match(noted("spout", "replaced-part", "tip only"), /A part of the spout is replaced \(tip only\)\./);
});

test("of what has gone home nothing is held back", () => {
  const caution = { hazard: "H10", level: "amber", sign: "brown paint on the hands", zone: "" };
  const held = { "cautions/1": caution };
  assert.match(
    paragraph("watch", { facts: held }),
    /Held back, and not offered until cleared; noted: brown paint/,
  );
  const plan = book.plans.watch;
  const at_home = recordOf(written(plan, { facts: held }));
  const value = { to_place: "returned", at: "", move_id: "m" };
  at_home.fields.whereabouts = set(value, "2026-05-02T10:00:00.000Z");
  assert.match(
    asText(conditionParagraph(plan, book, at_home)),
    /^Returned to its owner, and not offered; noted: brown paint on the hands\.$/,
  );
  at_home.fields.short_description = { value: "three watches", made_at: "" };
  assert.match(asText(conditionParagraph(plan, book, at_home)), /^Returned to their owner, and not offered/);
});

test("of what nobody looked at, the answer says what was not tried, and nothing of what nobody noted", () => {
  const unseen = { not_examined: { movement: "sealed", balance: "sealed" } };
  const asked = answer("watch", "Is it running", unseen);
  assert.doesNotMatch(asked, /Not determined/);
});

test("a mend says nothing of whether what was mended is original, whichever mend it is", () => {
  const mends = [
    ["furniture", "Are handles", "top", "restuck"],
    ["book-map", "Is the binding", "spine", "tape-repair"],
    ["doll", "Are wig", "outer-clothes", "re-sewn"],
    ["doll", "Are wig", "shoes", "patched"],
    ["clock", "Are hands", "hands", "solder-repair"],
    ["furniture", "Is it all", "top", "rivet-repair"],
    ["watch", "Is the dial", "dial", "resized"],
  ];
  const isOpen = (class_id, begins, zone, term) => {
    const { questions } = book.plans[class_id];
    const { unless_origin } = questions.find(({ question }) => question.startsWith(begins));
    return answer(class_id, begins, one(zone, term)).includes(`${unless_origin.slice(1)}.`);
  };
  for (const mend of mends) assert.ok(isOpen(...mend), mend.join(" "));
  assert.ok(!isOpen("clock", "Are hands", "hands", "replaced-part"), "of the hands that is an answer");
});

test("what was tried on several zones is told where all of them are asked for, and not where one of them is", () => {
  const { clock } = book.plans;
  const [first] = clock.questions;
  const striking = clock.tests.find(({ test }) => test === "strike-once");
  const plan = {
    ...clock,
    tests: clock.tests.map((row) => (row === striking ? { ...row, of: ["strike", "case"] } : row)),
  };
  const record = recordOf(written(clock, tried("strike-once", "works")));
  const answered = (zones) => {
    const asked = { ...first, zones, tests: ["is-it-going"], terms: [], told_tests: [] };
    return asText(fiveAnswers({ ...plan, questions: [asked] }, book, record)[0].answer);
  };
  assert.match(answered(["strike", "case"]), /It struck the next hour/);
  assert.doesNotMatch(answered(["strike"]), /It struck the next hour/);
});
