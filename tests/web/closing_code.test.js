/** The code of a closing's second person: the same on every device, another for everybody else. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { closingCode, fnv1a } from "../../web/job/closing_code.ts";

test("the hash is the standard's", () => {
  // RFC 9923, test vectors of FNV-1a with 32 bits: "", "a", "foobar".
  assert.equal(fnv1a(""), 0x811c9dc5);
  assert.equal(fnv1a("a"), 0xe40c292c);
  assert.equal(fnv1a("foobar"), 0xbf9cf968);
});

test("a code is four digits, of one person on one day", () => {
  const people = Array.from({ length: 300 }, (_, index) => `person-${index}`);
  const codes = people.map((person) => closingCode("one day", person));
  for (const code of codes) assert.match(code, /^\d{4}$/);
  assert.ok(
    codes.some((code) => code.startsWith("0")),
    "small numbers have noughts",
  );
  assert.ok(new Set(codes).size > 280, "few share one");
  assert.notEqual(closingCode("another day", people[0]), codes[0]);
});
