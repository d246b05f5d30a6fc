/** The code by which the second person of a closing shows that they are there: their own device tells it, to nobody else. */

/** FNV-1a, 32 bits, over the text's UTF-8. Source: RFC 9923, the FNV non-cryptographic hash. */
export function fnv1a(text: string): number {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash;
}

/**
 * Four digits for a person on a day, the same on every device, so that they are compared with no network. It keeps one tired
 * person from typing two names; it is no secret from somebody who means to deceive.
 */
export function closingCode(day_id: string, person_id: string): string {
  return String(fnv1a(`closing ${day_id} ${person_id}`) % 10_000).padStart(4, "0");
}
