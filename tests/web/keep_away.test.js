/** Whose and where a thing is that nobody handles: whoever reads the banner knows where not to go. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { keepAwayFrom, placesOf } from "../../web/job/custody.ts";

const { cases, things } = JSON.parse(
  readFileSync(new URL("../../fixtures/keep-away.json", import.meta.url), "utf-8"),
);

const named = (name) => {
  const [kind_of, number] = name.split(" ");
  return { kind: "container", kind_of, number: number.replace("-", ""), fields: {} };
};

for (const { tags, ticket, table, places, words } of cases)
  test(words, () => {
    const where = places.map(({ place, at, inside }) => ({ place, at, inside: inside.map(named) }));
    assert.equal(keepAwayFrom(tags, ticket, table, where), words);
  });

/** A record whose fields were said at these minutes. */
const recordOf = (kind, record_id, fields) => ({
  ...{ kind, record_id, day_id: "d", disagreements: [] },
  fields: Object.fromEntries(
    Object.entries(fields).map(([name, [minute, value]]) => [
      name,
      {
        value,
        operation_id: name,
        made_by: "ana",
        made_at: `2026-03-14T11:0${minute}:00.000Z`,
        device_id: "a",
      },
    ]),
  ),
});

for (const { says, records, crate = {}, at } of things)
  test(says, () => {
    const [front, ...doubles] = records.map((fields, place) =>
      recordOf("item", place ? `behind ${place}` : "front", fields),
    );
    const byId = new Map([["crate", recordOf("container", "crate", crate)]]);
    const places = placesOf(doubles.length ? { ...front, doubles } : front, byId);
    const words = places.map((where) => {
      const inside = where.inside.map(({ record_id }) => ` in ${record_id}`).join("");
      return where.place + (where.at && `, ${where.at}`) + inside;
    });
    assert.deepEqual(words, at);
  });
