/** A load that is not of this device's day: of which it is, and the way back there while its van is awaited. */
import { useEffect, useState } from "preact/hooks";
import { dateWords } from "../../job/day_facts.ts";
import { workOnDay } from "../../local/day.ts";
import { Frame } from "../../parts/frame.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useDevice } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";
import { status } from "../../sync/status.ts";

/** What a device hears of the day of a thing that it does not read. */
type OfAnother = { held_on?: string; closed?: boolean; day_id?: string };

export function LoadNotHere({ load_id }: { load_id: string }) {
  const [told, setTold] = useState<OfAnother>({});
  const reached = status.value.lastContactAt;
  const scope = useDevice()?.scope;
  // The office goes by the day of which the device has read last: it is asked anew once that is another.
  useEffect(() => {
    get<OfAnother>(`/loads/${load_id}`).then(setTold, () => {});
  }, [load_id, scope, reached]);
  const { held_on, closed, day_id } = told;
  if (!held_on)
    return (
      <Frame title="Load" back="#/porter">
        <p>
          This load is not on this device. One of its day comes with the next sync; one of another day the
          manager’s device or the desk opens.
        </p>
      </Frame>
    );
  return (
    <Frame title="Load" back="#/porter">
      <p>
        It left on {dateWords(held_on)}
        {closed && ", a day that is closed"}. This device works on another day.{" "}
        {day_id
          ? "Nobody has counted it as it came: that is done on that day."
          : "The manager’s device or the desk opens it."}
      </p>
      {day_id && (
        <p>
          <button type="button" onClick={() => attempt(() => workOnDay(day_id))}>
            Work on {dateWords(held_on)}
          </button>
        </p>
      )}
    </Frame>
  );
}
