/** Where that is which was made on this device, as far as the device knows. */

import type { Standing } from "../../sync/status.ts";

const CHARGED = "Keep this device charged and do not clear its storage:";

/**
 * Where that is which was made here, as far as this device knows; `nothing`: none of it waits to be sent or looked at.
 */
export function WhereItIs({ stands, nothing }: { stands: Standing; nothing: boolean }) {
  if (stands === "unknown")
    return (
      <>
        The office does not know this device, so what it sent before may be nowhere else. {CHARGED} once it is{" "}
        <a href="#/pair">paired again</a> it sends what it has.
      </>
    );
  if (!nothing) return <>{CHARGED} what is listed here is nowhere else yet.</>;
  switch (stands) {
    case "not reached":
      return (
        <>
          Everything from this device was at the desk when the office was heard last. It is not reached now.
        </>
      );
    case "not heard yet":
      return <>Nothing waits to be sent. The office was not heard yet since the app was opened.</>;
    case "brought again":
      return (
        <>
          The office has lost something, and this device is sending again what it has. {CHARGED} it may be
          nowhere else.
        </>
      );
    case "lacking":
      return <>This device has sent all that it can send. {CHARGED} what the desk lacks is listed here.</>;
    case "at desk":
      return <>Everything from this device is at the desk.</>;
  }
}
