/** What tells a record in sentences comes after the first screen: whatever stands by then is told anew. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  denialWords,
  findingWords,
  placedWords,
  tellInSentences,
  testWords,
} from "../../web/job/list_words.ts";
import { effect } from "../../web/node_modules/@preact/signals-core/dist/signals-core.mjs";
import { finding } from "./any_words.js";
import { book } from "./plan_book.js";

const plan = book.plans.clock;
const lists = { plan, book };
const { zone } = plan.zones[0];
const found = finding({ zone, term: "scratch" });
const tried = { result: "fails", why: "", note: "" };

test("a screen that stands is told its findings, denials and trials anew once sentences are here", () => {
  tellInSentences({ finding: () => "early", denial: () => "early", trial: () => "early" });
  const told = [];
  effect(() => told.push(findingWords(lists, found)));
  effect(() => told.push(placedWords(lists, found)));
  effect(() => told.push(denialWords(lists, { zone, term: "crack", light: "plain" })));
  effect(() => told.push(testWords(lists, plan.tests[0].test, tried)));
  assert.ok(told.every((words) => words.includes("early")));

  tellInSentences({ finding: () => "later", denial: () => "later", trial: () => "later" });
  assert.equal(told.filter((words) => words.includes("later")).length, 4, told.join(" | "));
});

test("before they are here a place and a fault are told by their names, plan at hand or not", () => {
  tellInSentences(null);
  const bare = { plan: null, book: null };
  for (const of of [lists, bare]) {
    assert.match(placedWords(of, found), /^scratch on /);
    assert.match(findingWords(of, found), /^scratch on .*, severity \d/);
    assert.match(denialWords(of, { zone, term: "crack", light: "plain" }), /^no crack on /);
  }
});
