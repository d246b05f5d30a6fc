import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { newSalt, uuid7 } from "../../web/job/ids.ts";
import { checkCharacter, codesFrom, parseTag, run, serialOf, shown, tagInQr } from "../../web/job/tag.ts";

/** Five symbols of base 32, by the language's own reckoning, whose digits are then renamed. */
const dataOf = (serial) =>
  [...serial.toString(32).padStart(5, "0")].map((sign) => SYMBOLS[Number.parseInt(sign, 32)]).join("");
const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

test("no single wrong character and no swap of neighbours goes unnoticed", () => {
  for (let number = 0; number < 32 ** 2; number += 7) {
    const data = `7${SYMBOLS[number % 32]}3Q${SYMBOLS[Math.floor(number / 32)]}`;
    const check = checkCharacter(data);
    if (!check) continue;
    const tag = data + check;
    for (let place = 0; place < 6; place += 1) {
      for (const sign of SYMBOLS) {
        if (sign !== tag[place])
          assert.throws(() => parseTag(tag.slice(0, place) + sign + tag.slice(place + 1)));
      }
      if (place < 5 && tag[place] !== tag[place + 1]) {
        assert.throws(() =>
          parseTag(tag.slice(0, place) + tag[place + 1] + tag[place] + tag.slice(place + 2)),
        );
      }
    }
  }
});

test("check characters are those of the standard, and one that cannot be read aloud is never issued", () => {
  // Source: examples of ISO/IEC 7064 MOD 37-2 as python-stdnum has them; the last by a trace by hand.
  for (const [data, check] of [
    ["G123489654321", "Y"],
    ["A999914123456", "N"],
    ["0", "1"],
    ["Z", "5"],
    ["LOT0001", "R"],
    ["7K3QW", "5"],
  ])
    assert.equal(checkCharacter(data), check, data);
  for (const tag of run("000001", 400)) assert.match(tag, /^[0-9A-HJKMNP-TV-Z]{6}$/);
});

test("numbers in a row are those that may be issued, in the order of their serials", () => {
  const row = run("7K3QW5", 40);
  assert.deepEqual([row[0], row.length], ["7K3QW5", 40]);
  for (const [index, tag] of row.slice(1).entries()) {
    const between = serialOf(tag) - serialOf(row[index]);
    assert.ok(between >= 1);
    const skipped = Array.from({ length: between - 1 }, (_, at) => serialOf(row[index]) + 1 + at);
    for (const serial of skipped) assert.equal(checkCharacter(dataOf(serial)), null, String(serial));
  }
  assert.equal(serialOf("00010A"), 32);
});

test("a tag is read from its address, as typed and as spoken groups", () => {
  const data = ["7K3QW", "00001", "ZZZZZ"].find((one) => checkCharacter(one));
  const tag = `${data}${checkCharacter(/** @type {string} */ (data))}`;
  assert.equal(parseTag(shown(tag).toLowerCase()), tag);
  assert.equal(tagInQr(`HTTPS://INTAKE.EXAMPLE.ORG/T/${tag}`), tag);
  assert.throws(() => tagInQr("https://example.org/something/else"), /not one of our tags/);
});

test("another house's codes and other kinds of address are no tags", () => {
  for (const text of [
    "https://example.org/products/7K3QW5",
    "https://example.org/x/t/7K3QW5",
    "https://example.org/t/7K3QW5/more",
    "https://example.org/t/7K3QW5?next=1",
    "https://example.org/t/7K3QW5#more",
    "https:///t/7K3QW5",
    "ftp://example.org/t/7K3QW5",
    "//example.org/t/7K3QW5",
    "/t/7K3QW5",
    "see https://example.org/t/7K3QW5",
  ])
    assert.throws(() => tagInQr(text), { code: "not_our_tag" }, text);
});

test("UUIDv7 as in the example of RFC 9562, appendix A.6", () => {
  // 017F22E2-79B0-7CC3-98C4-DC0C0C07398F: unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F
  const chance = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
  assert.equal(uuid7(0x017f22e279b0, chance), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
});

test("a salt is thirty-two hexadecimal digits", () => {
  const drawn = mock.method(crypto, "getRandomValues", (bytes) => bytes.map((_, place) => 17 * place));
  assert.equal(newSalt(), "00112233445566778899aabbccddeeff");
  drawn.mock.restore();
});

test("behind the last number there is none", () => {
  assert.equal([...codesFrom(32 ** 5 - 2)].filter((tag) => !tag.startsWith("ZZZZ")).length, 0);
  assert.deepEqual([...codesFrom(32 ** 5)], []);
});
