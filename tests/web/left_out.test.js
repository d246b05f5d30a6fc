/**
 * What a text left out although it stands on the record, or said although it does not: each case as it should read.
 * Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, one, paragraph } from "./as_text.js";

test("what was looked for on a setting stands in the text, with its loupe, though no stones are set in it", () => {
  const hair = { denials: [["setting", "stone-missing", "loupe"]], not_there: ["main-stone", "side-stones"] };
  const text = paragraph("jewellery", hair);
  assert.match(text, /The setting is complete, seen through a loupe x10\./);
  assert.match(text, /Examined with a lamp and a loupe x10\./);
  const stones = answer("jewellery", "How large", hair);
  assert.match(stones, /It has no main stone or side stones\./);
  assert.doesNotMatch(stones, /No stones are set in it/);
  const beads = { ...hair, denials: [], not_there: [...hair.not_there, "setting"] };
  assert.match(answer("jewellery", "How large", beads), /No stones are set in it\./);
});

test("a stone that is missing from a setting is told where the stones are asked for", () => {
  const out = one("setting", "stone-missing", { severity: 3, extent_count: 1 });
  assert.match(answer("jewellery", "How large", out), /One stone missing from the setting\./);
});

test("of how many of a set nobody counted it is not said that it is one", () => {
  const tiles = {
    ...one("set-count", "colour-mismatch"),
    facts: { short_description: "nine tiles", pieces: 9 },
  };
  assert.match(paragraph("ceramics", tiles), /One or more tiles of another colour in the set\./);
  const counted = one("set-count", "associated-part", { extent_count: 1 });
  assert.match(paragraph("silver-plate", counted), /An associated piece in the set\./);
  const named = one("set-count", "associated-part", { note: "the cover" });
  assert.match(paragraph("ceramics", named), /An associated piece in the set: the cover\./);
});
