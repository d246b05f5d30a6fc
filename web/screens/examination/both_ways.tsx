/** That a light is said not to have been used, and by whoever denied a fault that it was: told where either is said. */
import { bothWays } from "../../job/both_ways.ts";
import { zoneName } from "../../job/progress.ts";
import type { FunctionTest, ItemRecord, Plan } from "../../job/types.ts";
import { firstUpper, spaced } from "../../job/words.ts";

/** Beside a test that stands as not made, with the zones where it is said otherwise. */
export function Against({
  item,
  plan,
  test: { test },
}: {
  item: ItemRecord;
  plan: Plan;
  test: FunctionTest;
}) {
  const said = bothWays({ plan, record: item }).find((row) => row.test.test === test)?.said ?? [];
  const zones = [...new Set(said.map(({ value }) => value.zone))];
  if (!zones.length) return null;
  return (
    <p class="bar wrong" role="alert">
      Said as not used, and something was looked for with it and not found. One of the two is not so: say here
      that it was used, or take the other back on{" "}
      {zones.map((zone) => (
        <a key={zone} href={`#/item/${item.record_id}/zone/${encodeURIComponent(zone)}`}>
          {zoneName(zone)}{" "}
        </a>
      ))}
    </p>
  );
}

/** On a zone: that a test says its light was not used, with the way there. */
export function against(plan: Plan, item: ItemRecord, light: string) {
  if (!bothWays({ plan, record: item }).some((row) => row.light === light)) return null;
  return (
    <p class="bar wrong" role="alert">
      {firstUpper(spaced(light))} stands as not used. One of the two is not so: take this back, or{" "}
      <a href={`#/item/${item.record_id}/works`}>say that it was used</a>
    </p>
  );
}
