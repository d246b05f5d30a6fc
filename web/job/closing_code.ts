/**
 * The code by which the second person of a closing shows that they are there: another device than the closing one tells
 * it.
 */

/** FNV-1a, 32 bits, over the text's UTF-8. Source: RFC 9923, the FNV non-cryptographic hash. */
export function fnv1a(text: string): number {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash;
}

/**
 * Four digits for a person on a day at one device: another device of the same person has others, so that the closing
 * device can tell its own code from one that was read off somebody else's. They are compared with no network. They keep
 * one tired person from being two; they are no secret from somebody who means to deceive and holds both devices.
 */
export function closingCode(day_id: string, person_id: string, device_id: string): string {
  return String(fnv1a(`closing ${day_id} ${person_id} ${device_id}`) % 10_000).padStart(4, "0");
}
