/** The ways to narrow the list that somebody saved on this device, and what an erasure took of them. */

import { useEffect, useState } from "preact/hooks";
import { same } from "../../job/between.ts";
import { ASKED_NOTHING, type Asked } from "../../job/desk.ts";
import { countWords } from "../../job/words.ts";
import { erasures } from "../../local/memory.ts";
import {
  dropFilter,
  type FiltersErased,
  filtersErased,
  namesake,
  type SavedFilter,
  savedFilters,
  saveFilter,
  seeFiltersErased,
} from "../../local/saved_filters.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Line } from "./filter_line.tsx";

type SavedOf = { asked: Asked; ask: (change: Partial<Asked>) => void };

/** Somebody saved them: what went of them is said. */
function erasedWords({ went, unnamed }: FiltersErased) {
  const gone = [
    went && `${countWords(went, "filter")} with words to look for`,
    unnamed && `the ${unnamed === 1 ? "name" : "names"} given to ${countWords(unnamed, "other filter")}`,
  ].filter(Boolean);
  return `An owner’s words were erased, and nobody can tell whose words were saved here. Gone with them: ${gone.join(
    ", and ",
  )}. Save again what is still needed.`;
}

const NAME = "filter-name";

/** Kept on this device: a press asks for one again. */
export function Saved({ asked, ask }: SavedOf) {
  const [filters, setFilters] = useState<SavedFilter[]>([]);
  const [name, setName] = useState<string | null>(null);
  const [erased, setErased] = useState<FiltersErased | null>(null);
  useEffect(() => {
    savedFilters().then(setFilters);
    filtersErased().then((found) => setErased(found ?? null));
  }, [erasures.value]); // with which their words go
  const isSame = (filter: SavedFilter) => same({ ...ASKED_NOTHING, ...filter.asked }, asked);
  const asksSomething = Object.values(asked).some(Boolean);
  const save = () =>
    attempt(async () => {
      const before = namesake(await savedFilters(), name ?? "");
      setFilters(await saveFilter({ name: name ?? "", asked }));
      setName(null);
      if (before && !isSame(before)) sayDone(`“${before.name}” was replaced.`, putBack(before));
    });
  /** Not once an erasure was heard: what it took of the filters is not brought back. */
  const putBack = (filter: SavedFilter) => {
    const heard = erasures.value;
    return async () => {
      if (erasures.value === heard) setFilters(await saveFilter(filter));
    };
  };
  const drop = (filter: SavedFilter) =>
    attempt(async () => {
      setFilters(await dropFilter(filter.name));
      sayDone(`“${filter.name}” is forgotten.`, putBack(filter));
    });
  return (
    <section class="filter-group" aria-label="Saved">
      {erased && (
        <div class="bar" role="status">
          <p>{erasedWords(erased)}</p>
          <button
            type="button"
            onClick={() =>
              attempt(async () => {
                await seeFiltersErased();
                setErased(null);
              })
            }
          >
            Seen
          </button>
        </div>
      )}
      {filters.map((filter) => (
        <div key={filter.name} class="saved-filter">
          <Line
            words={filter.name}
            count={undefined}
            isChosen={isSame(filter)}
            choose={() => ask({ ...ASKED_NOTHING, ...filter.asked })}
          />
          <button type="button" class="quiet" onClick={() => drop(filter)}>
            <span aria-hidden="true">×</span>
            <span class="unseen">Forget {filter.name}</span>
          </button>
        </div>
      ))}
      {name !== null ? (
        <form
          class="saved-filter"
          onKeyDown={(event) => {
            if (event.key !== "Escape") return;
            event.stopPropagation();
            setName(null);
          }}
          onSubmit={(event) => {
            event.preventDefault();
            save();
          }}
        >
          <div class="field">
            <label for={NAME}>Name for this filter</label>
            <input
              id={NAME}
              value={name}
              maxLength={40}
              onInput={(event) => setName(event.currentTarget.value)}
            />
          </div>
          <button type="submit">Save</button>
          <button type="button" class="quiet" onClick={() => setName(null)}>
            Cancel
          </button>
        </form>
      ) : (
        asksSomething && (
          <p class="filter-keys">
            <button type="button" class="quiet" onClick={() => ask(ASKED_NOTHING)}>
              Show all
            </button>
            {!filters.some(isSame) && (
              <button type="button" class="quiet" onClick={() => setName("")}>
                Save this
              </button>
            )}
          </p>
        )
      )}
    </section>
  );
}
