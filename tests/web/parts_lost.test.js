/** A thing whose parts are each accounted for may be described, wherever they lie; one of which a part is lost not. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { whyNotDescribed } from "../../web/job/described.ts";
import { partsApart, partsLost } from "../../web/job/parts_lost.ts";
import { run, shown } from "../../web/job/tag.ts";
import { record, set, tag } from "./made.js";

const { cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/parts-lost.json", import.meta.url), "utf8"),
);
const NUMBERS = run("00002Y", 6);
const [NOTED, LATER] = ["2026-03-15T10:00:00.000Z", "2026-03-15T11:00:00.000Z"];

function madeOf({ parts, containers = {}, noted = [], moved }) {
  const fields = {};
  for (const [at, [mark, place, container_id]] of parts.entries()) {
    const number = NUMBERS[at];
    fields[`tags/${number}`] = set(tag(number, { piece: at + 1, of: parts.length, mark, parts: true }));
    const since = shown(number) === moved ? LATER : "";
    if (place) fields[`whereabouts/${number}`] = set({ move_id: "m", to_place: place, at: "" }, since);
    if (container_id) fields[`inside/${number}`] = set({ container_id });
  }
  const item = { ...record("item", "i", { pieces: 1 }), fields };
  const crates = Object.entries(containers).map(([id, [to_place, outer]], at) =>
    record(
      "container",
      id,
      {
        ...(to_place && { whereabouts: { move_id: "m", to_place, at: "" } }),
        ...(outer && { inside: { container_id: outer } }),
      },
      { kind_of: "crate", number: NUMBERS[3 + at] },
    ),
  );
  const day = record("day", "d", {});
  for (const [at, [difference, words, ended]] of noted.entries()) {
    day.fields[`differences/${at}`] = set({ difference, thing_id: "i", words }, NOTED);
    if (ended) day.fields[`difference-ends/${at}`] = set({ ended });
  }
  return { item, day, byId: new Map(crates.map((one) => [one.record_id, one])) };
}

for (const each of cases)
  test(`which parts are lost is said as the office says it: ${each.is}`, () => {
    const { item, day, byId } = madeOf(each);
    assert.deepEqual(partsLost(item, byId, day), each.lost);
    if (each.apart) assert.deepEqual(partsApart(item, byId), each.apart);
    const why = whyNotDescribed(item, byId, day);
    assert.equal(why.startsWith("Not all of it is in the house's keeping: "), each.lost.length > 0, why);
    for (const words of each.lost) assert.ok(why.includes(words), why);
  });
