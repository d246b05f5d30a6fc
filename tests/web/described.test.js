/** What stands between an entry and its being described: what forbids it, and what is open and needs a reason. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { saidBehindAlone } from "../../web/job/behind.ts";
import {
  changedSinceDescribed,
  doFirst,
  openOn,
  REASONS,
  reasonsFor,
  WHERE_IT_IS,
  WHO_AGREED,
  whyNotDescribed,
} from "../../web/job/described.ts";
import { notSignedFor } from "../../web/job/not_signed_for.ts";
import { partsApart } from "../../web/job/parts_lost.ts";
import { run } from "../../web/job/tag.ts";
import { book } from "./plan_book.js";

const [ONE, TWO] = run("00002Y", 2);
const set = (value) => ({ value, operation_id: "", made_by: "", made_at: "", device_id: "" });
const record = (kind, record_id, values, disagreements = []) => ({
  kind,
  record_id,
  day_id: "d",
  disagreements,
  fields: Object.fromEntries(Object.entries(values).map(([name, value]) => [name, set(value)])),
});
const tag = (number, piece, of) => ({
  [`tags/${number}`]: { tag: number, piece, of, mark: "", gone: null, replaced_by: null },
});
const whereabouts = (to_place) => ({ move_id: "m", to_place, at: "" });
const item = (values, disagreements) => record("item", "i", values, disagreements);
const why = (values, containers = []) =>
  whyNotDescribed(item(values), new Map(containers.map((one) => [one.record_id, one])), null);

test("what is stopped, stands behind another record or lies in two places is not described, and why is said", () => {
  const red = { hazard: "H02", level: "red", sign: "", still_allowed: [] };
  assert.equal(why(tag(ONE, 1, 1)), "");
  assert.match(why({ "cautions/1": red }), /^It is stopped\./);
  assert.match(why({ merged: { into_id: "j" } }), /^It was recorded twice/);
  assert.equal(why({ merged: { into_id: null } }), "");
});

test("what came after an entry was described is named, but not what its own desk or nobody's words would change", () => {
  const said = (operation_id, value = "", made_by = "bram", device_id = "t1") => ({
    ...{ value, operation_id, made_by, device_id, made_at: "" },
  });
  const fields = {
    entry: said("3", { state: "described" }, "dora", "desk"),
    short_description: said("2"),
    "findings/f": said("4"),
    pieces: said("5"),
    materials: said("6", "brass", "dora", "desk"),
    heading: said("7"),
    whereabouts: said("8"),
  };
  const past = [1, 2, 3, 4, 5, 6, 7, 8].map((seq) => ({
    office_seq: seq * 10,
    operation: { operation_id: `${seq}` },
  }));
  assert.deepEqual(changedSinceDescribed({ fields }, past), ["findings/f", "pieces"]);
  const waiting = { ...fields, entry: { ...fields.entry, value: { state: "waiting" } } };
  assert.deepEqual(changedSinceDescribed({ fields: waiting }, past), []);
});

test("a piece on its way is lost to who describes it, and pieces in two boxes at one place are not", () => {
  const pair = { ...tag(ONE, 1, 2), ...tag(TWO, 2, 2) };
  const at = (one, two) => ({
    [`whereabouts/${ONE}`]: whereabouts(one),
    [`whereabouts/${TWO}`]: whereabouts(two),
  });
  assert.equal(why({ ...pair, ...at("shelf", "shelf") }), "");
  assert.match(
    why({ ...pair, ...at("shelf", "van") }),
    /^Not all of it is in the house's keeping: 000-03W, piece 2 of 2, van \(on its way\)\. Find it/,
  );
  const box = (id) => ({
    ...record("container", id, { whereabouts: whereabouts("shelf") }),
    ...{ number: `00004${id}`, kind_of: "box" },
  });
  const inside = (id) => ({ container_id: id });
  const boxes = [box("b"), box("c")];
  const within = (one, two) => ({ ...pair, [`inside/${ONE}`]: inside(one), [`inside/${TWO}`]: inside(two) });
  assert.equal(why(within("b", "b"), boxes), "");
  assert.equal(why(within("b", "c"), boxes), "");
  const [SET, LID] = [tag(ONE, 1, 2), tag(TWO, 2, 2)];
  LID[`tags/${TWO}`].mark = "the lid";
  const set = { pieces: 14, ...SET, ...LID, [`inside/${ONE}`]: inside("b"), ...at("shelf", "shelf") };
  delete set[`whereabouts/${ONE}`];
  assert.equal(why(set, boxes), "", "where each is, though both are on the shelf");
  const byId = new Map(boxes.map((one) => [one.record_id, one]));
  assert.deepEqual(partsApart(item(set), byId), [
    "000-02Y, the rest of it, in box 000-04b, shelf",
    "000-03W, the lid, shelf",
  ]);
});

const NOTHING = new Map();
const PLAN = {
  refer_only: false,
  tests: [{ test: "rings", never_when: "" }],
  zones: [{ zone: "body", members: [] }],
  views: [{ view: "front", words: "whole from the front" }],
  measures: [],
};
const text = (name, words, differs = false) => ({ name, words, lines: [{ words, differs }] });

test("what came packed and was not compared as that was opened is open, until it was", () => {
  const [within, boxes] = [{ inside: { container_id: "b" } }, new Map()];
  boxes.set("b", record("container", "b", { whereabouts: whereabouts("store") }));
  const open = (values) =>
    openOn(item(values), null, [], boxes, []).filter((words) => /compared/.test(words));
  const words = "came packed to the store, and was not compared with what is on record";
  assert.deepEqual(open(within), [words]);
  assert.deepEqual(open({ inside: { container_id: null }, whereabouts: whereabouts("shelf") }), [words]);
  assert.deepEqual(open({ ...within, "check-in": { state: "as-recorded", words: "" } }), []);
  assert.deepEqual(open({ whereabouts: whereabouts("shelf") }), [], "nothing says that it was packed");
});

test("what is open is named in the order in which a reader would miss it", () => {
  const [kept, other] = [{ value: "oak" }, { value: "ash" }];
  const between = (settled) => ({ disagreement_id: "x", field: "materials", kept, other, settled });
  const open = openOn(
    item({}, [between(null), between({ choose: "kept" })]),
    PLAN,
    [text("heading", ""), text("description", "A jug.", true)],
    NOTHING,
    [],
  );
  assert.deepEqual(open, [
    "still at the table",
    "1 question with two values, not settled",
    "1 zone nobody looked at",
    "no words for the heading",
    "1 sentence of which the record says something else now",
    "maker: nobody said how sure",
    "date: nobody said how sure",
    "no mark, nor where one was looked for",
    "1 test has no result",
    "nothing measured",
    "1 missing view",
    "no tag",
  ]);
});

test("what may be the matter with the thing comes first: it is held apart, never came, differs", () => {
  const crate = record("container", "c", { whereabouts: whereabouts("van") });
  const values = {
    ...tag(ONE, 1, 1),
    inside: { container_id: "c" },
    "check-in": { state: "differs", words: "a chip on the rim", second_by: "" },
    "cautions/1": { hazard: "H02", level: "amber", sign: "paraffin in it" },
  };
  assert.deepEqual(openOn(item(values), { ...PLAN, refer_only: true }, [], new Map([["c", crate]]), []), [
    "held apart for paraffin in it, and nobody has cleared it",
    "still in the van, with what it is packed in",
    "differs from what was recorded: a chip on the rim",
  ]);
});

test("where it still lies in the hall, and what nobody signed for, is open", () => {
  const dent = { zone: "body", term: "dent", severity: 3, withdrawn: false };
  const [tied, byId] = [{ ...tag(ONE, 1, 1), short_description: "jug" }, new Map()];
  const line = { item_id: "i", tags: [ONE], words: "jug" };
  const signed = {
    "receipts/1": { number: "Q01/1", what: "left", lines: [line], replaces: null, of_device: null },
  };
  const openAt = (place, values, receipts) => {
    const one = {
      ...item({ ...tied, ...values, ...(place && { whereabouts: whereabouts(place) }) }),
      visit_id: "v",
    };
    if (one.fields["findings/1"]) one.fields["findings/1"].device_id = "t2"; // heard of after the signing
    const visit = record("visit", "v", { ticket: "Q01", ...receipts });
    const unsigned = notSignedFor(one, visit, byId, String);
    return openOn(one, { ...PLAN, refer_only: true }, [], byId, unsigned);
  };
  assert.deepEqual(openAt("", {}, {}), [
    "still at the table",
    "not signed for: no receipt that its owner signed names it",
  ]);
  assert.deepEqual(openAt("holding", {}, signed), ["still in the holding area"]);
  assert.deepEqual(openAt("store", { "findings/1": dent, class_id: "silver" }, signed), [
    "changed since its receipt was signed: its condition",
  ]);
  assert.deepEqual(openAt("returned", {}, signed), [
    "not signed for: it went back, and nobody has signed for that",
  ]);
});

test("what an amber caution holds apart is not described until somebody cleared it", () => {
  const amber = { "cautions/1": { hazard: "H04", level: "amber", sign: "a flask of powder" } };
  const decided = (decision) => ({ ...amber, "caution-decisions/1": { decision } });
  const why = (values) => whyNotDescribed(item(values), NOTHING, null);
  assert.match(
    why(amber),
    /^It is held apart for a flask of powder, and nobody has cleared it\. .*record who/,
  );
  assert.match(why(decided("isolated")), /nobody has cleared it/);
  assert.equal(why(decided("cleared")), "");
  assert.equal(why({ "cautions/1": { hazard: "H36", level: "note", sign: "lead glaze" } }), "");
});

test("a whole entry has nothing open; one that is only referred is asked for no zones and no views", () => {
  const tagged = { ...tag(ONE, 1, 1), whereabouts: whereabouts("shelf") };
  const said = {
    maker_certainty: "unknown",
    dates_certainty: "unknown",
    marks_looked: "under the foot",
    "tests/rings": { result: "works" },
    "measures/height": { value: 12 },
    "zones/body": { state: "clear" },
    "views/front": { reason: "not-applicable", note: "" },
  };
  assert.deepEqual(openOn(item({ ...tagged, ...said }), PLAN, [text("heading", "A jug")], NOTHING, []), []);
  assert.deepEqual(openOn(item(tagged), { ...PLAN, refer_only: true }, [], NOTHING, []), []);
  assert.deepEqual(openOn(item(tagged), null, [], NOTHING, []), ["no class"]);
});

const sized = (className, sizes) => {
  const plan = book.plans[className];
  const values = Object.entries(sizes).map(([name, value]) => [
    `measures/${name}`,
    { value, unit: "mm", typed: "" },
  ]);
  const open = openOn(item({ ...tag(ONE, 1, 1), ...Object.fromEntries(values) }), plan, [], NOTHING, []);
  return open.filter((words) => / which is (more|little|a lot) /.test(words));
};

test("a size that such a thing hardly has is open, with what it is", () => {
  assert.deepEqual(sized("stringed-instrument", { "back-length": 36, "upper-bout": 165 }), [
    "length of the back without button 36 mm (1 7/16 in), which is little for such a thing",
  ]);
  assert.deepEqual(sized("silver-plate", { height: 250 }), []);
});

test("of two sizes of which one lies within the other, that one is not more", () => {
  assert.deepEqual(
    sized("painting", { height: 610, "framed-height": 560, width: 400, "framed-width": 560 }),
    ["height of the picture 61.0 cm (24 in), which is more than the height with frame, 56.0 cm (22 1/16 in)"],
  );
  assert.deepEqual(sized("painting", { height: 560, "framed-height": 560 }), []);
});

test("what never came, and what nobody signed for, is passed by no ordinary reason, and both at once by none", () => {
  const nobody = { label: "Not signed for", words: "no receipt that its owner signed names it" };
  const since = { label: "Changed since its receipt was signed", words: "its condition" };
  const at = (place, more = {}) => item({ ...tag(ONE, 1, 1), whereabouts: whereabouts(place), ...more });
  const crate = record("container", "c", { whereabouts: whereabouts("van") });
  const byId = new Map([["c", crate]]);
  const offered = (thing, unsigned = []) => reasonsFor(thing, byId, unsigned);
  const first = (thing, unsigned = []) => doFirst(thing, byId, unsigned).join(" ");
  assert.deepEqual([offered(at("shelf")), first(at("shelf"))], [REASONS, ""]);
  assert.deepEqual(offered(at("shelf"), [since]), REASONS);
  assert.deepEqual(offered(at("van")), WHERE_IT_IS);
  assert.deepEqual(offered(item({ ...tag(ONE, 1, 1), inside: { container_id: "c" } })), WHERE_IT_IS);
  assert.match(first(at("van")), /^It has not come .* record the move once it is found\.$/);
  const missed = { "check-in": { state: "not-here", words: "", second_by: "" } };
  assert.deepEqual(offered(item({ ...tag(ONE, 1, 1), ...missed })), WHERE_IT_IS);
  assert.deepEqual(offered(at("shelf"), [nobody, since]), WHO_AGREED);
  assert.match(first(at("shelf"), [nobody]), /^Nobody has signed for it\. Ask its owner first/);
  assert.deepEqual(offered(at("van"), [nobody]), []);
  const amber = { "cautions/1": { hazard: "H02", level: "amber", sign: "paraffin in it" } };
  assert.deepEqual(offered(at("shelf", amber)), []);
});

test("each reason that is offered says something else", () => {
  const offered = [...REASONS, ...WHERE_IT_IS, ...WHO_AGREED];
  assert.equal(new Set(offered.map((reason) => reason.trim().toLowerCase())).size, 8);
  assert.ok(REASONS.every((reason) => /^[A-Z][a-z ]+$/.test(reason)));
});

test("what only the record behind it says is open, until it is spoken of", () => {
  const chip = { zone: "rim", term: "chip", severity: 4, withdrawn: false };
  const behind = record("item", "j", { merged: { into_id: "i" }, "findings/1": chip, pieces: 4 });
  const open = openOn(
    { ...item({ pieces: 6 }), doubles: [behind] },
    { ...PLAN, refer_only: true },
    [],
    NOTHING,
    [],
  );
  const more = open.filter((words) => words.startsWith("the record behind it says more"));
  assert.deepEqual(more, [
    "the record behind it says more: 4 pieces counted there, and 6 here",
    "the record behind it says more: chip, rim",
  ]);
});

test("a fault on more pieces than are counted is open", () => {
  const crack = { zone: "stem", term: "crack", severity: 3, piece_count: 5, withdrawn: false };
  const set = item({ ...tag(ONE, 1, 1), whereabouts: whereabouts("store"), pieces: 3, "findings/1": crack });
  assert.deepEqual(openOn(set, { ...PLAN, refer_only: true }, [], NOTHING, []), [
    "a fault is on 5 of its pieces, and 3 were counted",
  ]);
});

test("a fault behind is answered by the same one in front, as bad or worse, and by no lesser or other one", () => {
  const having = (term, severity) => record("item", "i", { "findings/1": { zone: "rim", term, severity } });
  const behind = having("chip", 2);
  const answered = ["chip", "crack"].map((term) =>
    [1, 2, 3].map((severity) => saidBehindAlone(having(term, severity), behind).length === 0),
  );
  assert.deepEqual(answered, [
    [false, true, true],
    [false, false, false],
  ]);
  assert.deepEqual(saidBehindAlone(record("item", "i", {}), behind), ["chip, rim"]);
  const ungraded = having("chip", null);
  assert.deepEqual(
    saidBehindAlone(ungraded, ungraded),
    [],
    "nor does one that nobody graded ask for a grade",
  );
});

test("of what is back with its owner it is said what to do if it came again", () => {
  assert.equal(
    why({ ...tag(ONE, 1, 1), whereabouts: whereabouts("returned") }),
    "It is back with its owner, and what went back is not described for sale. " +
      "If it was brought again, record that move first.",
  );
});

test("what was put off to the store is open until somebody has looked there", () => {
  const unseen = (reason) => ({ state: "not-examined", reason, light: null, count: null });
  const zones = { "zones/back": unseen("no-time"), "zones/base": unseen("sealed") };
  const open = (values) => openOn(item(values), { ...PLAN, refer_only: true }, [], new Map(), []);
  const words = "put off to the store, and not looked at since: back";
  assert.ok(open(zones).includes(words), open(zones).join("; "));
  const looked = { ...zones, "zones/back": { state: "clear", reason: null, light: null, count: null } };
  assert.ok(!open(looked).some((one) => one.startsWith("put off")));
});
