/** The code of a closing's second person: of one device alone, another for everybody else. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { closingCode, fnv1a } from "../../web/job/closing_code.ts";
import { deviceOfCode, devicesOf } from "../../web/job/closing_devices.ts";

test("the hash is the standard's", () => {
  // RFC 9923, test vectors of FNV-1a with 32 bits: "", "a", "foobar".
  assert.equal(fnv1a(""), 0x811c9dc5);
  assert.equal(fnv1a("a"), 0xe40c292c);
  assert.equal(fnv1a("foobar"), 0xbf9cf968);
});

test("a code is four digits, of one person on one day", () => {
  const people = Array.from({ length: 300 }, (_, index) => `person-${index}`);
  const codes = people.map((person) => closingCode("one day", person, "phone"));
  for (const code of codes) assert.match(code, /^\d{4}$/);
  assert.ok(
    codes.some((code) => code.startsWith("0")),
    "small numbers have noughts",
  );
  assert.ok(new Set(codes).size > 280, "few share one");
  assert.notEqual(closingCode("another day", people[0], "phone"), codes[0]);
});

test("a code is the rest of the hash by ten thousand", () => {
  // Worked out here in whole numbers of any length, by RFC 9923's own words: exclusive or, then times the prime.
  const hashOf = (text) =>
    [...Buffer.from(text)].reduce(
      (hash, byte) => ((hash ^ BigInt(byte)) * 16777619n) % 2n ** 32n,
      2166136261n,
    );
  for (const device of ["phone", "table 1", "door"])
    assert.equal(Number(closingCode("d", "p", device)), Number(hashOf(`closing d p ${device}`) % 10000n));
});

test("a code tells the device that it was read off", () => {
  const of = (device) => closingCode("one day", "otis", device);
  const others = ["table 1", "table 2", "door"];
  assert.equal(new Set([...others, "desk"].map(of)).size, 4);
  for (const device of others)
    assert.equal(deviceOfCode(` ${of(device)} `, "one day", "otis", others), device);
  assert.equal(deviceOfCode(of("desk"), "one day", "otis", others), "", "off the closing device itself");
  assert.equal(deviceOfCode(of("door"), "one day", "ana", others), "", "another person's");
});

test("with no office the devices are known whose words are here", () => {
  const record = (...devices) => ({
    fields: Object.fromEntries(devices.map((device_id, index) => [`f${index}`, { value: 1, device_id }])),
  });
  assert.deepEqual([...devicesOf([record("a", "b"), record(), record("b", "c")])].sort(), ["a", "b", "c"]);
});
