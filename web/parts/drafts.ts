/**
 * What is typed and not saved yet: written before the key's event ends, since the database answers some milliseconds
 * later and a page may be killed in between.
 */

/** `from` is what stood in the field when the typing began: what the draft was meant to replace. */
export type Draft = { text: string; from: string };

export function holdDraft(key: string, draft: Draft) {
  try {
    localStorage.setItem(key, JSON.stringify(draft));
  } catch {
    // it is full: the save itself says so
  }
}

/** The draft that an earlier page left; null if there is none. */
export function leftDraft(key: string): Draft | null {
  const left = localStorage.getItem(key);
  return left === null ? null : (JSON.parse(left) as Draft);
}

export function dropDraft(key: string) {
  localStorage.removeItem(key);
}
