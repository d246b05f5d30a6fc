/** Who is at this desk: asked once, then a name. Every record says who made it. */

import { useEffect, useState } from "preact/hooks";
import { namesToChoose, peopleHere, personLeft } from "../../job/day_facts.ts";
import { rememberDevice } from "../../local/device.ts";
import { Select } from "../../parts/choices.tsx";
import { useDevice, useRecords } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";

type Person = { person_id: string; name: string };

export function AtThisDesk() {
  const device = useDevice();
  const [open, setOpen] = useState(false);
  const days = useRecords("day") ?? [];
  const here = days.flatMap(peopleHere);
  if (!device) return null;
  const offered = device.role === "manager" ? days.flatMap(namesToChoose) : [];
  const left = personLeft(days, device.person_id)?.name ?? "";
  const name = device.person_name || here.find((person) => person.person_id === device.person_id)?.name;
  if (device.person_id && !open && !left)
    return (
      <p class="at-desk">
        <strong>{name ?? "Somebody not on a list here"}</strong>{" "}
        <button type="button" class="quiet" onClick={() => setOpen(true)}>
          Change
        </button>
      </p>
    );
  return <ChooseName offered={offered} here={here} left={left} close={() => setOpen(false)} />;
}

type NamesOf = {
  offered: [person_id: string, words: string][];
  here: Person[];
  left: string;
  close: () => void;
};

/**
 * `here` are those of the open days, which this device has; the office knows those of all. `offered` are the names that
 * a manager's other screens offer: one device asks for one list.
 */
function ChooseName({ offered, here, left, close }: NamesOf) {
  const [people, setPeople] = useState<Person[]>(here);
  const device = useDevice();
  const isOffered = offered.length > 0;
  useEffect(() => {
    if (isOffered) return;
    get<{ people: Person[] }>("/people").then(
      (answer) => setPeople(answer.people),
      () => setPeople(here), // with no line, whoever is on the days that are here
    );
  }, [isOffered]);
  const choose = async (person_id: string) => {
    const person_name = [...here, ...people].find((person) => person.person_id === person_id)?.name ?? "";
    await rememberDevice({ person_id, person_name });
    if (person_id) close();
  };
  return (
    <div class="card in-hand asks-name">
      <Select
        label="Who is at this desk?"
        value={device?.person_id}
        empty="Your name"
        options={isOffered ? offered : people.map((person) => [person.person_id, person.name])}
        choose={choose}
      />
      {(!device?.person_id || left) && (
        <p class="hint">{left && `${left} has left. `}Until then you can read, and nothing can be written.</p>
      )}
    </div>
  );
}
