/** How the syncing goes, and how much is on this device only: what screens show of it. */
import { computed, signal } from "@preact/signals-core";
import { lacking } from "../local/lacking.ts";
import { device, forgotten, refused, waiting } from "../local/memory.ts";
import { photosOnlyHere, refusedPhotos } from "../local/photos.ts";

export type SyncProblem = { code: string; words: string; hint: string };
type Status = {
  busy: boolean;
  lastContactAt: number | null;
  problem: SyncProblem | null;
  /** The last try found no office at all: until it does, nobody knows what stands there. */
  out_of_reach: boolean;
};
/** How the last round went; what waits stands in this device's memory. */
export const status = signal<Status>({
  busy: false,
  lastContactAt: null,
  problem: null,
  out_of_reach: false,
});

/**
 * What is known of where that stands which this device has sent: "at desk" is said of what the office has now, not of
 * what an office once had. It may not know this device, be hearing all of it again, lack what this device shows, or not
 * be reached.
 */
export type Standing = "at desk" | "unknown" | "not reached" | "not heard yet" | "brought again" | "lacking";

export function standing(): Standing {
  const { problem, out_of_reach, lastContactAt } = status.value;
  if (device.value?.revoked || problem?.code === "not_paired") return "unknown";
  if (out_of_reach) return "not reached";
  if (lastContactAt === null) return "not heard yet";
  if (forgotten.value?.done_at === null) return "brought again";
  return lacking().length ? "lacking" : "at desk";
}

export function note(patch: Partial<Status>) {
  status.value = { ...status.peek(), ...patch };
}

/** How much is on this device only. */
export const counts = {
  operations: computed(() => waiting.value.length),
  originals: computed(() => photosOnlyHere().filter(({ is_thumb }) => !is_thumb).length),
  thumbs: computed(() => photosOnlyHere().filter(({ is_thumb }) => is_thumb).length),
  /** Operations and photos that a person must look at. */
  refused: computed(() => refused.value.length + refusedPhotos().length),
};

/** How much is on this device only, all in all. */
export function holding() {
  const { operations, originals, thumbs, refused } = counts;
  return operations.peek() + originals.peek() + thumbs.peek() + refused.peek();
}
