/** A light of which it is said that it was not used, and that something was looked for with it and not found. */
import type { Described } from "./families.ts";
import { lightOfTest, lightsLeftOut } from "./lights.ts";
import { fieldValue, listed } from "./values.ts";

/**
 * The tests of which it is said that they were not made, each with the denials that were said in their very light:
 * whoever said one of them had not seen the other, and neither outweighs it.
 */
export function bothWays({ plan, record }: Pick<Described, "plan" | "record">) {
  const denials = listed(record, "denials/").filter(({ value }) => !value.withdrawn);
  const left_out = lightsLeftOut({ plan, record });
  return plan.tests.flatMap((test) => {
    const light = lightOfTest(test);
    const isLeftOut = fieldValue(record, `tests/${test.test}`)?.result === "not-done" && left_out.has(light);
    const said = isLeftOut ? denials.filter(({ value }) => value.light === light) : [];
    return said.length ? [{ test, light, said }] : [];
  });
}
