/** Whose and where a thing is that nobody handles: whoever reads the banner knows where not to go. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { keepAwayFrom } from "../../web/job/custody.ts";

const { cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/keep-away.json", import.meta.url), "utf-8"),
);

for (const { ticket, table, place, at, inside, words } of cases)
  test(words, () => {
    const outer = inside.map((name) => {
      const [kind_of, number] = name.split(" ");
      return { kind: "container", kind_of, number: number.replace("-", ""), fields: {} };
    });
    assert.equal(keepAwayFrom(ticket, table, { place, at, inside: outer }), words);
  });
