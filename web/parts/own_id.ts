/** Ids of elements, by which a label finds its field and a heading names its group. */
import { useState } from "preact/hooks";

let made = 0;

/**
 * An id that no other element of the page has. The library's own counts beneath the root that it finds by going up, and
 * that way may end at a root of before: then two have one id, and a label leads to another field or to none.
 */
export function useOwnId(): string {
  const [id] = useState(() => {
    made += 1;
    return `own-${made}`;
  });
  return id;
}
