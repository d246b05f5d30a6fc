/** A day's closing is read by pages that are all of one state, and no line is read twice. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { EVERY_LINE, readClosing, withLines } from "../../web/sync/closing_pages.ts";

const FIRST = 12;
const keysOf = ({ sections }) => sections[0].lines.map(({ key }) => key);

/** An office whose day has so many open visits; `state` is of the day, and `asked` what it was asked for. */
function anOffice(t, count) {
  const office = { state: "a", count, asked: [], onPage: () => {} };
  const lines = () =>
    Array.from({ length: office.count }, (_, index) => ({ key: `${office.state} ${index}` }));
  t.mock.method(globalThis, "fetch", async (address) => {
    office.asked.push(address);
    const { pathname, searchParams } = new URL(address, "http://office");
    if (pathname === "/days/d/closing") {
      const section = { section: "visit", count: office.count, lines: lines().slice(0, FIRST) };
      return Response.json({ day_id: "d", cursor: 1, state: office.state, sections: [section] });
    }
    office.onPage();
    if (searchParams.get("state") !== office.state)
      return Response.json({ code: "closing_changed", detail: "It has changed." }, { status: 409 });
    const after = Number(searchParams.get("after"));
    const end = after + Number(searchParams.get("limit"));
    const next = end < office.count ? end : null;
    return Response.json({ state: office.state, next, lines: lines().slice(after, end) });
  });
  return office;
}

test("the first lines cost one request, and more of them one for each page", async (t) => {
  const office = anOffice(t, 1200);
  const begun = await readClosing("d", () => 0);
  assert.equal(keysOf(begun).length, FIRST);
  assert.equal(office.asked.length, 1);
  const more = await withLines(begun, () => 100);
  assert.equal(keysOf(more).length, 100);
  assert.equal(office.asked.length, 2);
  const whole = await withLines(more, EVERY_LINE);
  assert.deepEqual(
    keysOf(whole),
    Array.from({ length: 1200 }, (_, index) => `a ${index}`),
  );
  assert.equal(office.asked.length, 5);
});

test("of the same state nothing is read again, of another all that was shown", async (t) => {
  const office = anOffice(t, 60);
  const before = await readClosing("d", () => 40);
  office.asked.length = 0;
  assert.equal(keysOf(await readClosing("d", () => 40, before)).length, 40);
  assert.equal(office.asked.length, 1);
  office.state = "b";
  const now = await readClosing("d", () => 40, before);
  assert.ok(keysOf(now).every((key) => key.startsWith("b ")));
  assert.equal(keysOf(now).length, 40);
});

test("a day that changes while its pages are read is read again from its beginning", async (t) => {
  const office = anOffice(t, 30);
  office.onPage = () => {
    office.state = "b";
    office.onPage = () => {};
  };
  const whole = await readClosing("d", EVERY_LINE);
  assert.equal(whole.state, "b");
  assert.ok(keysOf(whole).every((key) => key.startsWith("b ")));
  assert.equal(keysOf(whole).length, 30);
});

test("one that changes at each page is given up, and says why", async (t) => {
  const office = anOffice(t, 30);
  office.onPage = () => {
    office.state += "b";
  };
  await assert.rejects(readClosing("d", EVERY_LINE), { code: "closing_changed" });
  assert.equal(office.asked.length, 6);
});
