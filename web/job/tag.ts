/**
 * The tag code: five symbols and a check character, shown as two groups. The same rules as the office's.
 * Source: ISO/IEC 7064 MOD 37-2 over Crockford's 32 symbols.
 */

const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const STANDARD = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

/** What was read or typed is no tag of ours; the message says what to do. */
export class TagError extends Error {
  readonly code: string;

  constructor(code: string, words: string) {
    super(words);
    this.code = code;
  }
}

/** The check character of data symbols, or null if this number is never issued. */
export function checkCharacter(data: string) {
  let remainder = 0;
  for (const sign of data) remainder = ((remainder + STANDARD.indexOf(sign)) * 2) % 37;
  const check = STANDARD[(38 - remainder) % 37] as string;
  return SYMBOLS.includes(check) ? check : null;
}

export function normalise(typed: string) {
  return typed
    .toUpperCase()
    .replace(/[ \-/.]/g, "")
    .replace(/O/g, "0")
    .replace(/[IL]/g, "1");
}

/** A tag's six characters; a code that fails is never corrected. */
export function parseTag(typed: string) {
  const tag = normalise(typed);
  for (const sign of tag) {
    if (!SYMBOLS.includes(sign))
      throw new TagError("tag_unreadable", `No tag has the character "${sign}". Read it once more.`);
  }
  if (tag.length !== 6)
    throw new TagError(
      "tag_unreadable",
      `A tag has six characters; this has ${tag.length}. Read it once more.`,
    );
  if (checkCharacter(tag.slice(0, 5)) !== tag[5]) {
    throw new TagError(
      "tag_check_failed",
      `${shown(tag)} is no tag: a character is wrong. Read it once more.`,
    );
  }
  return tag;
}

/** The serial number that a tag's five data symbols write. */
export function serialOf(tag: string) {
  return [...tag.slice(0, 5)].reduce((serial, sign) => serial * 32 + SYMBOLS.indexOf(sign), 0);
}

/** The numbers that may be issued, in order from a serial on. */
export function* codesFrom(start: number): Generator<string> {
  for (let serial = start; serial < 32 ** 5; serial += 1) {
    const data = [20, 15, 10, 5, 0].map((shift) => SYMBOLS[(serial >> shift) & 31]).join("");
    const check = checkCharacter(data);
    if (check !== null) yield data + check;
  }
}

const runs = new Map<string, readonly string[]>();

/** So many numbers in a row; a roll's are the same for ever, so that they are worked out once. */
export function run(first: string, count: number): readonly string[] {
  const key = `${first} ${count}`;
  const found = runs.get(key) ?? numbersFrom(first, count);
  runs.set(key, found);
  return found;
}

function numbersFrom(first: string, count: number): string[] {
  const found = [];
  for (const code of codesFrom(serialOf(first))) {
    if (found.push(code) === count) break;
  }
  return found;
}

export function shown(tag: string) {
  return `${tag.slice(0, 3)}-${tag.slice(3)}`;
}

/** The tag in a scanned text: an address that ends in /T/ and a tag, or a bare tag. */
export function tagInQr(text: string) {
  if (!text.includes("/")) return parseTag(text);
  const found = /^https?:\/\/[^/]+\/t\/([^/?#]+)$/i.exec(text);
  if (!found) throw new TagError("not_our_tag", "This QR code is not one of our tags.");
  return parseTag(found[1] as string);
}
