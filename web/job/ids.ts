/** UUIDv7: ids that this device makes by itself. Source: RFC 9562 section 5.7. */

/** ten random bytes, of which 74 bits are used */
export function uuid7(unixMs: number, chance: Uint8Array) {
  const bytes = new Uint8Array(16);
  let rest = unixMs;
  for (let index = 5; index >= 0; index -= 1) {
    bytes[index] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  bytes.set(chance.subarray(0, 10), 6);
  bytes[6] = ((bytes[6] as number) & 0x0f) | 0x70;
  bytes[8] = ((bytes[8] as number) & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

/** A new id. getRandomValues is there on every page, also without TLS. */
export function newId() {
  return uuid7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
}

/** Thirty-two hexadecimal digits of salt, so that nobody can guess personal words from their digest. */
export function newSalt() {
  return [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");
}
