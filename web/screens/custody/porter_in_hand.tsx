/** What is being counted, as it was said; what is lacking of it is asked for here, too. */

import type { Person } from "../../job/operations.ts";
import type { ContainerRecord } from "../../job/types.ts";
import { AskedOnce } from "../../parts/asked_once.tsx";
import { arrivals } from "./arrivals.ts";
import { type Aim, aimWords, GivenBy, isArrival, LeftWith } from "./porter_aim.tsx";

const ANOTHER = "Another count";

type InHandOf = {
  aim: Aim;
  containers: ContainerRecord[];
  others: Person[];
  me: string;
  of: { day_id: string; of_load: string };
  missing: string;
  isOwed: boolean;
  isByHand: boolean;
  scanning: boolean;
  another: () => unknown;
  setAim: (patch: Partial<Aim>) => unknown;
};

export function InHand(given: InHandOf) {
  const { aim, containers, others, me, of, missing, isOwed, isByHand, scanning, another, setAim } = given;
  return (
    <>
      <p class="lead">
        {aimWords(aim, containers)}{" "}
        {!scanning && !isOwed && (
          <button type="button" class="quiet" onClick={another}>
            {ANOTHER}
          </button>
        )}
      </p>
      {!scanning && isOwed && (
        <AskedOnce
          words={ANOTHER}
          asks="This count is not recorded yet: count by hand, and record it."
          act={another}
        />
      )}
      {me && missing && <GivenBy {...{ aim, others, me }} choose={setAim} />}
      {isArrival(aim) && arrivals.value && !scanning && !isByHand && (
        <LeftWith {...of} choose={(of_load) => setAim({ of_load })} />
      )}
    </>
  );
}
