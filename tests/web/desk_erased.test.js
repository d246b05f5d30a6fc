/** As an owner's words are erased: what stays in the search box is on record of something else. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { emptyUnlessFound } from "../../web/screens/cataloguing/desk_erased.ts";

/** A box with words in it, at an office that finds something by these alone; `typed` says what is typed as it looks. */
async function afterErasure(words, found, typed = {}) {
  const box = { words, asked: [] };
  await emptyUnlessFound(
    () => box.words,
    async (sought) => {
      box.asked.push(sought);
      box.words = typed[sought] ?? box.words;
      if (found === null) throw new TypeError("not reached");
      return found.includes(sought);
    },
    () => {
      box.words = "";
    },
  );
  return box;
}

test("words that find something still stay, and all others go", async () => {
  assert.equal((await afterErasure("bear", ["bear"])).words, "bear");
  assert.deepEqual(await afterErasure("Clementine Ashbrun", ["bear"]), {
    words: "",
    asked: ["Clementine Ashbrun"],
  });
  assert.deepEqual((await afterErasure("", ["bear"])).asked, []);
});

test("whoever types on meanwhile loses nothing of what is on record", async () => {
  const typed = { be: "bear" };
  assert.deepEqual(await afterErasure("be", ["bear"], typed), { words: "bear", asked: ["be", "bear"] });
  assert.equal((await afterErasure("Cle", ["bear"], { Cle: "Clementine" })).words, "");
});

test("where nobody answers, and of more than the office looks for, nobody can tell", async () => {
  assert.equal((await afterErasure("bear", null)).words, "");
  assert.equal((await afterErasure("b".repeat(201), ["b".repeat(201)])).words, "");
});
