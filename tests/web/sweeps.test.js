/** What one press said of several zones together, read off the record. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { canLack, sweepsOf } from "../../web/job/sweeps.ts";

const NEVER = { state: "not-examined", reason: "not-applicable" };
const CLEAR = { state: "clear", reason: null };
const FOUND = { state: "finding", reason: null };
const AGAIN = { state: "not-examined", reason: "to-look-at" };

const record = (...said) => ({
  fields: Object.fromEntries(
    said.map(([zone, value, made_at, operation_id = zone, device_id = "d1"]) => [
      `zones/${zone}`,
      { value, made_at, operation_id, device_id },
    ]),
  ),
  disagreements: [],
});
const told = (of) => sweepsOf(of).map(({ zones, state, ids }) => [zones, state.reason, [...ids]]);

test("zones that were said to be so at one moment are a sweep, the newest first", () => {
  const of = record(
    ["rim", NEVER, "10:00"],
    ["foot", NEVER, "10:00"],
    ["body", CLEAR, "11:00", "rest"],
    ["neck", CLEAR, "11:00", "rest"],
  );
  assert.deepEqual(told(of), [
    [["body", "neck"], null, ["rest"]],
    [["rim", "foot"], "not-applicable", ["rim", "foot"]],
  ]);
});

test("a zone by itself, of another device, with a finding or to be looked at again is none", () => {
  assert.deepEqual(told(record(["rim", NEVER, "10:00"], ["foot", NEVER, "10:01"])), []);
  assert.deepEqual(told(record(["rim", NEVER, "10:00"], ["foot", NEVER, "10:00", "foot", "d2"])), []);
  assert.deepEqual(told(record(["rim", CLEAR, "10:00"], ["foot", NEVER, "10:00"])), []);
  assert.deepEqual(told(record(["rim", FOUND, "10:00"], ["foot", FOUND, "10:00"])), []);
  assert.deepEqual(told(record(["rim", AGAIN, "10:00"], ["foot", AGAIN, "10:00"])), []);
});

test("nothing is without its whole, nor what it is made of, nor without what its other zones lie on", () => {
  const zone = (zone, weight, holds = [], optional = false) => ({ zone, weight, holds, optional });
  const zones = [
    zone("outline", "supporting"),
    zone("body", "key", ["glaze"]),
    zone("spout", "key"),
    zone("frame", "key", ["corners"], true),
    zone("margins", "supporting", ["edges"]),
    { ...zone("metal", "supporting"), inherent: true },
  ];
  assert.deepEqual(
    zones.filter(canLack).map(({ zone }) => zone),
    ["spout", "frame", "margins"],
  );
});
