/**
 * Records of single classes read through beside their texts, as a bidder reads them.
 * Source of the wording: common practice.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { answer, lot, one, paragraph } from "./as_text.js";

const lost = (class_id, zone, extent_count, note, counts = {}) =>
  paragraph(class_id, { counts, ...one(zone, "missing-part", { extent_count, note }) });

test("a note that says which, how many or how makes no part of what is missing", () => {
  for (const note of ["both", "going and striking", "both; the owner may have them"])
    assert.match(lost("clock", "weights", 2, note), /Two weights are missing/, note);
  const stone = lost("jewellery", "side-stones", 1, "second from the upper point", { "side-stones": 23 });
  assert.match(stone, /One of the 23 side stones is missing \(second from the upper point\)\./);
  for (const note of ["cut out of the envelopes", "stamps cut out"])
    assert.match(
      lost("work-on-paper", "seals", 9, note),
      /Nine seals, postmarks or stamps are missing/,
      note,
    );
  assert.match(
    lost("tinplate-diecast", "figures", 1, "the driver"),
    /One figure is missing \(the driver\)\./,
  );
  assert.match(
    lost("furniture", "drawers", 1, "with its lock", { drawers: 9 }),
    /One of the nine drawers is/,
  );
  assert.match(lost("furniture", "handles", 2, "both of the top drawer"), /Two handles are missing/);
  assert.match(lost("furniture", "feet", 1, "a castor"), /One part missing from the feet \(a castor\)\./);
});
