/** The number of a tag stands on one line, in whatever words a screen draws it. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { h, options } from "../../web/node_modules/preact/dist/preact.mjs";
import { keepTagsWhole } from "../../web/parts/whole.ts";

options.vnode = undefined;
keepTagsWhole();

/** What is drawn, as text: what must stay on one line between square brackets, every other element between angles. */
function drawn(one) {
  if (one === null || one === undefined || typeof one === "boolean") return "";
  if (Array.isArray(one)) return one.map(drawn).join("");
  if (typeof one !== "object") return String(one);
  const { type, props } = one;
  const inside = drawn(props.children);
  return props.class === "whole" ? `[${inside}]` : `<${type} ${inside}>`;
}

for (const [words, element, expected] of [
  ["in a sentence", h("p", null, "crate EM0-0DQ: in the van"), "<p <span crate [EM0-0DQ]: in the van>>"],
  ["by itself", h("strong", null, "032-QBX"), "<strong <span [032-QBX]>>"],
  [
    "made of parts, which stay one run of words",
    h("a", null, "EM0-0DQ", " and ", 2, " more"),
    "<a <span [EM0-0DQ] and 2 more>>",
  ],
  ["beside elements", h("p", null, h("b", null, "1"), " 7K3-QW5"), "<p <b 1><span  [7K3-QW5]>>"],
  [
    "behind other words, which stay as they are",
    h("p", null, "on ", h("b", null, "1"), " 7K3-QW5"),
    "<p on <b 1><span  [7K3-QW5]>>",
  ],
  ["twice", h("p", null, "7K3-QW5, EM0-0DQ"), "<p <span [7K3-QW5], [EM0-0DQ]>>"],
  ["what is whole already", h("span", { class: "whole" }, "7K3-QW5"), "[7K3-QW5]"],
  ["words alone are left alone", h("option", null, "7K3-QW5"), "<option 7K3-QW5>"],
  ["no number", h("p", null, "21 x-rays, A3-B4", 3), "<p 21 x-rays, A3-B43>"],
])
  test(`a number ${words}`, () => assert.equal(drawn(element), expected));

test("other children keep their places, so that a field beside a number is not made anew", () => {
  const field = h("input", null);
  const { children } = h("p", null, "on ", "7K3-QW5", field).props;
  assert.equal(children.length, 3);
  assert.equal(children[2], field);
});
