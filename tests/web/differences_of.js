/** The differences of a day that a test puts together, each part found off its records. */
import { differencesOf, gathered } from "../../web/job/closing.ts";

export function differencesOn(records) {
  const on = gathered(records);
  return differencesOf((find) => find(on));
}
