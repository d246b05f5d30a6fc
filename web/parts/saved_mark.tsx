/** How much of what was typed is where, in the head of every screen. */

import type { ComponentChildren } from "preact";
import { refused } from "../local/memory.ts";
import { counts, type Standing, standing } from "../sync/status.ts";
import { Sign } from "./sign.tsx";
import { useDevice } from "./use.ts";

/** What the mark says once nothing waits on this device. */
const MARK: Record<Standing, string> = {
  "at desk": "All at the desk",
  unknown: "Not known at the desk",
  "not reached": "Office not reached",
  "not heard yet": "On this device",
  "brought again": "Being sent again",
  lacking: "Not all at the desk",
};

/** How much of what was typed is where, in words; a tap shows the list. Before pairing there is nothing to say. */
export function SavedMark({ about }: { about?: ComponentChildren }) {
  if (!useDevice()) return null;
  const refusedCount = counts.refused.value;
  const here = counts.operations.value + counts.originals.value;
  const stands = standing();
  const toLookAt = refused.value.length === refusedCount && refused.value.every(({ kept }) => kept);
  return (
    <a class={refusedCount || stands === "unknown" ? "saved wrong" : "saved"} href="#/outbox">
      <Sign of={refusedCount ? "stop" : here || stands !== "at desk" ? "device" : "check"} />
      {about && <span class="about">{about}</span>}
      <span>
        {refusedCount ? (
          `${refusedCount} ${toLookAt ? "to look at" : "refused"}`
        ) : here ? (
          <>
            On this device: <strong>{here}</strong>
          </>
        ) : (
          MARK[stands]
        )}
      </span>
    </a>
  );
}
