/** What is known of the differences with which a day is closed. The words are our own. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { ofStopped } from "../../web/job/closing_items.ts";
import { keyOf, needsOwnReason } from "../../web/job/closing_kinds.ts";
import {
  besideSigned,
  choosesFirst,
  foundSince,
  idBehind,
  inClosing,
  isSameClosing,
  linesOf,
  listOf,
  markOf,
  namedBeside,
  namedIn,
  reasonsOf,
  reasonsOfAll,
  saidOn,
  sayings,
  signedFirst,
  signedText,
  withoutReason,
} from "../../web/job/closing_reasons.ts";
import { differencesOn } from "./differences_of.js";
import { record, STOP } from "./made.js";

const found = [
  { kind: "visit", words: "Q01: the visit is still open", at: "", key: "visit a" },
  { kind: "not-moved", words: "Q02, jug: still at the table", at: "", key: "not-moved b" },
  { kind: "not-moved", words: "Q02, cup: still at the table", at: "", key: "not-moved c" },
];

/** A day on which these things were said, the newest last. */
function dayOf(...said) {
  const fields = said.map(([reason, of, said_by, made_by = "vera"], index) => [
    `reasons/${index}`,
    {
      value: { reason, of: of.map(({ key, words }) => ({ key, words })), ...(said_by && { said_by }) },
      made_by,
    },
  ]);
  return { record_id: "d", fields: Object.fromEntries(fields) };
}

test("the newest word counts, and an empty one takes it back", () => {
  const day = dayOf(["Known", found], ["Locked in", [found[1]]], ["", [found[2]]]);
  assert.equal(saidOn(day).get("not-moved b").reason, "Locked in");
  assert.deepEqual(withoutReason(found, saidOn(day)), [found[2]]);
});

test("what two people say otherwise of a difference stands side by side, until one takes over the other's words", () => {
  const [one] = found;
  const otherwise = (...said) => {
    const { record_id, fields } = dayOf(...said);
    const people = ["vera", "otto"].map((id) => [
      `people/${id}`,
      { value: { person_id: id, name: id.toUpperCase() } },
    ]);
    return saidOn({ record_id, fields: { ...fields, ...Object.fromEntries(people) } }).get(one.key).otherwise;
  };
  const [vera, otto] = [
    ["Known", [one], "", "vera"],
    ["Nobody knows", [one], "", "otto"],
  ];
  assert.deepEqual(otherwise(vera, otto), [{ by: "VERA", reason: "Known" }]);
  assert.deepEqual(otherwise(vera, otto, ["Nobody knows", [one], "", "vera"]), []);
  assert.deepEqual(otherwise(vera, ["Locked in", [one], "", "vera"]), [], "his own word before");
  assert.deepEqual(otherwise(vera, ["", [one], "", "otto"], otto), [], "it was taken back");
  assert.deepEqual(otherwise(vera, ["Known", [one], "Otto"]), []);
  assert.deepEqual(otherwise(vera, ["Locked in", [one], "Otto"]), [{ by: "VERA", reason: "Known" }]);
});

test("what is said now overrules what a clock that is ahead said before", () => {
  const ahead = "0190a0c8-5f80-7000-8000-000000000000";
  const day = {
    record_id: "d",
    fields: { [`reasons/${ahead}`]: { value: { reason: "Wrong", of: [found[1]] } } },
  };
  const id = idBehind(day, 0x0190a0000000, new Uint8Array(10));
  assert.ok(id > ahead, id);
  const right = { value: { reason: "Right", of: [found[1]] } };
  const then = { ...day, fields: { ...day.fields, [`reasons/${id}`]: right } };
  assert.equal(saidOn(then).get("not-moved b").reason, "Right");
  const later = idBehind(day, 0x0190b0000000, new Uint8Array(10));
  assert.equal(later.slice(0, 13), "0190b000-0000", "else it goes by the clock");
});

test("one reason for many is said in as many operations as it takes", () => {
  const many = Array.from({ length: 450 }, (_, index) => ({ ...found[1], key: `not-moved ${index}` }));
  let id = 0;
  const said = sayings(many, { reason: "Known", said_by: "", day_id: "d", newId: () => `${id++}` });
  assert.deepEqual(
    said.map(({ of }) => of.length),
    [200, 200, 50],
  );
  assert.ok(said.every((saying) => !("said_by" in saying)));
});

