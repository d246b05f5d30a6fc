/** What no cataloguer would sign in the answers to bidders, found by reading every one of the invented day. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { planOfKind } from "../../web/job/kind_of.ts";
import { keysOf } from "../../web/job/progress.ts";
import { recordOf } from "./any_words.js";
import { answer, one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

/** Every zone of a class but for those named. */
const allBut = (class_id, ...zones) =>
  book.plans[class_id].zones.map(({ zone }) => zone).filter((zone) => !zones.includes(zone));

test("a zone with a finding of another sort, and one around such a zone, is named with what is asked", () => {
  assert.equal(
    answer("ceramics", "Is gilding", { ...one("gilding", "stain"), not_there: ["decoration-back"] }),
    "No such fault noted on the decoration or the gilding.",
  );
  assert.match(
    answer("soft-toy", "Where is it bald", one("head", "pile-loss", { extent_mm: 40 })),
    /^Loss of pile over 40 mm on the head\. No further fault noted on the cover, /,
  );
});

test("what is no part of the thing is named where the question names it, and no fork lacks a body", () => {
  const teapot = { not_there: ["stand", "set-count"], tests: { "cover-fit": ["works", "", ""] } };
  assert.match(answer("ceramics", "Do cover", teapot), / on the cover\. It has no stand\.$/);
  const fork = { not_there: allBut("silver-plate", "tines-blades"), ...one("tines-blades", "bent") };
  assert.equal(answer("silver-plate", "Is there a repair", fork), "One or more working ends are bent.");
});

test("of a bow alone nobody asks after scroll and neck, nor for a look inside it", () => {
  const bow = { not_there: allBut("stringed-instrument", "bow-stick", "bow-frog", "outline") };
  assert.equal(answer("stringed-instrument", "Are scroll", bow), "There is no instrument with it.");
  assert.doesNotMatch(answer("stringed-instrument", "Has it cracks", bow), /inside/);
});

test("what is gone or never was is not said to be untried", () => {
  const watch = { findings: [{ zone: "movement", term: "missing-part", severity: 3 }] };
  assert.doesNotMatch(answer("watch", "Is it running", watch), /No trial/);
  const gown = { not_there: ["field", "border", "ends", "selvedges"] };
  assert.doesNotMatch(answer("textile-rug", "Has it moth", gown), /pile/);
});

test("what was not examined is said once, with its reason, and no look at it is missed beside", () => {
  const violin = { not_examined: { inside: "no-tool" } };
  const cracks = answer("stringed-instrument", "Has it cracks", violin);
  assert.match(cracks, /Not examined: the inside; the tool for it was not at hand\.$/);
  assert.doesNotMatch(cracks, /not looked at/i);
});

test("a fact and a fault that read alike are as many in the paragraph as in the answer", () => {
  const chips = {
    findings: [
      { zone: "rim", term: "chip", severity: 2 },
      { zone: "rim", term: "chip", severity: 0 },
    ],
  };
  assert.match(answer("ceramics", "Which chips", chips), /^Two chips to the rim\./);
  assert.match(paragraph("ceramics", chips), /\. Two chips to the rim\./);
});

test("a statement that something was not tried is not followed by the same in other words", () => {
  const said = { statements: { "not-collated": "not collated" } };
  assert.match(answer("book-map", "Is it complete", said), /^Not collated\. No fault/);
});

test("where a fault was looked for, or only told, something is on record of the zone", () => {
  const told = one("paint", "retouched", { certainty: "told" });
  const asked = (more) => answer("painting", "Is there retouching", { ...told, ...more });
  assert.match(asked({}), /the paint is retouched\. .*Nothing else is recorded of the paint\.$/);
  const denied = { denials: [["paint", "retouched", "ultraviolet"]] };
  assert.doesNotMatch(asked(denied), /recorded of/);
  assert.doesNotMatch(paragraph("painting", { ...told, ...denied }), /recorded of/);
  assert.match(
    answer("painting", "Is the paint stable", { ...told, ...denied }),
    /[Nn]o fault noted on the image or the paint under a lamp/,
  );
});

test("that the whole was changed bears on whether its parts are original", () => {
  const married = { origins: { outline: ["married", ""] } };
  assert.match(answer("furniture", "Are handles", married), /^The item as a whole is married/);
  assert.doesNotMatch(answer("furniture", "Is there worm", married), /married/);
});

test("papers are named whether they are there, in part, or not at all", () => {
  const coins = { not_there: ["documents", "mounting", "clasps"] };
  assert.match(answer("medal-coin", "Is the group", coins), /There are no papers with it\.$/);
  const lost = one("documents", "missing-part", { extent_count: 2 });
  assert.match(
    answer("medal-coin", "Is the group", lost),
    /^Two documents are missing\. Whether there are other papers with it was not noted\. No further fault/,
  );
  assert.match(
    answer("medal-coin", "Is the group", { ...lost, counts: { documents: 3 } }),
    /^Two of the three documents are missing\. There are other papers with it\./,
  );
  const watch = { not_there: ["packaging", "strap"] };
  assert.match(answer("watch", "Are box", watch), /It has no strap or box\.$/);
});

test("what was tried on a zone that is asked about is told, and missed only where it is asked for", () => {
  const electric = { not_there: ["clockwork", "key"] };
  const motor = (tests) => answer("tinplate-diecast", "Does the motor", { ...electric, tests });
  assert.match(
    motor({ contacts: ["works", "", ""] }),
    /^The battery contacts were looked at, and no cell put in\./,
  );
  assert.doesNotMatch(motor({}), /contacts/);
  const teapot = { tests: { "cover-fit": ["works", "", ""] } };
  assert.doesNotMatch(answer("ceramics", "Which chips", teapot), /cover fits/);
});

test("a statement answers the question that it was made for, and no question is left open beside it", () => {
  const said = {
    statements: { "belonging-not-determined": "not determined whether movement and case belong" },
  };
  const belongs = answer("clock", "Do movement", said);
  assert.match(belongs, /^Not determined whether movement and case belong\. No fault/);
  const violin = { statements: { "not-played": "not played", "label-not-relied-on": "label not relied on" } };
  assert.doesNotMatch(answer("stringed-instrument", "Is the label", violin), /played/);
  assert.doesNotMatch(answer("stringed-instrument", "How long", violin), /label/);
});

test("whether something is original is no answer to whether it runs", () => {
  const clock = { origins: { movement: ["original-probably", ""] } };
  assert.doesNotMatch(answer("clock", "Does it run", clock), /original/);
  assert.match(answer("clock", "Does it run", { origins: { movement: ["replaced", ""] } }), /is replaced/);
});

test("every question has its statements among those of its plan, each asked by one question at most", () => {
  const asKinds = Object.values(book.plans).flatMap((plan) =>
    ["thing", ...(plan.kinds ?? []).map(({ named }) => named[0])].map((name) =>
      planOfKind(plan, recordOf({ short_description: name })),
    ),
  );
  for (const plan of asKinds) {
    const whole = book.plans[plan.class_id];
    const asked = plan.questions.flatMap(({ statements }) => statements);
    const made = plan.negatives.filter(({ zones }) => !zones.length).map(({ negative }) => negative);
    assert.deepEqual([...asked].sort(), made.sort(), plan.class_id);
    for (const { zones } of plan.questions)
      for (const zone of zones)
        assert.ok(whole.zones.some((known) => known.zone === zone && keysOf(known).length));
  }
});
