/** The look's parts that are plain functions, and the contrast of its colours. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { zonesOfEdge } from "../../web/job/desk.ts";
import { zonesOf } from "../../web/job/edge.ts";
import { edgePaths } from "../../web/parts/edge_paths.ts";

test("the edge is whole where clear and has one stretch for each zone", () => {
  const { spoken, skipped, thread, inHand } = edgePaths(["clear", "clear"]);
  assert.equal(spoken, "M0 0H10V10H0zM10 0H20V10H10z");
  assert.deepEqual([skipped, thread, inHand], ["", "", ""]);
});

test("a zone that nobody spoke of is a thread, one not examined is dashed, and neither is a block", () => {
  const { spoken, skipped, thread } = edgePaths(["untouched", "not-examined"]);
  assert.equal(spoken, "");
  assert.match(thread, /^M0 9h10$/);
  assert.match(skipped, /^M10 9h10$/);
});

test("a worse finding is a deeper nick, and a severe one goes through", () => {
  const depths = [0, 1, 2, 3].map((severity) =>
    Number(/L5 ([\d.]+)/.exec(edgePaths([severity]).spoken)?.[1]),
  );
  assert.deepEqual(
    depths.toSorted((one, other) => one - other),
    depths,
  );
  assert.equal(new Set(depths).size, 4);
  assert.equal(edgePaths([4]).spoken.match(/z/g)?.length, 2); // two pieces
  assert.equal(edgePaths([3]).spoken.match(/z/g)?.length, 1);
});

test("the zone in hand has a box of its own, higher than the strip", () => {
  assert.equal(edgePaths(["clear", "untouched", "clear"], 1).inHand, "M10 -3.5h10v17h-10z");
});

const field = (value) => ({ value, operation_id: "", made_at: "", made_by: "" });
const PLAN = {
  zones: [
    { zone: "rim", members: [] },
    { zone: "ears", members: ["proper right", "proper left"] },
    { zone: "foot", members: [] },
  ],
};

test("what was said of each zone stands in the plan's order, the worst finding first", () => {
  const finding = (zone, severity, withdrawn = false) => field({ zone, severity, withdrawn });
  const record = {
    fields: {
      "zones/foot": field({ state: "not-examined" }),
      "zones/rim": field({ state: "finding" }),
      "findings/1": finding("rim", 1),
      "findings/2": finding("rim", 3),
      "findings/3": finding("ears/proper left", null),
      "findings/4": finding("foot", 4, true),
    },
  };
  assert.deepEqual(zonesOf(PLAN, record), [3, "untouched", 1, "not-examined"]);
  const unsaid = {
    fields: { "zones/rim": field({ state: "finding" }), "zones/foot": field({ state: "clear" }) },
  };
  assert.deepEqual(
    zonesOf(PLAN, unsaid),
    [1, "untouched", "untouched", "clear"],
    "found, and nobody said what",
  );
});

test("of a row of the desk's list the office says a sign a zone: clear, not examined, untouched, or how grave", () => {
  assert.deepEqual(zonesOfEdge("cn.40"), ["clear", "not-examined", "untouched", 4, 0]);
  assert.deepEqual(zonesOfEdge(""), []);
});

test("what was found before the class was changed is on the edge, though the plan has no such zone", () => {
  const found = (zone, withdrawn = false) => field({ zone, severity: 2, withdrawn });
  const record = { fields: { "findings/1": found("spout"), "findings/2": found("handle", true) } };
  assert.deepEqual(zonesOf(PLAN, record), ["untouched", "untouched", "untouched", "untouched", 2]);
});

const CSS = readFileSync(new URL("../../web/styles/tokens.css", import.meta.url), "utf8");
const [LIGHT, DARK] = CSS.split("@media").map((part) =>
  Object.fromEntries(
    [...part.matchAll(/--([a-z-]+): (#[0-9a-f]{6})/g)].map(([, name, value]) => [name, value]),
  ),
);

/** Source: WCAG 2.2, definitions of relative luminance and contrast ratio. */
function contrast(one, other) {
  const luminance = (colour) => {
    const [red, green, blue] = [1, 3, 5].map((at) => {
      const channel = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

// Source: the wcag-contrast-ratio library, five places each.
const RATIOS = [
  ["#000000", "#ffffff", 21],
  ["#777777", "#ffffff", 4.47809], // and not rounded up to 4.5
  ["#767676", "#ffffff", 4.54222],
  ["#949494", "#ffffff", 3.03347],
  ["#959595", "#ffffff", 2.99535],
  ["#595959", "#ffffff", 7.00473],
  ["#ff0000", "#ffffff", 3.99848],
  ["#0000ff", "#ffffff", 8.59247],
  ["#008000", "#ffffff", 5.1374],
  ["#ffa500", "#ffffff", 1.97479],
  ["#ffff00", "#000000", 19.556],
  ["#757575", "#f5f5f5", 4.22619],
];

test("contrast is as others reckon it, whichever colour comes first", () => {
  for (const [one, other, ratio] of RATIOS)
    for (const found of [contrast(one, other), contrast(other, one)])
      assert.ok(Math.abs(found - ratio) < 0.00001, `${one} on ${other}: ${found}`);
});

// Source: WCAG 2.2, success criteria 1.4.3 (4.5 for text) and 1.4.11 (3 for what tells a control).
const TEXT = [
  ["ink", "hall sheet wash lit"],
  ["soft", "hall sheet wash lit"],
  ["on-manila", "manila"],
  ["on-fill", "fill"],
  ["red", "hall sheet"],
  ["on-red", "red"],
];

for (const [scheme, colours] of [
  ["light", LIGHT],
  ["dark", { ...LIGHT, ...DARK }],
]) {
  test(`words can be read on what they stand on, ${scheme}`, () => {
    for (const [ink, grounds] of TEXT)
      for (const ground of grounds.split(" ")) {
        const ratio = contrast(colours[ink], colours[ground]);
        assert.ok(ratio >= 4.5, `${ink} on ${ground}: ${ratio.toFixed(2)}`);
      }
  });
  test(`the outline of a key can be told from its ground, ${scheme}`, () => {
    for (const ground of ["hall", "sheet", "wash"])
      assert.ok(contrast(colours.edge, colours[ground]) >= 3, ground);
  });
}

test("nothing but the tokens names a colour", () => {
  for (const name of ["base", "parts", "screens", "table", "hall", "desk", "office", "words", "print"]) {
    const css = readFileSync(new URL(`../../web/styles/${name}.css`, import.meta.url), "utf8");
    assert.doesNotMatch(css.replace(/\/\*.*?\*\//gs, ""), /#[0-9a-f]{3,8}\b|\brgba?\(|\bhsl/i, name);
  }
});

test("a finding of no severity is none, and one that nobody graded yet is slight", () => {
  const found = (severity) => ({ zone: "rim", term: "chip", severity, withdrawn: false });
  const edge = (...severities) => {
    const findings = severities.map((severity, at) => [`findings/${at}`, field(found(severity))]);
    const fields = { "zones/rim": field({ state: "finding" }), ...Object.fromEntries(findings) };
    return zonesOf({ zones: [{ zone: "rim" }] }, { fields, disagreements: [] });
  };
  assert.deepEqual([edge(0), edge(null), edge(0, 2), edge()], [[0], [1], [2], [1]]);
});