test("what of one saying was mended is not named: the rest is said again in the same words", () => {
  const day = dayOf(["Known", found], ["Locked in", [found[1]]]);
  const here = found.slice(0, 2);
  const { reason_ids, again } = listOf(day, here, saidOn(day), () => "new");
  assert.deepEqual(reason_ids, ["1", "new"]);
  assert.deepEqual(again, [
    { day_id: "d", reason_id: "new", reason: "Known", of: [{ key: "visit a", words: found[0].words }] },
  ]);
  const before = signedText(linesOf(day, here, saidOn(day)));
  const { reason, of } = again[0];
  const then = { ...day, fields: { ...day.fields, "reasons/new": { value: { reason, of } } } };
  const closed = { closed_by: "", second_by: "", named: [], digest: "x", reason_ids };
  assert.equal(signedText(namedIn(then, closed)), before, "what was signed");
});

test("what came up since the first signed, or was said anew, stands apart", () => {
  const day = dayOf(["Known", found.slice(0, 2)]);
  const marks = linesOf(day, found.slice(0, 2), saidOn(day)).map(markOf);
  const first = { by: "Ana", digest: "", marks };
  assert.deepEqual(besideSigned(found, saidOn(day), first), {
    stands: found.slice(0, 2),
    since: [found[2]],
    mended: 0,
  });
  const later = dayOf(["Known", found.slice(0, 2)], ["Otherwise", [found[1]]]);
  assert.deepEqual(besideSigned([found[1]], saidOn(later), first).since, [found[1]]);
  assert.equal(besideSigned([found[1]], saidOn(day), first).mended, 1);
});

test("a closing of before has its reasons in itself", () => {
  const named = found.map(({ words }) => words);
  const lines = namedIn(dayOf(), { closed_by: "", second_by: "", named, reasons: ["", "Known", ""] });
  assert.deepEqual(lines[1], { key: "", words: named[1], reason: "Known", said_by: "" });
  const [unsaid] = namedIn(dayOf(), { closed_by: "", second_by: "", named });
  assert.equal(unsaid.reason, "", "or none at all");
  const alike = { ...found[1], words: named[0], key: "visit z" };
  assert.deepEqual(foundSince([found[0], alike], lines), [alike], "one of two that are called alike");
});

test("of a second closing that names what the first did it is said in few words, and the rest one by one", () => {
  const line = ({ key, words }, reason = "") => ({ key, words, reason, said_by: "" });
  const first = found.slice(0, 2).map((one) => line(one, "Known"));
  assert.equal(
    namedBeside(
      found.slice(0, 2).map((one) => line(one)),
      first,
    ),
    "the same 2 differences",
  );
  assert.equal(namedBeside([], []), "no difference");
  assert.equal(namedBeside([], first), "no difference");
  assert.equal(namedBeside([line(found[0])], first), "1 of the same differences");
  assert.equal(
    namedBeside(
      found.map((one) => line(one)),
      first,
    ),
    "2 of the same differences, and Q02, cup: still at the table",
  );
  assert.equal(
    namedBeside(
      found.map((one) => line(one)),
      first.slice(1),
    ),
    "1 of the same differences; Q01: the visit is still open; Q02, cup: still at the table",
  );
  assert.equal(namedBeside([line(found[2])], first), "Q02, cup: still at the table");
});

test("what is found since is told by what it is known by, whatever it is called", () => {
  const named = [{ key: "visit a", words: "as it was called", reason: "", said_by: "" }];
  assert.deepEqual(foundSince(found, named), found.slice(1));
  assert.equal(inClosing("x".repeat(1000)).length, 400);
});

test("the text that is signed is the office's", () => {
  const day = dayOf(["“Known”\t&\u2028 stays", [found[1], found[0]], "Ana"]);
  const line = (index) => `["${found[index].key}","${found[index].words}","“Known”\\t&\u2028 stays","Ana"]`;
  assert.equal(signedText(linesOf(day, found.slice(0, 2), saidOn(day))), `[${line(1)},${line(0)}]`);
});

