/** Where that is which was made on this device, as far as the device knows. */

import type { Standing } from "../../sync/status.ts";

const CHARGED = "Keep this device charged and do not clear its storage:";

type Of = {
  stands: Standing;
  /** Whether some of it is on this device only, and whether the office did not take some of it. */
  onlyHere: boolean;
  toLookAt: boolean;
};

/** Where that is which was made here, as far as this device knows. */
export function WhereItIs({ stands, onlyHere, toLookAt }: Of) {
  if (stands === "unknown")
    return (
      <>
        The office does not know this device, so what it sent before may be nowhere else. {CHARGED} once it is{" "}
        <a href="#/pair">paired again</a> it sends what it has.
      </>
    );
  if (onlyHere) return <>{CHARGED} what the office does not have yet is nowhere else.</>;
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
      if (toLookAt)
        return <>The office has heard all from this device. What it did not take is listed here.</>;
      return <>Everything from this device is at the desk.</>;
  }
}
