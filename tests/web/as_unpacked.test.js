/** A fault that was seen as a thing was unpacked: it is none that the lights of the table showed. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { AS_UNPACKED } from "../../web/job/as_unpacked.ts";
import { lightWords } from "../../web/job/list_words.ts";
import { valueWords } from "../../web/job/value_words.ts";
import { one, paragraph } from "./as_text.js";
import { book } from "./plan_book.js";

const lists = { book, plan: book.plans.ceramics };

test("what was seen as it was unpacked is told by no light, not even by that of its zone", () => {
  const seen = (light) =>
    paragraph("ceramics", { ...one("body", "crack", { light }), lights: { body: "behind" } });
  assert.match(seen(null), /body, seen with light from behind/);
  const words = seen(AS_UNPACKED);
  assert.match(words, /A crack in the body/, words);
  assert.doesNotMatch(words, /seen with light from behind|unpacked/);
  assert.match(words, /Examined with a lamp and light from behind/);
});

test("as it was unpacked is no light by which a thing was examined, and reads as words in lists", () => {
  const state = { state: "finding", reason: null, light: AS_UNPACKED, count: null };
  const found = { ...one("body", "crack", { light: AS_UNPACKED }), lights: { body: AS_UNPACKED } };
  assert.doesNotMatch(paragraph("ceramics", found), /unpacked/);
  const alone = { ...found, light: AS_UNPACKED };
  assert.match(paragraph("ceramics", alone), /[Bb]y what light it was examined is not recorded/);
  assert.equal(lightWords(lists, AS_UNPACKED), "as it was unpacked");
  assert.match(valueWords(state, "zones/body", lists), /as it was unpacked/);
});
