/** What a device says of what it keeps: each sort by its own reason, in the number that it has. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { keptWords, sentAgainWords } from "../../web/job/kept_words.ts";

const kept = (operations, originals, thumbs) => ({
  operations: { count: operations, bytes: 10 },
  originals: { count: originals, bytes: 20 },
  thumbs: { count: thumbs, bytes: 30 },
});

test("nothing is said of what is not there, and one thing is one", () => {
  assert.deepEqual(keptWords(kept(0, 0, 0), null), []);
  const [only, ...others] = keptWords(kept(1, 0, 0), null);
  assert.deepEqual(others, []);
  assert.equal(only.words, "1 record");
  assert.match(only.why, /The desk has it in one place only.* It stays here until 30 days/);
});

test("each sort has its own reason", () => {
  const why = (safe_seq) => keptWords(kept(2, 3, 4), safe_seq).map((group) => group.why);
  const [records, originals, pictures] = why(null);
  assert.match(records, /They stay here until 30 days after/);
  assert.match(originals, /as long as there is room/);
  for (const safe_seq of [null, 0, 7])
    assert.equal(why(safe_seq)[2], pictures, "small pictures wait for no copy");
  assert.match(pictures, /for the screens/);
  assert.match(why(0)[1], /none of its second places is in reach/);
  assert.match(why(7)[0], /until every copy in reach has them/);
});

test("all was brought only when nothing waits", () => {
  assert.match(sentAgainWords(16, 0), /^16 records were sent again: all that this device could bring/);
  assert.match(sentAgainWords(1, 0), /^1 record was sent again/);
  const left = sentAgainWords(16, 2);
  assert.match(left, /2 of what is here still wait/);
  assert.doesNotMatch(left, /all/);
});
