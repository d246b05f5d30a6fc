/** The pictures that were taken, each with what it shows: that can be changed, and a picture withdrawn. */

import { useEffect, useRef } from "preact/hooks";
import type { PhotoValue } from "../../job/fields.ts";
import { photosOf, zoneName } from "../../job/progress.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { photoWords } from "../../job/value_words.ts";
import type { Listed } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { amend } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { Thumb } from "../../parts/thumb.tsx";

type Views = Plan["views"];
type TakenOf = {
  item: ItemRecord;
  views: Views;
  /** Those that were chosen together: they took the open views in order, which somebody has to look at. */
  together: readonly string[];
};

export function Taken({ item, views, together }: TakenOf) {
  const photos = photosOf(item);
  const ofThose = photos.filter(({ id }) => together.includes(id));
  const row = (photo: Listed<PhotoValue>) => (
    <Photo
      key={photo.id}
      item_id={item.record_id}
      photo={photo}
      views={views}
      isTogether={ofThose.includes(photo)}
    />
  );
  return (
    <section>
      <h2>
        Taken <span class="count">{photos.length}</span>
      </h2>
      {photos.length ? null : <p class="none">No photo yet.</p>}
      {ofThose.length > 0 && <Together key={together[0]} count={ofThose.length} />}
      <ul class="photo-rows">
        {ofThose.map(row)}
        {photos.filter((photo) => !ofThose.includes(photo)).map(row)}
      </ul>
    </section>
  );
}

/** Scrolled to as the first of them is kept: nobody has said yet that each shows what stands under it. */
function Together({ count }: { count: number }) {
  const said = useRef<HTMLParagraphElement>(null);
  useEffect(() => said.current?.scrollIntoView({ block: "start" }), []);
  return (
    <p class="bar" ref={said}>
      {countWords(count, "picture")} chosen together: the open views in this order, by the time of their
      files. Change what is not so.
    </p>
  );
}

type PhotoOf = { item_id: string; photo: Listed<PhotoValue>; views: Views; isTogether: boolean };

function Photo({ item_id, photo: { id, value }, views, isTogether }: PhotoOf) {
  const change = (patch: Partial<PhotoValue>) => amend("attach_photo", { item_id, photo_id: id, ...patch });
  const withdraw = () =>
    attempt(async () => {
      await change({ withdrawn: true });
      sayDone("The photo is withdrawn.", () => change({ withdrawn: false }));
    });
  return (
    <li>
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
        {isTogether && value.view && (
          <button type="button" class="quiet" onClick={() => attempt(() => change({ view: null }))}>
            No view
          </button>
        )}
        <button type="button" class="quiet" onClick={withdraw}>
          Withdraw
        </button>
      </div>
    </li>
  );
}
