/** What the browser or the engine says of itself is on no screen: what an error of ours says is. */

import assert from "node:assert/strict";
import { globSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { errorWords } from "../../web/job/words.ts";
import { StorageTrouble } from "../../web/local/database.ts";
import { OfficeSays } from "../../web/sync/office.ts";

const WEB = new URL("../../web/", import.meta.url);

const CANNOT = "This did not work. Try again; if it stays so, open the app again.";

test("an error's own words are ours, or none", () => {
  const foreign = [
    new DOMException(
      "Failed to execute 'writeText' on 'Clipboard': Write permission denied.",
      "NotAllowedError",
    ),
    new TypeError("Cannot read properties of undefined (reading 'fields')"),
    new SyntaxError("Unexpected token < in JSON at position 0"),
    new WebAssembly.RuntimeError("unreachable"),
    { type: "error" },
    undefined,
  ];
  for (const error of foreign) assert.equal(errorWords(error), CANNOT);
  for (const error of [
    new Error("Go on."),
    new StorageTrouble("Go on."),
    new OfficeSays(409, { detail: "Go on." }),
  ])
    assert.equal(errorWords(error), "Go on.");
  assert.equal(
    errorWords(new TypeError("The office is not reached now.", { cause: new Error() })),
    "The office is not reached now.",
  );
});

test("no source takes an error's message but of a class of ours", () => {
  const files = globSync("{app.tsx,job,local,parts,screens,sync}/**/*.{ts,tsx}", { cwd: WEB });
  assert.ok(files.length > 300);
  const found = files.flatMap((file) => {
    const lines = readFileSync(new URL(file, WEB), "utf8").split("\n");
    return lines.flatMap((line, at) => {
      const near = lines.slice(Math.max(0, at - 2), at + 1).join(" ");
      return /\b(error|reason|cause|e)\.message\b|String\((error|reason|e)\)/.test(line) &&
        !/instanceof/.test(near)
        ? `${file}:${at + 1} ${line.trim()}`
        : [];
    });
  });
  // where the rule itself stands, and the line that is for whoever looks after the app
  assert.deepEqual(
    found.filter((line) => !/^(job\/words.ts|parts\/boundary.tsx)/.test(line)),
    [],
  );
});
