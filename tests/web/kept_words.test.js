/** What a device says of what it keeps: each sort by its own reason, in the number that it has. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { broughtWords, keptWords } from "../../web/job/kept_words.ts";

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

test("what an office has that does not know this device is not said to be at the desk", () => {
  for (const safe_seq of [null, 0, 7])
    for (const { why } of keptWords(kept(1, 2, 3), safe_seq, false)) {
      assert.doesNotMatch(why, /The desk has/);
      assert.match(why, /shows once this device is paired again/);
    }
  const [one, several] = keptWords(kept(1, 2, 0), null, false);
  assert.match(one.why, /had it; whether this one has it /);
  assert.match(several.why, /had them; whether this one has them /);
});

test("all was brought only when nothing waits, and nothing is said where there was nothing to bring", () => {
  assert.match(broughtWords(16, 0), /brought it 16 records: all that it had/);
  assert.match(broughtWords(1, 0), /brought it 1 record:/);
  const left = broughtWords(16, 2);
  assert.match(left, /2 of what is here still wait/);
  assert.doesNotMatch(left, /all/);
  assert.equal(broughtWords(0, 0), "");
});
