/** What is held apart lies by itself: this device says what the office says. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { idsOfThing } from "../../web/job/doubles.ts";
import { whyNotAmong } from "../../web/job/kept_apart.ts";
import { recordIdOf } from "../../web/job/operation.ts";
import { applyOperation } from "../../web/job/record.ts";
import { run } from "../../web/job/tag.ts";

const { cases } = JSON.parse(readFileSync(new URL("../../fixtures/among.json", import.meta.url), "utf-8"));

/** A day with the things of a case, which go by their names, and what is done with them. */
function aHall({ items, crates }) {
  const things = new Map();
  const behind = new Map();
  const tags = [...run("00002Y", 10)];
  let count = 0;
  const apply = (kind, body) => {
    count += 1;
    const op = {
      ...{ kind, operation_id: `op ${count}`, device_seq: count, device_id: "a", made_by: "ana", seen: null },
      made_at: `2026-03-14T11:00:${String(count).padStart(2, "0")}.000Z`,
      ...body,
    };
    const id = recordIdOf(op);
    const { record, refusal } = applyOperation(things.get(id) ?? null, op);
    assert.equal(refusal, undefined, `${kind} of ${id}`);
    things.set(id, { ...record, office_seq: count });
  };
  for (const name of items) {
    apply("open_item", { item_id: name, visit_id: "v", day_id: "d" });
    apply("set_item", { item_id: name, field: "short_description", value: name });
  }
  for (const name of crates)
    apply("open_container", { container_id: name, day_id: "d", number: tags.shift(), kind_of: name });
  const seen = (thing, field) => things.get(thing).fields[field]?.operation_id ?? null;
  const tagOf = (name, piece) =>
    Object.values(things.get(name).fields).find(({ value }) => value?.tag && value.piece === piece).value.tag;
  const steps = {
    put: (thing_id, container_id, piece) => {
      const tag = piece ? tagOf(thing_id, piece) : null;
      apply("put_inside", {
        thing_id,
        container_id,
        tag,
        seen: seen(thing_id, tag ? `inside/${tag}` : "inside"),
      });
    },
    move: (thing_id, to_place) =>
      apply("record_move", {
        ...{
          thing_id,
          to_place,
          move_id: `move ${count}`,
          from_place: null,
          at: "",
          given_by: "a",
          taken_by: "b",
        },
        ...{ count: null, signed: false, tag: null },
      }),
    apart: (item_id) =>
      apply("raise_caution", {
        ...{
          item_id,
          caution_id: item_id,
          hazard: "H04",
          level: "amber",
          sign: "",
          zone: null,
          called: "",
          place: "",
        },
      }),
    clear: (item_id) =>
      apply("decide_caution", {
        ...{
          item_id,
          caution_id: item_id,
          decision: "cleared",
          decided_by: "b",
          cleared_for: "handling",
          place: "",
        },
      }),
    tie: (item_id, piece) => apply("tie_tag", { item_id, tag: tags.shift(), piece, of: 2, mark: "" }),
    behind: (item_id, into_id) => {
      apply("merge_item", { item_id, into_id, why: "" });
      behind.set(item_id, into_id);
    },
  };
  /** All of them as a screen reads them: each with the other records of the same thing beside it. */
  const shown = () =>
    [...things.values()].map((one) => {
      const others = idsOfThing(one.record_id, behind).filter((id) => id !== one.record_id);
      return others.length ? { ...one, doubles: others.map((id) => things.get(id)) } : one;
    });
  return { done: ([what, ...more]) => steps[what](...more), shown };
}

for (const one of cases)
  test(`office and device say alike what may lie among what: ${one.says}`, () => {
    const hall = aHall(one);
    for (const step of one.done) hall.done(step);
    const all = hall.shown();
    const [thing, container] = one.put.map((id) => all.find(({ record_id }) => record_id === id));
    const why = whyNotAmong(thing, container, all);
    if (!one.held) return assert.equal(why, null);
    const { name, is_in_it } = one.held;
    assert.ok(why?.includes(name), why ?? "nothing speaks against it");
    assert.equal(why.endsWith("nothing else goes in"), is_in_it, why);
  });
