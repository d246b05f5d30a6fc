/** Who is at this desk: asked once, then a name. Every record says who made it. */

import { useEffect, useState } from "preact/hooks";
import { listed } from "../../job/values.ts";
import { rememberDevice } from "../../local/device.ts";
import { Select } from "../../parts/choices.tsx";
import { useDevice, useRecords } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";

type Person = { person_id: string; name: string };

export function AtThisDesk() {
  const device = useDevice();
  const [open, setOpen] = useState(false);
  const here = usePeopleHere();
  if (!device) return null;
  const name = device.person_name || here.find((person) => person.person_id === device.person_id)?.name;
  if (device.person_id && !open)
    return (
      <p class="at-desk">
        <strong>{name ?? "Somebody not on a list here"}</strong>{" "}
        <button type="button" class="quiet" onClick={() => setOpen(true)}>
          Change
        </button>
      </p>
    );
  return <ChooseName here={here} close={() => setOpen(false)} />;
}

/** Those of the open days, which this device has; the office knows those of all. */
function usePeopleHere(): Person[] {
  const days = useRecords("day") ?? [];
  return days.flatMap((day) => listed(day, "people/").map(({ value }) => value));
}

function ChooseName({ here, close }: { here: Person[]; close: () => void }) {
  const [people, setPeople] = useState<Person[]>(here);
  const device = useDevice();
  useEffect(() => {
    get<{ people: Person[] }>("/people").then(
      (answer) => setPeople(answer.people),
      () => setPeople(here), // with no line, whoever is on the days that are here
    );
  }, []);
  const choose = async (person_id: string) => {
    const person_name = people.find((person) => person.person_id === person_id)?.name ?? "";
    await rememberDevice({ person_id, person_name });
    if (person_id) close();
  };
  return (
    <div class="card in-hand">
      <Select
        label="Who is at this desk?"
        value={device?.person_id}
        empty="Your name"
        options={people.map((person) => [person.person_id, person.name])}
        choose={choose}
      />
      {!device?.person_id && <p class="hint">Until then you can read, and nothing can be written.</p>}
    </div>
  );
}
