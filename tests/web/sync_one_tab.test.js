/** Several tabs of one device: one of them talks to the office at a time. Source: W3C Web Locks API. */
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { asked, begin } from "./office_here.js";

beforeEach(begin);

/** A browser whose lock another tab has, or nobody; or one that has no locks. */
function locksAre(locks) {
  Object.defineProperty(navigator, "locks", { value: locks, configurable: true });
}
const givenTo = (lock) => ({ request: async (_name, _options, work) => work(lock) });

test("while another tab syncs this one asks the office for nothing, and is not busy after", async () => {
  locksAre(givenTo(null));
  await syncNow();
  assert.deepEqual([asked, status.value.busy, status.value.problem], [[], false, null]);
});

test("a tab that has the lock syncs, and so does one whose browser knows no locks", async () => {
  for (const locks of [givenTo({ name: "intake-sync" }), undefined]) {
    locksAre(locks);
    asked.length = 0;
    await syncNow();
    assert.ok(asked.some((path) => path.startsWith("GET /sync/feed")));
  }
});
