/** Of how many pieces a text speaks, and which; and what is said of one weighing, a case each. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";

const named = (short_description, pieces) => ({ facts: { short_description, pieces } });

test("pieces that are zones of their own leave nothing open of which of them has a fault", () => {
  const repaired = one("body", "retouched");
  const of = (name, pieces) => paragraph("ceramics", { ...named(name, pieces), ...repaired });
  assert.doesNotMatch(of("tureen, cover and stand", 3), /which of the/);
  assert.doesNotMatch(of("jar with cover", 2), /which of the/);
  assert.match(of("three jars", 3), /which of the three/);
  assert.match(of("two tureens and a stand", 3), /which of the three/);
  assert.match(of("jug, cover and bowl", 3), /which of the three/);
});

test("what was tried of a tureen with its cover is said of it and not of one or more", () => {
  const rang = { tests: { ring: ["works-in-part", "", "the body dull"] } };
  assert.match(
    paragraph("ceramics", { ...named("tureen, cover and stand", 3), ...rang }),
    /It rang dully when tapped once: the body dull\./,
  );
  assert.match(paragraph("ceramics", { ...named("three jars", 3), ...rang }), /One or more rang dully/);
});

test("two dolls have two heads, and two bears two faces", () => {
  const dolls = paragraph("doll", {
    ...named("two dolls", 2),
    denials: [["head", "crack", "lamp"]],
    not_examined: { mouth: "covered" },
  });
  assert.match(dolls, /\bheads\b/);
  assert.match(dolls, /inside the heads/);
  assert.doesNotMatch(dolls, /(?<!mark on )\bthe (?:head|mouth)\b/);
  const bears = paragraph("soft-toy", {
    ...named("two bears", 2),
    not_examined: { head: "covered", face: "covered", chest: "covered", tail: "covered", muzzle: "covered" },
  });
  assert.doesNotMatch(bears, /\bthe (?:head|face|chest|tail|muzzle)\b/);
  assert.match(bears, /\bfaces\b/);
});

test("one weighing is told one way: what was weighed has a weight that was not noted", () => {
  const weighed = { tests: { weigh: ["works", "", ""] } };
  assert.match(paragraph("medal-coin", weighed), /It was weighed; the weight was not noted\./);
  const loaded = { tests: { weigh: ["not-done", "loaded base", ""] } };
  const said = answer("silver-plate", "What does it weigh", loaded);
  assert.match(said, /Not weighed: loaded base\./);
  assert.doesNotMatch(said, /[Ww]eight not taken/);
  assert.match(answer("silver-plate", "What does it weigh", {}), /[Ww]eight not taken/);
});

test("a repaired brooch has no ring size", () => {
  const brooch = { not_there: ["size-change", "shoulders"], ...one("mount", "solder-repair") };
  assert.equal(answer("jewellery", "Which ring size", brooch), "Does not apply: no ring.");
  assert.doesNotMatch(answer("jewellery", "Which ring size", one("mount", "solder-repair")), /no ring/);
});
