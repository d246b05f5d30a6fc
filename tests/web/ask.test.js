/** What a person reads when the office refuses, answers no sense, or is not reached. */
import assert from "node:assert/strict";
import { afterEach, test } from "node:test";
import { ask, get, mayPass, OfficeSays, post, put } from "../../web/sync/office.ts";

const { fetch } = globalThis;
afterEach(() => {
  globalThis.fetch = fetch;
});

function answering(answer) {
  const asked = [];
  globalThis.fetch = async (path, options) => {
    asked.push([path, options]);
    return answer(path, options);
  };
  return asked;
}

test("what a line does to a request is said in words, whatever the browser calls it", async () => {
  // Source: WHATWG Fetch, where a network error is a TypeError, and a time-out a DOMException of AbortSignal.timeout.
  for (const cause of [new TypeError("Failed to fetch"), new DOMException("timed out", "TimeoutError")]) {
    answering(() => {
      throw cause;
    });
    const told = await ask("/queue").catch((error) => error);
    assert.ok(told instanceof TypeError);
    assert.match(told.message, /^The office is not reached now\. Come into its network/);
    assert.equal(told.cause, cause);
  }
});

test("a mistake of ours is not taken for the line", async () => {
  const mistake = new RangeError("ours");
  answering(() => {
    throw mistake;
  });
  await assert.rejects(ask("/queue"), (error) => error === mistake);
});

test("a refusal carries the office's own words", async () => {
  const problem = { code: "roll_overlaps", title: "", detail: "These are given out.", hint: "Begin later." };
  answering(() => Response.json(problem, { status: 409 }));
  const told = await ask("/queue").catch((error) => error);
  assert.ok(told instanceof OfficeSays);
  const { message, status, code, hint } = told;
  assert.deepEqual(
    [message, status, code, hint],
    ["These are given out.", 409, "roll_overlaps", "Begin later."],
  );
  assert.deepEqual(told.problem, problem);
});

test("a refusal that is not in the office's words is told by its number", async () => {
  answering(() => new Response("<html>Bad gateway</html>", { status: 502 }));
  const told = await ask("/queue").catch((error) => error);
  const { message, status, code, hint, problem } = told;
  assert.deepEqual([message, status, code, hint, problem], ["The office answered 502.", 502, "", "", {}]);
});

test("what has not changed since is an answer, and no refusal", async () => {
  answering(() => new Response(null, { status: 304 }));
  assert.equal((await ask("/plans")).status, 304);
  answering(() => new Response(null, { status: 303 }));
  await assert.rejects(ask("/plans"), /answered 303/);
});

test("a body is sent as JSON to this office alone, and its answer read as such", async () => {
  const asked = answering((path, { method = "GET", body = "null" }) =>
    Response.json([path, method, JSON.parse(body)]),
  );
  const body = { words: "Äuda" };
  assert.deepEqual(await post("/a", body), ["/a", "POST", body]);
  assert.deepEqual(await put("/b", body), ["/b", "PUT", body]);
  assert.deepEqual(await get("/c"), ["/c", "GET", null]);
  assert.deepEqual(
    asked.map(([, { credentials }]) => credentials),
    Array(3).fill("same-origin"),
  );
  assert.equal(asked[0][1].headers["Content-Type"], "application/json");
});

test("a request that takes longer than it may is ended", async (t) => {
  const timeout = t.mock.method(AbortSignal, "timeout");
  answering(() => new Response());
  await ask("/a");
  await ask("/b", { limitMs: 120_000 });
  assert.deepEqual(
    timeout.mock.calls.map(({ arguments: [limit] }) => limit),
    [30_000, 120_000],
  );
});

test("what nobody answered, or the office itself could not, may go well the next time; what it refused may not", () => {
  const says = (status) => new OfficeSays(status, {});
  const passing = [new TypeError("no network"), says(500), says(503)].map(mayPass);
  const refusing = [says(400), says(403), says(404), says(499)].map(mayPass);
  assert.deepEqual([passing, refusing], [Array(3).fill(true), Array(4).fill(false)]);
});
