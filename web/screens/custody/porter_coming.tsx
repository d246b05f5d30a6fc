/** At the store: what left with a load, and what of it is still to come, while it is being scanned. */

import {
  arrivalWords,
  comeWords,
  isOnTheWay,
  lackingName,
  loadName,
  notCome,
  takenOut,
} from "../../job/loads.ts";
import { firstUpper } from "../../job/words.ts";
import { isToCome, type LoadHere, loadHere, loadsHere } from "../../local/loads_of_day.ts";
import { device } from "../../local/memory.ts";
import { NO_LOAD } from "../../local/owed_count.ts";
import { Select } from "../../parts/choices.tsx";
import { clockWords } from "../../parts/moments.ts";
import { status } from "../../sync/status.ts";
import type { Arrivals, LoadOf } from "./arrivals.ts";
import { leftOn, OfBefore } from "./of_before.tsx";
import { LOADS_COMING } from "./porter_aim.tsx";

/** Those that something may arrive with; what was counted again is chosen as it was counted last. */
function loadsToCome(day_id: string, of_load = "") {
  const isOf = ({ day }: LoadHere) => day_id === "" || day.record_id === day_id;
  return loadsHere().filter((here) => here.load.id === of_load || (isOf(here) && isToCome(here)));
}

const LoadChoice: Arrivals["LoadChoice"] = ({ day_id, of_load, choose }) => {
  const loads = loadsToCome(day_id, of_load);
  return loads.length ? (
    <Select
      label="Which load it left with"
      options={[
        ...loads.map((here) => [here.load.id, loadWords(here)] as const),
        [NO_LOAD, "None of these"] as const,
      ]}
      value={of_load}
      choose={choose}
      empty="Not said yet"
    />
  ) : null;
};

/** A load to choose from: when it left, with whom, and how much of it is still to come. */
function loadWords({ load, day }: LoadHere) {
  const left = day.record_id === device.value?.day_id ? clockWords(load.set.made_at) : leftOn(load, day);
  return `${left}, ${loadName(load)}: ${comeWords(load)}`;
}

const Coming: Arrivals["Coming"] = ({ scanned, ...of }) => {
  const load = chosen(of);
  if (!load) return <NoLoadKnown count={loadsToCome(of.day_id).length} isSaid={of.of_load === NO_LOAD} />;
  const here = new Set(scanned.map(({ tag }) => tag));
  const lacking = [...notCome(load), ...takenOut(load)].filter(({ number }) => !here.has(number));
  return (
    <section>
      <h2>
        Still to come <span class="count">{lacking.length}</span>
      </h2>
      <p class="lines">
        <a href={`#/load/${load.id}`}>
          {firstUpper(loadName(load))}: {load.things.length} left with it
        </a>
      </p>
      {lacking.length ? (
        <ul class="gaps">
          {lacking.map((one) => (
            <li key={one.number}>{lackingName(one)}</li>
          ))}
        </ul>
      ) : (
        <p class="none">Nothing of it is still to come.</p>
      )}
    </section>
  );
};

function chosen({ of_load }: LoadOf) {
  return loadHere(of_load)?.load;
}

/** What a count is then compared with is less than what left, and that is said. */
function NoLoadKnown({ count, isSaid }: { count: number; isSaid: boolean }) {
  if (!count && status.value.lastContactAt === null) return <p class="hint">{LOADS_COMING}</p>;
  if (count && !isSaid)
    return <p class="bar">Say above which load it left with: else nothing says what is missing.</p>;
  return (
    <p class="hint">
      {count
        ? "No load is chosen: what is scanned is compared with nothing that left."
        : "This device knows of no load that left, so it cannot say what is missing."}
    </p>
  );
}

export const ARRIVALS: Arrivals = {
  LoadChoice,
  Coming,
  OfBefore,
  dayOf: (load_id) => loadHere(load_id)?.day.record_id ?? "",
  likely: (day_id, tags) => {
    const loads = loadsToCome(day_id).map(({ load }) => load);
    const left = loads.find(({ things }) => things.some(({ number }) => tags.includes(number)));
    if (left) return left.id;
    const coming = loads.filter(isOnTheWay);
    return (coming.length === 1 && coming[0]?.id) || "";
  },
  arrivalOf: (of) => {
    const load = chosen(of);
    return load ? arrivalWords(load) : null;
  },
};
