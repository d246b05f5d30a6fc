/** What screens say that show nothing without the office. */
import { status } from "./status.ts";

/** Why what only the office knows cannot be shown: it is not reached, or it answers and does not know this device. */
export function whyNoOffice(): string {
  return status.value.problem?.code === "not_paired"
    ? "the office answers, and does not know this device: pair it"
    : "it is not reached now";
}
