/** The photos of an item: views and findings that fill up, the one in hand taken by the label. */

import { useRef, useState } from "preact/hooks";
import type { FindingValue, PhotoValue } from "../../job/fields.ts";
import { outlinesOf } from "../../job/outlines_of.ts";
import { asked, isRequired, photosOf, viewsInOrder } from "../../job/progress.ts";
import { PICTURED_STILL } from "../../job/stopped.ts";
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue, type Listed, listed } from "../../job/values.ts";
import { worded } from "../../job/worded.ts";
import { countWords, firstUpper, spaced } from "../../job/words.ts";
import { keepPhoto } from "../../local/photos.ts";
import { Below } from "../../parts/below.tsx";
import { Camera } from "../../parts/camera.tsx";
import { Frame } from "../../parts/frame.tsx";
import { sayDone } from "../../parts/notices.tsx";
import { OtherPictures } from "../../parts/pictures.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { underViews } from "../../parts/with_words.ts";
import { PhotoDock } from "./photos_dock.tsx";
import { NoTagYet } from "./photos_no_tag.tsx";
import { Tiles } from "./photos_tiles.tsx";

/** What a picture is to show: a view of the plan, a finding, or neither. */
export type Shot = {
  key: string;
  words: string;
  about: Record<"view" | "zone" | "finding_id", string | null>;
  /** The picture that shows it, if there is one. */
  photo: Listed<PhotoValue> | undefined;
  /** Why a view of the plan is not taken; "" if it is, or is still to be. */
  skipped: string;
  isAsked: boolean;
};

/** From this severity on a finding has a photo of its own. */
const PICTURED = 2;
export const ANY_OTHER = "any other";
const NO_VIEW = { view: null, zone: null, finding_id: null };

/** Every view of the plan, then the findings that are asked for a picture or have one, then any other picture. */
function shotsOf(plan: Plan | null, item: ItemRecord): Shot[] {
  const photos = photosOf(item);
  const wanted = plan ? asked(plan, item, plan.views) : [];
  const isShown = (view: Plan["views"][number]) =>
    wanted.includes(view) || photos.some(({ value }) => value.view === view.view);
  const views = viewsInOrder(plan?.views.filter(isShown) ?? []).map((view) => {
    const photo = photos.find(({ value }) => value.view === view.view);
    const skipped = (!photo && fieldValue(item, `views/${view.view}`)?.reason) || "";
    return {
      key: view.view,
      words: plan ? worded(plan, item, view).words : view.words,
      about: { view: view.view, zone: null, finding_id: null },
      photo,
      skipped,
      isAsked: isRequired(view) && !skipped,
    };
  });
  const findings = listed(item, "findings/")
    .filter(({ value }) => !value.withdrawn)
    .map((finding) => shotOf(finding, photos))
    .filter(({ isAsked, photo }) => isAsked || photo);
  return [
    ...views,
    ...findings,
    { key: ANY_OTHER, words: ANY_OTHER, about: NO_VIEW, photo: undefined, skipped: "", isAsked: false },
  ];
}

function shotOf({ id, value }: Listed<FindingValue>, photos: readonly Listed<PhotoValue>[]): Shot {
  return {
    key: id,
    words: `${spaced(value.zone.replace("/", ", "))}: ${spaced(value.term)}`,
    about: { view: null, zone: value.zone, finding_id: id },
    photo: photos.find((photo) => photo.value.finding_id === id),
    skipped: "",
    isAsked: (value.severity ?? 0) >= PICTURED,
  };
}

/** `zone_key` is "camera" where the label led here to take the next view: then the camera opens by itself. */
export default function Photos({ item_id, zone_key = "" }: { item_id: string; zone_key?: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const [chosen, setChosen] = useState("");
  const [camera, setCamera] = useState(zone_key === "camera" && "mediaDevices" in navigator);
  const [asking, setAsking] = useState(false);
  const [together, setTogether] = useState<readonly string[]>([]); // those that were chosen together
  const book = usePlanBook();
  const under = underViews.value;
  const shutter = useRef<(() => unknown) | null>(null);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined)
    return (
      <Frame title="Photos" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  const class_id = plan?.class_id ?? "";
  const shots = shotsOf(plan, item);
  const missing = shots.filter(({ isAsked, photo }) => isAsked && !photo);
  const inHand = shots.find(({ key }) => key === chosen) ?? missing[0] ?? (shots.at(-1) as Shot);
  const open = openViews(shots, inHand);
  const take = async (blob: Blob, place: number | null = null) => {
    const about = place === null ? inHand.about : (open[place] ?? NO_VIEW);
    const kept = await keepPhoto(blob, { item_id, ...about });
    if (place !== null && kept.kind === "attach_photo") {
      const { photo_id } = kept;
      setTogether((before) => (place ? [...before, photo_id] : [photo_id]));
      sayDone("Look under each picture whether it shows what stands there.");
    }
    setChosen("");
  };
  return (
    <Frame
      title={missing.length ? `Photos, ${missingWords(missing)}` : `Photos: ${photosOf(item).length}`}
      back={back}
      item_id={item.record_id}
      stoppedToo={PICTURED_STILL}
      action={
        <PhotoDock
          item={item}
          inHand={inHand}
          isChosen={Boolean(chosen)}
          missing={missing}
          camera={camera}
          setCamera={setCamera}
          shutter={shutter}
        />
      }
    >
      <NoTagYet item={item} inHand={inHand} />
      {camera && (
        <Camera
          take={take}
          series={firstUpper(inHand.words)}
          shutter={shutter}
          close={() => setCamera(false)}
        />
      )}
      <Tiles
        class_id={class_id}
        drawings={plan ? outlinesOf(book, plan, item) : []}
        shots={shots}
        inHand={inHand}
        choose={setChosen}
      />
      {under && (
        <under.Skipped
          item_id={item_id}
          shot={inHand}
          open={missing}
          book={book}
          isAsking={asking}
          setAsking={setAsking}
          onward={() => setChosen("")}
        />
      )}
      <Below>
        <OtherPictures take={take} />
        {under && <under.Taken item={item} views={plan?.views ?? []} together={together} />}
      </Below>
    </Frame>
  );
}

/** What several pictures fill, one after the other: the views still asked for, from the one in hand on. */
function openViews(shots: readonly Shot[], inHand: Shot) {
  const from = inHand.about.view ? shots.indexOf(inHand) : 0;
  const isOpen = (shot: Shot) => shot === inHand || shot.isAsked;
  return shots
    .slice(from)
    .flatMap((shot) => (shot.about.view && !shot.photo && isOpen(shot) ? shot.about : []));
}

/** "13 views missing", as the label that leads here counts them; once they are taken, how many findings are left. */
function missingWords(missing: readonly Shot[]) {
  const views = missing.filter(({ about }) => about.view).length;
  return `${countWords(views || missing.length, views ? "view" : "finding")} missing`;
}
