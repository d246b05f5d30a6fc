/** The photos of an item, each with what it shows. */

import type { PhotoValue } from "../../job/fields.ts";
import { photosOf, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { spaced } from "../../job/words.ts";
import { Thumb } from "../../parts/thumb.tsx";

export function Pictures({ item, plan }: { item: ItemRecord; plan: Plan | null }) {
  const photos = photosOf(item);
  if (!photos.length) return <p class="none">No photo came with it.</p>;
  return (
    <ul class="desk-pictures">
      {photos.map(({ id, value }) => {
        const words = pictureWords(item, plan, value);
        return (
          <li key={id}>
            <figure>
              <a href={`/photos/${value.sha256}/large`} target="_blank" rel="noreferrer">
                <Thumb sha256={value.thumb_sha256} words={words} />
              </a>
              <figcaption>{words}</figcaption>
            </figure>
          </li>
        );
      })}
    </ul>
  );
}

/** The finding that it shows, else its zone, else the view that it serves. */
function pictureWords(item: ItemRecord, plan: Plan | null, { finding_id, zone, view }: PhotoValue) {
  const finding = finding_id ? fieldValue(item, `findings/${finding_id}`) : null;
  if (finding) return `${spaced(finding.term)} on ${zoneName(finding.zone)}`;
  if (zone) return zoneName(zone);
  return plan?.views.find((named) => named.view === view)?.words ?? "no named view";
}
