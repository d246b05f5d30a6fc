/**
 * Reads games that the office played, plays them on device copies, and says where the two differ on what is stopped.
 */
import { readFileSync } from "node:fs";
import { isStopped } from "../../web/job/cautions.ts";
import { idsOfThing } from "../../web/job/doubles.ts";
import { recordIdOf } from "../../web/job/operation.ts";
import { applyOperation } from "../../web/job/record.ts";

const games = JSON.parse(readFileSync(process.argv[2], "utf-8"));
let wrong = 0;
for (const { operations, stopped } of games) {
  const records = new Map();
  for (const operation of operations) {
    const id = recordIdOf(operation);
    const result = applyOperation(records.get(id) ?? null, operation);
    if ("record" in result) records.set(id, result.record);
    else if (operation.kind !== "erase_consignor") {
      console.log(`${operation.kind} was kept at the office and is refused here: ${result.refusal.code}`);
      wrong += 1;
    }
  }
  const behind = new Map(
    [...records].flatMap(([id, { fields }]) =>
      fields.merged?.value.into_id ? [[id, fields.merged.value.into_id]] : [],
    ),
  );
  const ofThing = (id) => idsOfThing(id, behind).filter((one) => one !== id && records.has(one));
  const withDoubles = (id) => ({ ...records.get(id), doubles: ofThing(id).map((one) => records.get(one)) });
  for (const [id, there] of Object.entries(stopped)) {
    if (isStopped(withDoubles(id)) === there) continue;
    console.log(`the item ${id} is ${there ? "" : "not "}stopped at the office, and otherwise here`);
    wrong += 1;
  }
}
process.exit(wrong ? 1 : 0);
