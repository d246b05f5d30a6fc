/** The photos of an item: the views its class needs, which of them are there, and the rest. */
import { useState } from "preact/hooks";
import type { PhotoValue } from "../../job/fields.ts";
import { isRequired, photosOf, zoneName } from "../../job/progress.ts";
import { amend } from "../../local/outbox.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Select } from "../../parts/choices.tsx";
import { Frame } from "../../parts/frame.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { PictureButtons } from "../../parts/pictures.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { usePlan, useRecord } from "../../parts/use.ts";

export default function Photos({ item_id }: { item_id: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const [chosen, setChosen] = useState("");
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined)
    return (
      <Frame title="Photos" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  const photos = photosOf(item);
  const views = plan?.views ?? [];
  const taken = new Set(photos.map(({ value }) => value.view));
  const open = views.filter((view) => !taken.has(view.view));
  const missing = open.filter(isRequired);
  const view = chosen || (missing[0] ?? open[0])?.view || null;
  const words = views.find((one) => one.view === view)?.words;
  const take = async (blob: Blob) => {
    await keepPhoto(blob, { item_id, view, zone: null, finding_id: null });
    setChosen("");
  };
  const change = (photo_id: string, patch: Partial<PhotoValue>) =>
    amend("attach_photo", { item_id, photo_id, ...patch });
  const withdraw = (photo_id: string) =>
    attempt(async () => {
      await change(photo_id, { withdrawn: true });
      sayDone("The photo is withdrawn.", () => change(photo_id, { withdrawn: false }));
    });
  return (
    <Frame
      title={missing.length ? `Photos, ${missing.length} missing` : `Photos: ${photos.length}`}
      back={back}
      item_id={item.record_id}
      stoppedToo={["photo", "photo-from-distance"]}
      action={<NextStep item={item} here="/photos" />}
    >
      <section>
        <h2>{view ? `Next: ${words}` : "Another photo"}</h2>
        <PictureButtons take={take} series={view ? `Next: ${words}` : "Another photo"} />
        {views.length > 0 && (
          <ul class="views">
            {views.map((one) => (
              <li key={one.view}>
                <button
                  type="button"
                  class="chip"
                  aria-pressed={view === one.view}
                  onClick={() => setChosen(one.view)}
                >
                  <span aria-hidden="true">{taken.has(one.view) ? "✓" : isRequired(one) ? "○" : "·"}</span>{" "}
                  {one.words}
                  {taken.has(one.view) ? "" : isRequired(one) ? "" : " (where it applies)"}
                </button>
              </li>
            ))}
          </ul>
        )}
      </section>
      <section>
        <h2>
          Taken <span class="count">{photos.length}</span>
        </h2>
        {photos.length ? null : <p class="none">No photo yet.</p>}
        <ul class="photo-rows">
          {photos.map(({ id, value }) => (
            <li key={id}>
              <Thumb sha256={value.thumb_sha256} words={`photo: ${value.view ?? value.zone ?? "no view"}`} />
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
                    choose={(to) => change(id, { view: to || null })}
                  />
                )}
                <button type="button" class="quiet" onClick={() => withdraw(id)}>
                  Withdraw
                </button>
              </div>
            </li>
          ))}
        </ul>
      </section>
    </Frame>
  );
}
