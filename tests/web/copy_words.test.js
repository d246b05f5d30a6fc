/** Words are copied, or marked so that they can be. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { copyWords } from "../../web/parts/copy_words.ts";

/** A browser of which this is the clipboard, and what is marked in it. */
function browserWith(clipboard) {
  const marked = [];
  const given = {
    navigator: { clipboard },
    getSelection: () => ({ selectAllChildren: (element) => marked.push(element) }),
    document: { execCommand: () => false },
  };
  for (const [name, value] of Object.entries(given))
    Object.defineProperty(globalThis, name, { value, configurable: true });
  return marked;
}

test("where the browser refuses its clipboard the words are marked, and nothing is thrown", async () => {
  const shown = { textContent: "Nothing to report." };
  const refuses = { writeText: () => Promise.reject(new Error("Write permission denied.")) };
  const marked = browserWith(refuses);
  assert.equal(await copyWords(shown), false);
  assert.deepEqual(marked, [shown]);

  const written = [];
  browserWith({ writeText: async (words) => void written.push(words) });
  assert.equal(await copyWords(shown), true);
  assert.deepEqual(written, ["Nothing to report."]);
});