test("no reason is offered that the record does not bear out", () => {
  const offered = (kind, holds) => reasonsOf({ kind, ...(holds && { holds }) }).join("; ");
  for (const kind of ["stopped", "held", "incident", "heard-late"])
    assert.doesNotMatch(offered(kind), /was decided/, kind);
  assert.match(offered("stopped", "apart"), /^Locked in, as was decided/);
  assert.doesNotMatch(offered("stopped", "decided"), /Locked in/, "it may have gone with the police");
  assert.doesNotMatch(offered("new-damage"), /was told/);
  assert.match(offered("new-damage", "told"), /^The owner was told/);
  assert.doesNotMatch(offered("new-damage", "told"), /told tomorrow/);
  for (const kind of ["load-short", "item-short", "piece-short", "record-without-item"])
    assert.doesNotMatch(offered(kind), /locked|next load/i, `${kind}: it is not here`);
  assert.doesNotMatch(offered("no-receipt"), /Still here/, "the owner has left");
  assert.match(offered("visit", "here"), /Still here/);
  for (const kind of ["no-receipt", "unsigned", "receipt-changed", "ticket-on-two", "visit", "count"])
    assert.match(offered(kind), /rings them/, kind);
  assert.doesNotMatch(offered("no-receipt", "no-number"), /rings/, "there is no number to ring");
  assert.match(offered("no-receipt", "no-number"), /No telephone number is known/);
  assert.doesNotMatch(offered("seal-differs"), /noted/);
  for (const kind of ["seal-differs", "load-count", "no-receipt", "not-moved", "new-damage", "held"])
    assert.match(
      offered(kind),
      /^Known, and stays so/,
      `${kind}: its first key says that nobody did anything`,
    );
});

test("what is stopped and not decided, and what is not here, is not passed by as known with one key", () => {
  for (const kind of ["stopped", "incident", "load-short", "item-short", "piece-short"]) {
    assert.ok(!reasonsOf({ kind }).includes("Known, and stays so"), kind);
    assert.ok(choosesFirst([{ kind }, { kind: "views" }]), kind);
  }
  assert.match(reasonsOf({ kind: "stopped" })[0], /^Nobody has decided/);
  assert.equal(reasonsOf({ kind: "load-short" })[0], "Not found yet");
  // A box that still stands at the table is not missing.
  for (const known of [
    { kind: "not-arrived" },
    { kind: "stopped", holds: "decided" },
    { kind: "held" },
    { kind: "visit" },
  ])
    assert.equal(choosesFirst([known]), false);
});

test("whether it was decided, and how, is read off the record", () => {
  const day = { ...dayOf(), kind: "day", disagreements: [] };
  const holds = (values) =>
    ofStopped(record("item", "tin", { "cautions/1": STOP, ...values }), "Q01", day)[0]?.holds;
  const decided = (decision) => ({
    "caution-decisions/1": { decision, decided_by: "Ana", cleared_for: "", place: "", note: "" },
  });
  assert.equal(holds({}), undefined);
  assert.equal(holds(decided("isolated")), "apart");
  assert.equal(holds(decided("referred")), "decided");
  const two = { ...decided("isolated"), "cautions/2": STOP };
  assert.equal(holds(two), undefined, "of one of the two nobody has decided");
});

test("one reason for all is one that is true of each of them", () => {
  const of = [{ kind: "stopped", holds: "apart" }, { kind: "stopped" }];
  assert.deepEqual(reasonsOfAll(of), ["Whoever decides is told"]);
  assert.deepEqual(reasonsOfAll(of.slice(0, 1)), reasonsOf(of[0]));
  assert.deepEqual(reasonsOfAll([]), []);
});

test("a kind has its own reasons; a difference is known by its kind, its record and what is said", () => {
  assert.ok(reasonsOf(found[1]).includes("Being looked for"));
  assert.ok(reasonsOf({ kind: "load-count" }).some((reason) => /Counted again/.test(reason)));
  assert.ok(reasonsOf({ kind: "views" }).includes("The desk does it"));
  assert.match(keyOf("visit", "a", "x"), /^visit a [0-9a-f]{8}$/);
});

