/** What the numbers on a thing are on: how many pieces it has and how many numbers are two counts. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { numbersShown, partsNamed, partWords, piecesBack } from "../../web/job/number_parts.ts";
import { piecesWords } from "../../web/job/receipt.ts";
import { shown } from "../../web/job/tag.ts";
import { fieldValue } from "../../web/job/values.ts";
import { tagsHere } from "../../web/job/with_owner.ts";
import { record, tag } from "./made.js";

const { cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/number-parts.json", import.meta.url), "utf8"),
);
const TAGS = ["00002Y", "00003W", "00004V"];

function itemOf({ pieces, walked, numbers, lines = [] }) {
  const tied = numbers.map(([piece, of, mark, gone, parts], at) => [
    `tags/${TAGS[at]}`,
    tag(TAGS[at], { piece, of, mark, gone, ...(parts && { parts }) }),
  ]);
  return record("item", "i", {
    short_description: "tea set",
    ...(pieces ? { pieces } : {}),
    ...(walked ? { "zones/set-count": { state: "clear", count: walked } } : {}),
    ...Object.fromEntries(tied),
    ...Object.fromEntries(
      lines.map(([words, count, withdrawn = false], at) => [`listed/${at}`, { words, count, withdrawn }]),
    ),
  });
}

for (const each of cases)
  test(`a number is on a part or on a piece as the office has it: ${each.says}`, () => {
    const item = itemOf(each);
    const words = each.words.map((_, at) => partWords(item, fieldValue(item, `tags/${TAGS[at]}`)));
    assert.deepEqual(words, each.words);
    assert.equal(piecesWords(item), each.receipt);
    assert.equal(piecesBack(item), each.back);
    const named = each.named.map((name) => `${name} under ${shown(TAGS[each.words.indexOf(name)])}`);
    assert.deepEqual(partsNamed(item), named);
    assert.equal(numbersShown(item, tagsHere(item)).split("(").length - 1, named.length);
  });
