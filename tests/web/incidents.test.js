/** Incidents of the day: which stand, in what order, in which words, and that the closing names them first. */
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  endsOffered,
  endWords,
  incidentsOf,
  incidentWords,
  standingIncidents,
} from "../../web/job/incidents.ts";
import { differencesOn } from "./differences_of.js";

const incident = (seen_at, more = {}) => ({
  value: { hazard: "H02", level: "red", sign: "a fuse", ticket: "", place: "", seen_at, ...more },
});
const end = { value: { ended: "by-mistake", settled_by: "Winifred", present: "", words: "" } };
const day = {
  kind: "day",
  record_id: "d",
  tables: [],
  disagreements: [],
  fields: {
    "incidents/1": incident("2026-03-14T09:00:00.000Z"),
    "incident-ends/1": end,
    "incidents/2": incident("2026-03-14T11:00:00.000Z", { ticket: "Q07", place: "front steps" }),
    "incidents/3": incident("2026-03-14T10:00:00.000Z"),
    "differences/1": {
      value: { difference: "item-over", thing_id: null, words: "a spoon", owner_told: true, told: "" },
    },
  },
};

test("what stands comes first, the earliest seen before the later", () => {
  assert.deepEqual(
    incidentsOf(day).map(({ id }) => id),
    ["3", "2", "1"],
  );
  assert.deepEqual(
    standingIncidents(day).map(({ id }) => id),
    ["3", "2"],
  );
});

test("one that two people settled otherwise stands until somebody has said who is right", () => {
  const two = {
    field: "incident-ends/1",
    kept: end,
    other: { value: { ...end.value, ended: "taken-away" } },
    settled: null,
  };
  const contested = { ...day, disagreements: [two] };
  assert.deepEqual(
    standingIncidents(contested).map(({ id }) => id),
    ["1", "3", "2"],
  );
  const settled = { ...day, disagreements: [{ ...two, settled: { choose: "kept" } }] };
  assert.deepEqual(
    standingIncidents(settled).map(({ id }) => id),
    ["3", "2"],
  );
});

test("what was not told is said, and what was told stands in its place", () => {
  const [bare, told] = standingIncidents(day).map((one) => incidentWords(one));
  assert.match(bare, /^Stop at \d\d:\d\d, no ticket told, no place told: a fuse \(H02\)$/);
  assert.match(told, /^Stop at \d\d:\d\d, ticket Q07, front steps: a fuse \(H02\)$/);
});

test("the closing names every standing incident before anything else, and no settled one", () => {
  const found = differencesOn({ day, visits: [], items: [], containers: [], plan: () => null });
  assert.deepEqual(
    found.map(({ kind }) => kind),
    ["incident", "incident", "item-over"],
  );
});

test("the record holds what somebody typed, and the row gives it its name until then", () => {
  const bare = incident("2026-03-14T09:00:00.000Z", { sign: "" });
  assert.match(incidentWords(bare, "Shell, grenade"), /: Shell, grenade \(H02\)$/);
  assert.match(incidentWords(incident("2026-13-99T99:00:00Z")), /^Stop at a time that nobody can read,/);
});

test("left with its owner is offered only where the row lets it go home", () => {
  const ends = (goes_home) => endsOffered(goes_home).map(([key]) => key);
  assert.ok(ends(true).includes("left-with-owner"));
  assert.ok(!ends(false).includes("left-with-owner"));
  assert.ok(ends(false).includes("by-mistake"), "a wrong tap can always be taken back by name");
});

test("the closing names a Stop by somebody who is not on the list, and takes it", () => {
  const one = { ...incident("2026-03-14T09:00:00.000Z"), made_by: "nobody" };
  const [found] = differencesOn({
    day: { ...day, fields: { "incidents/1": one } },
    visits: [],
    items: [],
    containers: [],
    plan: () => null,
  });
  assert.match(found.words, /somebody who is not on the day's list$/);
});

test("how it ended is told in words, with who says so and who was there", () => {
  const told = { ended: "by-mistake", settled_by: "Winifred", present: "Hester", words: "A toy." };
  assert.equal(endWords(told), "Stop was pressed by mistake, settled by Winifred, with Hester. A toy.");
  assert.match(endWords({ ...told, ended: "on-an-item" }), /^On an item's record now, settled by Winifred/);
  assert.equal(endWords(end.value), "Stop was pressed by mistake, settled by Winifred.");
});
