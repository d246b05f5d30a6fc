/** The pictures that were taken, each with what it shows: that can be changed, and a picture withdrawn. */

import { useEffect, useRef } from "preact/hooks";
import type { PhotoValue } from "../../job/fields.ts";
import { photosOf, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { photoWords } from "../../job/value_words.ts";
import type { Listed } from "../../job/values.ts";
import { amend } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Thumb } from "../../parts/thumb.tsx";

type Views = Plan["views"];

/** `first` is scrolled to: whoever has chosen several says from there on what each shows. */
export function Taken({ item, views, first }: { item: ItemRecord; views: Views; first: string }) {
  const photos = photosOf(item);
  return (
    <section>
      <h2>
        Taken <span class="count">{photos.length}</span>
      </h2>
      {photos.length ? null : <p class="none">No photo yet.</p>}
      <ul class="photo-rows">
        {photos.map((photo) => (
          <Photo
            key={photo.id}
            item_id={item.record_id}
            photo={photo}
            views={views}
            isFirst={photo.id === first}
          />
        ))}
      </ul>
    </section>
  );
}

type PhotoOf = { item_id: string; photo: Listed<PhotoValue>; views: Views; isFirst: boolean };

function Photo({ item_id, photo: { id, value }, views, isFirst }: PhotoOf) {
  const row = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (isFirst) row.current?.scrollIntoView({ block: "start" });
  }, [isFirst]);
  const change = (patch: Partial<PhotoValue>) => amend("attach_photo", { item_id, photo_id: id, ...patch });
  const withdraw = () =>
    attempt(async () => {
      await change({ withdrawn: true });
      sayDone("The photo is withdrawn.", () => change({ withdrawn: false }));
    });
  return (
    <li ref={row}>
      <Thumb sha256={value.thumb_sha256} words={`photo: ${photoWords(value)}`} />
      <div>
        {value.zone ? (
          <p>
            {zoneName(value.zone)}
            {value.finding_id ? ", a finding" : ""}
          </p>
        ) : (
          <Select
            label="Shows"
            options={views.map((named) => [named.view, named.words] as const)}
            value={value.view}
            empty="No named view"
            choose={(to) => change({ view: to || null })}
          />
        )}
        <button type="button" class="quiet" onClick={withdraw}>
          Withdraw
        </button>
      </div>
    </li>
  );
}
