/** Who stands by: somebody else of the day's list, chosen and not typed. */

import { peopleHere } from "../../job/day_facts.ts";
import { Select } from "../../parts/choices.tsx";
import { useDay, useDevice } from "../../parts/use.ts";

type SecondPersonOf = { name: string; choose: (name: string) => unknown };

export function SecondPerson({ name, choose }: SecondPersonOf) {
  const day = useDay();
  const device = useDevice();
  const others = day ? peopleHere(day).filter(({ person_id }) => person_id !== device?.person_id) : [];
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
