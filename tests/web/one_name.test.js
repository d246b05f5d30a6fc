/** Two spellings of one name are one person's, as the office takes them. Source: common practice. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { asOneName } from "../../web/job/one_name.ts";

test("spaces, capitals, and letters with their accents in one sign or in two make no other person", () => {
  assert.equal(asOneName(" hester  QUILLFEATHER\t"), asOneName("Hester Quillfeather"));
  assert.equal(asOneName("Zoe\u0308 Ash"), asOneName("Zo\u00eb ash"));
  assert.notEqual(asOneName("Hester Quill Feather"), asOneName("Hester Quillfeather"));
});