test("what a desk mends off the records has one reason for all, and each other difference its own", () => {
  for (const kind of ["disagreement", "one-name", "class", "passed-over", "zones", "views"])
    assert.equal(needsOwnReason({ kind }), false, kind);
  for (const kind of ["incident", "stopped", "not-moved", "no-receipt", "item-over"])
    assert.equal(needsOwnReason({ kind }), true, kind);
});

test("what is said of two who have one name stands, whoever else comes under it or leaves", () => {
  const person = (person_id, more = {}) => ({
    person_id,
    name: "Cy Orchard",
    roles: ["table"],
    left: false,
    ...more,
  });
  const keyAmong = (...people) => {
    const fields = Object.fromEntries(people.map((one) => [`people/${one.person_id}`, one]));
    const day = record("day", "d", fields);
    const found = differencesOn({ day, visits: [], items: [], containers: [], plan: () => null });
    return found.find(({ kind }) => kind === "one-name").key;
  };
  const key = keyAmong(person("b"), person("a"));
  assert.equal(keyAmong(person("a"), person("c"), person("b")), key);
  assert.equal(keyAmong(person("a"), person("c"), person("b", { left: true })), key);
});

test("of two who each signed first the earlier is the first, whatever came here first, and what is taken back is none", () => {
  const signing = (by, minute, more = {}) => ({
    value: { signed_by: by, reason_ids: ["r"], count: 1, digest: "d", ...more },
    made_at: `2026-03-14T18:${minute}:00.000Z`,
    device_id: by,
  });
  const of = [{ key: "load-short a", words: "of the load", reason: "Stays" }];
  const said = { value: { reason: "Stays", of: [{ key: of[0].key, words: of[0].words }] } };
  const firsts = (signings) => signedFirst({ fields: { "reasons/r": said, ...signings } });
  const two = {
    "first-signings/a": signing("Edwin Sallow", "42"),
    "first-signings/b": signing("Maud Lind", "41"),
  };
  assert.deepEqual(
    firsts(two).map(({ by, device_id }) => [by, device_id]),
    [
      ["Maud Lind", "Maud Lind"],
      ["Edwin Sallow", "Edwin Sallow"],
    ],
  );
  const [first] = firsts(two);
  assert.deepEqual(first.marks, [markOf({ ...of[0], said_by: "" })]);
  const found = [{ kind: "load-short", ...of[0] }];
  const reasons = new Map([[of[0].key, { reason: "Stays", reason_id: "r", said_by: "" }]]);
  assert.deepEqual(besideSigned(found, reasons, first).since, []);
  const anew = new Map([[of[0].key, { reason: "Looked for", reason_id: "s", said_by: "" }]]);
  assert.deepEqual(besideSigned(found, anew, first).since, found, "said anew since it was signed");
  const again = { ...two, "first-signings/c": signing("maud  lind", "50") };
  assert.deepEqual(
    firsts(again).map(({ id }) => id),
    ["a", "c"],
    "of one person the newest",
  );
  const back = { ...two, "first-signings/b": signing("Maud Lind", "41", { digest: null, reason_ids: [] }) };
  assert.deepEqual(
    firsts(back).map(({ id }) => id),
    ["a"],
  );
});

test("two closings at once are one where the same two named the same, whoever signed first", () => {
  const [one, two] = found;
  const day = dayOf(["known", [one], ""], ["lost", [two], ""], ["known", [one], ""], ["stolen", [two], ""]);
  const closing = (closed_by, second_by, ...reason_ids) => ({
    ...{ closed_by, second_by, named: [], digest: "d", reason_ids },
  });
  const first = closing("Vera Thorn", "Otto Glave", "0", "1");
  assert.ok(isSameClosing(day, first, closing("otto glave", "Vera Thorn", "1", "2")));
  assert.ok(!isSameClosing(day, first, closing("Otto Glave", "Ana Reed", "0", "1")), "others closed it");
  assert.ok(!isSameClosing(day, first, closing("Otto Glave", "Vera Thorn", "0")), "one names less");
  assert.ok(!isSameClosing(day, first, closing("Otto Glave", "Vera Thorn", "0", "3")), "another reason");
  const before = (...named) => ({ closed_by: "Vera Thorn", second_by: "Otto Glave", named });
  assert.ok(isSameClosing(day, before("a", "b"), before("b", "a")));
  assert.ok(!isSameClosing(day, before("a", "b"), before("a", "c")));
});
