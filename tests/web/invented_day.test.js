/** The invented day has a thing of each class on which a cataloguer finds nothing missing. */
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { test } from "node:test";
import { isStopped } from "../../web/job/cautions.ts";
import { planOfKind } from "../../web/job/kind_of.ts";
import { missing } from "../../web/job/progress.ts";
import { fieldValue } from "../../web/job/values.ts";
import { book } from "./plan_book.js";

const seeded = execFileSync(process.env.PYTHON ?? "python3", ["-m", "tests.demo.records"], {
  cwd: new URL("../../", import.meta.url),
  encoding: "utf-8",
  maxBuffer: 1 << 26,
});
const items = JSON.parse(seeded).filter(({ kind }) => kind === "item");

for (const plan of Object.values(book.plans))
  test(`of the class ${plan.name} one thing is complete`, () => {
    const ofClass = items.filter(
      (item) => fieldValue(item, "class_id") === plan.class_id && !isStopped(item),
    );
    const left = ofClass.map((item) => [
      fieldValue(item, "short_description"),
      missing(planOfKind(plan, item), item).map(({ words }) => words),
    ]);
    assert.ok(
      left.some(([, gaps]) => !gaps.length),
      JSON.stringify(left.sort((a, b) => a[1].length - b[1].length).slice(0, 2)),
    );
  });
