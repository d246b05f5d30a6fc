/** What a look with a light showed is said where something on record tells it, and else that nobody noted it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const LOOKED = /Looked at under ultraviolet for restoration([^.]*)\./;
const OPEN = "; whether anything showed was not noted";

/** What a paragraph of ceramics goes on with behind that it was looked at; the result is as on the key. */
function told(short, why = "") {
  const said = paragraph("ceramics", { ...short, tests: { ultraviolet: ["works", why, ""] } });
  const found = LOOKED.exec(said);
  assert.ok(found, said);
  return found[1];
}
const of = (term, more = {}) => ({ findings: [{ zone: "rim", term, severity: 2, ...more }] });
const denied = (light, withdrawn = false) => ({
  facts: { "denials/rim/retouched": { zone: "rim", term: "retouched", light, withdrawn } },
});

test("of a look with no word on what it showed that word is on record beside it, or nobody noted it", () => {
  for (const [short, words] of [
    [{}, OPEN],
    [of("chip", { light: "ultraviolet" }), "", "whatever it showed"],
    [of("retouched", { light: null }), "", "what it is for"],
    [of("retouched", { light: null, severity: 0 }), OPEN],
    [of("chip", { light: null }), OPEN],
    [of("retouched", { light: "lamp" }), OPEN, "another light showed it"],
    [denied("ultraviolet"), ""],
    [denied("ultraviolet", true), OPEN],
    [denied("lamp"), OPEN],
    [{ lights: { rim: "ultraviolet" } }, ""],
    [{ lights: { rim: "torch" } }, OPEN],
  ])
    assert.equal(told(short), words, JSON.stringify(short));
});

test("with nothing to report, nothing further, or nothing but on a zone of which something is told elsewhere", () => {
  const nothing = (short) => told(short, "nothing-seen");
  assert.equal(nothing({}), ", with nothing to report");
  assert.equal(nothing(of("chip", { light: "lamp" })), ", with nothing to report", "it is not for chips");
  assert.equal(nothing(of("retouched", { light: "ultraviolet" })), ", with nothing further to report");
  assert.equal(nothing(of("retouched", { light: null })), ", with nothing further to report");
  assert.equal(nothing(of("retouched", { light: "lamp" })), ", with nothing to report");
});

test("what could not be examined, and where it is usual, was not looked at, with what was left out for its reason", () => {
  for (const [not_examined, except] of [
    [{ handles: "covered" }, ", except the handles"],
    [{ rim: "covered", handles: "covered" }, ", except the rim and the handles"],
    [{ underside: "covered" }, "", "no restoration is usual there"],
    [{ handles: "covered", underside: "covered" }, ", except the handles and the underside"],
    [{ handles: "covered", underside: "no-time" }, ", except the handles"],
    [{ handles: "not-applicable" }, "", "it never had any"],
  ]) {
    assert.equal(told({ not_examined }, "nothing-seen"), `${except}, with nothing to report`);
    assert.equal(told({ not_examined }), `${except}${OPEN}`);
  }
});

test("a look into one place says nothing of the others", () => {
  const inside = (not_examined) =>
    paragraph("stringed-instrument", {
      not_examined,
      tests: { "inside-look": ["works", "nothing-seen", ""] },
    });
  const looked = /Looked at inside with a lamp for repairs and worm([^.]*)\./;
  const none = ", with nothing to report";
  assert.equal(looked.exec(inside({}))?.[1], none);
  assert.equal(looked.exec(inside({ ribs: "covered", back: "covered" }))?.[1], none);
  assert.equal(looked.exec(inside({ inside: "covered" }))?.[1], `, except the inside${none}`);
});

test("a look by which all was examined that was examined is told with that, and by no sentence of its own", () => {
  const but = (...zones) =>
    book.plans.ceramics.zones.map(({ zone }) => zone).filter((zone) => !zones.includes(zone));
  const said = (short) => paragraph("ceramics", { ...short, tests: { ultraviolet: ["works", "", ""] } });
  const [rim, body] = ["rim", "body"].map((zone) => ({ [zone]: "ultraviolet" }));
  assert.doesNotMatch(said({ untouched: but("rim"), lights: rim }), LOOKED);
  assert.doesNotMatch(said({ untouched: but("rim", "body"), lights: { ...rim, ...body } }), LOOKED);
  assert.match(said({ untouched: but("rim", "body"), lights: rim }), LOOKED, "the body by a lamp alone");
  assert.match(said({ untouched: but() }), LOOKED, "nothing was examined");
  const skipped = { lights: rim, not_examined: { body: "covered" }, untouched: but("rim", "body") };
  assert.doesNotMatch(said(skipped), LOOKED, "what could not be examined was looked at by nothing");
});
