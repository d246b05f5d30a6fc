/**
 * A browser in which tabs cannot tell each other of what they write keeps all the same. Source: HTML Standard,
 * BroadcastChannel.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import "../../web/node_modules/fake-indexeddb/auto/index.mjs";

test("with no channel between tabs what is written is here", async () => {
  delete globalThis.BroadcastChannel;
  const { write } = await import("../../web/local/changes.ts");
  const { photos } = await import("../../web/local/memory.ts");
  await write(["photo"], (tx) => tx.put("photo", { sha256: "s", size: 1 }));
  assert.deepEqual(photos.value, [{ sha256: "s", size: 1 }]);
});
