/** A date of the day that was mistyped is far from the one before. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { isFarFrom } from "../../web/job/far_date.ts";

test("a year that is not the one before, nor beside it, is far", () => {
  for (const near of ["2026-11-28", "2025-12-31", "2027-01-01"])
    assert.equal(isFarFrom(near, "2026-03-14"), false, near);
  for (const far of ["2006-11-28", "0002-11-28", "2028-03-14", "20260-03-14"])
    assert.equal(isFarFrom(far, "2026-03-14"), true, far);
});
