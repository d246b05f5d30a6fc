/** What is said before the class of an examined thing is changed, and where its findings stand afterwards. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { lostFromView } from "../../web/job/other_class.ts";
import { zonesBeyond } from "../../web/job/zones_beyond.ts";
import { book } from "./plan_book.js";

const { doll, "soft-toy": toy } = book.plans;
const found = (zone, term, more = {}) => ({
  value: { zone, term, severity: 2, activity: "n", note: "", withdrawn: false, ...more },
});
const of = (fields) => ({
  item: { kind: "item", record_id: "i", fields, disagreements: [] },
  visit: null,
  day: null,
});
const DRESS = found("dress", "stain");
const [ARM, HEAD] = [found("arms/proper-left", "missing-part"), found("head", "hole")];

test("findings on zones that the other class does not have are named, and stand below its zones", () => {
  const all = of({ "findings/1": ARM, "findings/2": HEAD, "findings/3": DRESS });
  assert.ok(
    lostFromView(all, toy, doll).includes(
      "3 findings stay, 1 of them on a zone that the other does not have (dress), below its list.",
    ),
  );
  const steps = zonesBeyond(doll, all.item);
  assert.deepEqual(
    steps.map(({ key, findings }) => [key, findings.map(({ value }) => value.term)]),
    [["dress", ["stain"]]],
  );
  assert.deepEqual(zonesBeyond(toy, all.item), []);
});

test("where the two have all of them alike, or one alone is elsewhere, it is said so", () => {
  const said = (fields) => lostFromView(of(fields), toy, doll).at(-1);
  assert.equal(said({ "findings/1": ARM }), "1 finding stays, on zones that the two have alike.");
  assert.equal(
    said({ "findings/3": DRESS }),
    "1 finding stays, on a zone that the other does not have (dress), below its list.",
  );
  assert.deepEqual(
    zonesBeyond(doll, of({ "findings/3": found("dress", "stain", { withdrawn: true }) }).item),
    [],
  );
});
