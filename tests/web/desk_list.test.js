/** A desk's list: how it is narrowed, and what becomes of it while things change under it. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { SEVERITY_WORDS, TROUBLES } from "../../web/job/queue_words.ts";
import { withMore, withRow, withRows } from "../../web/job/rows.ts";

const row = (item_id, words = "") => ({
  item_id,
  entry_seq: item_id.charCodeAt(0) - 96,
  short_description: words,
});
const page = (entries, more = {}) => ({
  cursor: 1,
  entries,
  count: entries.length,
  count_capped: false,
  counts: { state: {} },
  alone: [],
  next: 40,
  ...more,
});
const names = (list) =>
  list.entries.map(({ item_id, short_description }) => `${item_id}${short_description}`);

test("a changed row is shown in its place, a new one at the end, and the others stay as they were", () => {
  const told = page([row("b", " anew"), row("d")], { cursor: 2, count: 9, count_capped: true, counts: null });
  const list = withRows(page([row("a"), row("b"), row("c")]), told, ["b", "d"], "");
  assert.deepEqual(names(list), ["a", "b anew", "c", "d"]);
  assert.equal(list.next, 40, "where the next page begins has not changed");
  const { cursor, count, count_capped, counts } = list;
  assert.deepEqual([count, count_capped, counts], [9, true, { state: {} }]);
  assert.equal(cursor, 1, "the others are as old as they were");
});

test("a row that comes to fit is shown where it belongs, and on a later page with that", () => {
  const before = page([row("b"), row("e")], { next: 5 });
  assert.deepEqual(names(withRows(before, page([row("a"), row("c"), row("f")]), ["a", "c", "f"], "")), [
    "a",
    "b",
    "c",
    "e",
  ]);
  assert.deepEqual(names(withRows({ ...before, next: null }, page([row("f")]), ["f"], "")), ["b", "e", "f"]);
});

test("a page that comes a second time is no page more", () => {
  const list = page([row("a"), row("b")], { next: 2 });
  const once = withMore(list, page([row("c"), row("d")], { next: 4 }), 2);
  assert.deepEqual(names(once), ["a", "b", "c", "d"]);
  assert.equal(withMore(once, page([row("c"), row("d")], { next: 4 }), 2), once);
});

test("a row that is not as was asked for any more leaves, but for the one that is open", () => {
  const before = page([row("a"), row("b"), row("c")]);
  assert.deepEqual(names(withRows(before, page([]), ["a", "b"], "")), ["c"]);
  assert.deepEqual(names(withRows(before, page([]), ["a", "b"], "a")), ["a", "c"]);
  assert.deepEqual(withRows(before, page([], { counts: { state: { new: 1 } } }), [], "").counts.state, {
    new: 1,
  });
});

test("in the place of rows that leave a full page come those behind it", () => {
  const before = page([row("a"), row("b"), row("c")], { next: 3 });
  const filled = { after: 3, entries: [row("e"), row("g")], next: 7 };
  const list = withRows(before, page([row("c", " anew")], { filled }), ["a", "b", "c"], "");
  assert.deepEqual(names(list), ["c anew", "e", "g"]);
  assert.equal(list.next, 7);
  const last = withRows(before, page([row("f")], { filled: { ...filled, next: null } }), ["a", "f"], "");
  assert.deepEqual(names(last), ["b", "c", "e", "f", "g"], "each once, and one that came there meanwhile");
  assert.equal(last.next, null);
  const longer = { ...before, next: 9 };
  assert.equal(withRows(longer, page([], { filled }), ["a"], "").next, 9, "more was shown meanwhile");
});

test("a row that says nothing new leaves the list as it is, so that nothing is drawn again", () => {
  const list = page([row("a"), row("b")]);
  assert.equal(withRow(list, row("b")), list);
  assert.equal(withRow(list, row("z")), list, "what the list does not show is not put into it");
  const changed = withRow(list, row("b", " anew"));
  assert.deepEqual(names(changed), ["a", "b anew"]);
  assert.equal(changed.entries[0], list.entries[0]);
});

test("a severity is called in the list as it is where findings are made, the gravest first", () => {
  const words = readFileSync(new URL("../../intake/examination/data/words.yaml", import.meta.url), "utf-8");
  const made = [...words.matchAll(/- \{severity: (\d), words: "([^"]*)"/g)].map(([, grade, said]) => [
    grade,
    said,
  ]);
  made[0] = ["0", "none to speak of"]; // beside those of which nothing was found, "none" would be read as that
  assert.deepEqual(SEVERITY_WORDS, [...made.reverse(), ["none", "none on record"]]);
});

test("a list is narrowed to what the office knows", () => {
  const listing = readFileSync(new URL("../../intake/cataloguing/listing.py", import.meta.url), "utf-8");
  const listIn = (name) => {
    const [, known] = new RegExp(`^${name} = \\(\\n([^=]*?)\\n\\)$`, "m").exec(listing);
    return new Set([...known.matchAll(/"([^"]*)"/g)].map(([, word]) => word));
  };
  assert.deepEqual(new Set(TROUBLES.map(([name]) => name)), listIn("KINDS_OF_TROUBLE"));
  assert.equal(new Set(TROUBLES.map(([, words]) => words)).size, TROUBLES.length);
});
