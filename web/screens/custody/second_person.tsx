/** Who stands by: somebody else of the day's list, chosen and not typed. */

import { othersHere } from "../../job/others_here.ts";
import { Select } from "../../parts/choices.tsx";
import { useDay, useDevice } from "../../parts/use.ts";

type SecondPersonOf = { name: string; choose: (name: string) => unknown };

export function SecondPerson({ name, choose }: SecondPersonOf) {
  const others = useOthers();
  return (
    <>
      <Select
        label="Second person"
        options={others.map(({ name }) => [name, name] as const)}
        value={name}
        choose={choose}
      />
      {!others.length && (
        <p class="hint">Nobody else is on the day's list: the manager adds them on the Day screen.</p>
      )}
    </>
  );
}

/** The second person as it was chosen; "" once that is who is at this device: the choice outlives a change of name. */
export function useSecond(chosen: string): string {
  return useOthers().some(({ name }) => name === chosen) ? chosen : "";
}

function useOthers() {
  const day = useDay();
  const device = useDevice();
  return day ? othersHere(day, device?.person_id ?? "") : [];
}
