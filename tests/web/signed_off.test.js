/**
 * A device that was signed off asks the office for how it stands and sends what it owes, and nothing else: an office
 * that was put back from an older copy does not know that it was, and would tell it of everybody.
 * The database is fake-indexeddb, after the W3C's Indexed Database API 3.0.
 */
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { beforeEach, test } from "node:test";
import { rememberDevice } from "../../web/local/device.ts";
import { storeFeed } from "../../web/local/feed.ts";
import { device, record, waiting } from "../../web/local/memory.ts";
import { keep } from "../../web/local/outbox.ts";
import { openedAs, storeOpened } from "../../web/local/store_opened.ts";
import { ask, get, post, put } from "../../web/sync/office.ts";
import { status } from "../../web/sync/status.ts";
import { syncNow } from "../../web/sync/sync.ts";
import { asked, begin, ITEM, photographed, SHA, STANDS, says, THUMB } from "./office_here.js";
import { found } from "./whole_storage.js";

beforeEach(begin);

const AT = "2026-03-14T18:00:00.000Z";
const ROLES = ["door", "table", "porter", "desk", "manager"];
/** Every address that the app has in its code, with each part of it that differs as one letter. */
const ADDRESSES = [
  ...new Set(
    readdirSync(new URL("../../web", import.meta.url), { recursive: true })
      .filter((name) => /\.tsx?$/.test(name) && !/node_modules|built/.test(name))
      .map((name) => readFileSync(new URL(`../../web/${name}`, import.meta.url), "utf-8"))
      .flatMap((text) => [
        ...text.matchAll(/\b(?:get|post|put|ask|knowing)(?:<[^(]*>)?\(\s*[`"](\/[^`"]*)[`"]/g),
      ])
      .map(([, path]) => path.replaceAll(/\$\{[^}]*\}/g, "x"))
      .filter((path) => path !== "/photos/x" && !/^\/sync\/(feed\?after|standing)/.test(path)), // which go there
  ),
];
/** How it stands, what it sends, and how it is paired again. */
const ITS_OWN = new Set([
  ...["/sync/feed?limit=1", "/sync/forget", "/sync/erasures", "/sync/photos"],
  ...["/sync/operations", "/sync/bundle"],
  ...["/health", "/pairing", "/pairing/me"],
]);

test("whatever its role, one that was signed off asks for nothing but how it stands", async () => {
  assert.ok(ADDRESSES.length > 20 && ADDRESSES.includes("/entries/x?x"), ADDRESSES.join(" "));
  for (const role of ROLES) {
    await rememberDevice({ role, revoked: true });
    asked.length = 0;
    for (const path of [...ADDRESSES, "/queue?words=", "/labels/sheets/x.pdf"])
      for (const way of [get, (path) => post(path, {}), (path) => put(path, {})])
        await way(path).catch((error) => error.code);
    await get("/photos/x").catch(() => {});
    assert.deepEqual(new Set(asked.map((line) => line.split(" ")[1])), ITS_OWN, role);
  }
  await assert.rejects(get("/queue?words="), { code: "device_revoked", status: 403 });
  await rememberDevice({ revoked: false });
  asked.length = 0;
  await get("/queue?words=").catch(() => {});
  assert.deepEqual(asked, ["GET /queue?words="]);
});

test("paired anew, and the answer lost, it hears that with the next asking, and reads from the start", async () => {
  const told = { device_id: "device", role: "porter", name: "Porter", letters: null };
  const [before, since] = ["2026-03-14T09:00:00.000Z", "2026-03-14T11:00:00.000Z"];
  let paired_at = before;
  const feeds = [];
  says["GET /sync/feed"] = (_, url) => {
    feeds.push(url);
    const page = { records: [], cursor: 9, more: false, epoch: "e1", office_time: "", office: STANDS };
    return Response.json({ ...page, device: { ...told, paired_at } });
  };
  await rememberDevice({ device_id: "device", role: "table", paired_at: before, cursor: 7, revoked: true });
  await syncNow();
  assert.equal(device.value.revoked, true, "an office put back from an older copy knows of no signing off");
  paired_at = since;
  feeds.length = 0;
  await syncNow();
  const { revoked, role, paired_at: known } = device.value;
  assert.deepEqual({ revoked, role, known }, { revoked: false, role: "porter", known: since });
  assert.match(feeds[1], /after=0&/);
  await rememberDevice({ paired_at: undefined, revoked: true });
  await syncNow();
  assert.equal(device.value.revoked, true, "of one that never heard when it was paired nothing follows");
});

test("an answer that comes after it was signed off is read by nobody", async () => {
  await rememberDevice({ role: "desk" });
  says["GET /records/"] = async () => {
    await rememberDevice({ revoked: true });
    return Response.json({ fields: { needs: "marker" } });
  };
  await assert.rejects(get("/records/visit"), { code: "device_revoked" });
});

test("an entry that comes after it was signed off is neither shown nor kept", async () => {
  await rememberDevice({ role: "desk" });
  const item = {
    ...{ kind: "item", record_id: ITEM, day_id: "d", visit_id: "v", office_seq: 3, disagreements: [] },
    fields: { told_words: { value: "marker", operation_id: "o", made_by: "", made_at: AT, device_id: "" } },
  };
  const page = { records: [item], operations: [], others: [], people: [] };
  const store = () => storeOpened(page, openedAs(page, AT));
  await Promise.all([rememberDevice({ revoked: true }), store()]); // as it is written that it is
  await store();
  assert.deepEqual(await found(["marker"]), []);
  assert.equal(record(ITEM), null);
  await rememberDevice({ revoked: false });
  await store();
  assert.deepEqual(await found(["marker"]), ["marker"]);
});

test("an answer and an entry that come after it was given other work are read, shown and kept by nobody", async () => {
  await rememberDevice({ role: "desk" });
  says["GET /records/"] = async () => {
    await rememberDevice({ role: "porter" });
    return Response.json({ fields: { needs: "marker" } });
  };
  await assert.rejects(get("/records/visit"), { code: "other_work", status: 403 });
  await rememberDevice({ role: "desk" });
  const item = {
    ...{ kind: "item", record_id: ITEM, day_id: "d", visit_id: "v", office_seq: 3, disagreements: [] },
    fields: { told_words: { value: "marker", operation_id: "o", made_by: "", made_at: AT, device_id: "" } },
  };
  const page = { records: [item], operations: [], others: [], people: [] };
  await Promise.all([rememberDevice({ role: "porter" }), storeOpened(page, openedAs(page, AT))]);
  assert.deepEqual(await found(["marker"]), []);
  assert.equal(record(ITEM), null);
});

test("what it owes is sent, words and pictures", async () => {
  await photographed(10);
  await keep("set_item", { item_id: ITEM, field: "maker", value: "unmarked" });
  await rememberDevice({ revoked: true });
  says["POST /sync/bundle"] = () =>
    Response.json({ photos: [THUMB, SHA].map((sha256) => ({ sha256, outcome: "kept" })), office: STANDS });
  says["POST /sync/operations"] = ({ operations }) =>
    Response.json({
      answers: operations.map(({ operation_id }) => ({ operation_id, outcome: "kept", office_seq: 8 })),
      ...{ office_time: AT, office: STANDS },
    });
  await syncNow();
  assert.equal(status.value.problem, null);
  assert.equal(waiting.value.length, 0);
  assert.ok(asked.some((line) => line.startsWith("POST /sync/bundle")));
  assert.ok(!asked.some((line) => line.includes("/plans")));
  for (const method of ["HEAD", "PATCH"])
    await assert.rejects(ask("/photos/x", { method }), { code: "no_such_path" });
});

test("a long reading of the feed ends where it was signed off, and the page on its way is stored nowhere", async () => {
  const item = {
    ...{ kind: "item", record_id: ITEM, day_id: "d", visit_id: "v", office_seq: 3, disagreements: [] },
    fields: { maker: { value: "marker", operation_id: "o", made_by: "", made_at: AT, device_id: "" } },
  };
  const page = { cursor: 3, epoch: "e1", day_id: "d", office_time: AT, office: STANDS };
  says["GET /sync/feed"] = async () => {
    await rememberDevice({ revoked: true });
    return Response.json({ ...page, records: [item], more: asked.length < 3 });
  };
  await syncNow();
  assert.deepEqual(await found(["marker"]), []);
  assert.deepEqual(
    asked.filter((line) => line.includes("/sync/feed")).map((line) => line.split("?")[1].split("=")[0]),
    ["after", "limit"],
  );
});

test("a page that is stored as it is signed off is not", async () => {
  const item = {
    ...{ kind: "item", record_id: ITEM, day_id: "d", visit_id: "v", office_seq: 3, disagreements: [] },
    fields: { maker: { value: "marker", operation_id: "o", made_by: "", made_at: AT, device_id: "" } },
  };
  const page = { cursor: 3, epoch: "e1", day_id: "d", records: [item] };
  await Promise.all([rememberDevice({ revoked: true }), storeFeed(page)]);
  assert.deepEqual(await found(["marker"]), []);
});
