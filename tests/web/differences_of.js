/** The differences of a day that a test puts together, each part found off its records. */
import { differencesOf } from "../../web/job/closing.ts";

export function differencesOn(records) {
  return differencesOf((find) => find(records));
}
