/**
 * What a view that is still to be taken is drawn as, so that no two tiles of a thing need to be read to be told apart.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { viewName, viewsInOrder } from "../../web/job/progress.ts";
import { regionShown } from "../../web/parts/view_region.ts";
import { book } from "./plan_book.js";

const shownOf = (class_id, words) => regionShown(book.outlines[class_id], words)?.zone.zone;

for (const [class_id, words, zone] of [
  ["ceramics", "spout", "spout"],
  ["ceramics", "joins of the handles", "handles"],
  ["ceramics", "cover by itself", "cover"],
  ["ceramics", "rim, close", "rim"],
  ["ceramics", "inside", "inside"],
  ["clock", "back plate", "back-plate"],
  ["soft-toy", "each pad", "paw-pads/proper-right"],
  ["watch", "movement, if opened", "movement"],
])
  test(`${words} of ${class_id} shows ${zone}`, () => assert.equal(shownOf(class_id, words), zone));

test("a view that says only from where it is taken shows no zone", () => {
  for (const { words } of Object.values(book.plans).flatMap(({ views }) => views))
    if (/^(whole )?(front|back|top|sides?|both sides|both ends|proper (left|right) side)$/.test(words))
      for (const class_id of Object.keys(book.outlines))
        assert.equal(shownOf(class_id, words), undefined, words);
});

/** Source: common practice: a picture that shows its number is the first of its thing's pictures. */
test("the thing beside its tag is the first frame of every class", () => {
  for (const { class_id, views } of Object.values(book.plans).filter(({ views }) => views.length)) {
    const [first, ...others] = viewsInOrder(views);
    assert.match(first.words, /the first frame/, class_id);
    assert.deepEqual(
      others,
      views.filter((view) => view !== first),
    );
  }
});

test("on a key the first frame is called by what it shows, not by what else its words ask for", () => {
  const [first] = viewsInOrder(book.plans.ceramics.views);
  assert.equal(viewName(first.words), "whole item with scale and tag");
  assert.equal(viewName("spout"), "spout");
});
