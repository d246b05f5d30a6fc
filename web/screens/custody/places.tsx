/**
 * What is where: the holding area, the van, the store, each shelf, with its count; it follows the records as they come.
 */

import { placesOf } from "../../job/custody.ts";
import { comeWords, isReplaced, type Load, loadName } from "../../job/loads.ts";
import type { ItemRecord } from "../../job/types.ts";
import type { AtPlace } from "../../job/where_list.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { countWords } from "../../job/words.ts";
import { loadsOfDay } from "../../local/loads_of_day.ts";
import { recordOf } from "../../local/memory.ts";
import { placesOfDay } from "../../local/places_of_day.ts";
import { ChooseDayFirst } from "../../parts/choose_day.tsx";
import { Frame } from "../../parts/frame.tsx";
import { clockWords } from "../../parts/moments.ts";
import { PicturesAhead } from "../../parts/pictures_ahead.tsx";
import { Tag } from "../../parts/tag.tsx";
import { useDay, useRecords } from "../../parts/use.ts";
import { OfBefore } from "./of_before.tsx";

export default function Places() {
  const day = useDay();
  const items = useRecords("item", day?.record_id ?? "");
  const before = useRecords("item")?.filter(({ day_id }) => day_id !== day?.record_id) ?? [];
  const places = day && placesOfDay(day.record_id);
  return (
    <Frame title="What is where" back="#/porter">
      {!places && <ChooseDayFirst day={day} on="Today" />}
      <OfBefore />
      {day && <Loads loads={loadsOfDay(day.record_id).filter((load) => !isReplaced(load))} />}
      {places?.length === 0 && <p class="none">Nothing is on record yet.</p>}
      {places?.map((at) => (
        <OnePlace key={at.words} at={at} />
      ))}
      {items && (
        <PicturesAhead items={[...items.filter((item) => !isBackWithOwner(item)), ...onTheirWay(before)]} />
      )}
    </Frame>
  );
}

/** Of things of days before those that come with a load: they are unpacked here, and compared with their pictures. */
function onTheirWay(before: readonly ItemRecord[]) {
  const byId = { get: (id: string) => recordOf("container", id) ?? undefined };
  return before.filter((item) => placesOf(item, byId).some(({ place }) => place === "van"));
}

/** What went with the van, and how much of it is still to come. */
function Loads({ loads }: { loads: Load[] }) {
  if (!loads.length) return null;
  return (
    <section>
      <h2>
        Loads <span class="count">{loads.length}</span>
      </h2>
      <ul class="lines">
        {loads.map((load) => (
          <li key={load.id}>
            <a href={`#/load/${load.id}`}>
              {clockWords(load.set.made_at)}, {loadName(load)}: {comeWords(load)}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function OnePlace({ at: { place, words, standing, items } }: { at: AtPlace }) {
  return (
    <details class="place">
      <summary>
        <span class="figure">{standing.length}</span> {words}{" "}
        {place && (
          <small>
            {countWords(standing.length, "thing")} to count, {countWords(items, "item")} in all
          </small>
        )}
      </summary>
      <ul class="lines">
        {standing.map(({ thing, tag, words }) => (
          <li key={`${thing.record_id} ${tag}`}>
            <a href={`#/${thing.kind}/${thing.record_id}`}>
              <Tag tag={tag} /> {words}
            </a>
          </li>
        ))}
      </ul>
    </details>
  );
}
