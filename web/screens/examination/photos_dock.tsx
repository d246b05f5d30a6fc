/** The keys under the photos: take what is in hand; where nothing is asked for any more, on to the next step. */

import type { ItemRecord } from "../../job/types.ts";
import type { Shutter } from "../../parts/camera.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import type { Shot } from "./photos.tsx";

type PhotoDockOf = {
  item: ItemRecord;
  inHand: Shot;
  isChosen: boolean;
  missing: readonly Shot[];
  camera: boolean;
  setCamera: (open: boolean) => void;
  shutter: Shutter;
};

const THEN = 4;

/** The label takes what is in hand; where nothing is asked for any more it leads on. */
export function PhotoDock({ item, inHand, isChosen, missing, camera, setCamera, shutter }: PhotoDockOf) {
  const then = missing.filter((shot) => shot !== inHand).map(({ words }) => words);
  const press = () => (camera ? shutter.current?.() : setCamera(true));
  if (!("mediaDevices" in navigator)) return <NextStep item={item} here="/photos" />;
  if (!missing.length && !isChosen)
    return (
      <>
        {camera && (
          <button type="button" onClick={press}>
            Take another
          </button>
        )}
        <NextStep item={item} here="/photos" />
      </>
    );
  return (
    <>
      {camera ? (
        <button type="button" onClick={() => setCamera(false)}>
          Close camera
        </button>
      ) : (
        <a class="button" href={`#/item/${item.record_id}`} aria-label="Back to the item">
          Item
        </a>
      )}
      <TieOn
        press={press}
        left={then.length ? `then ${then.slice(0, THEN).join(", ")}${then.length > THEN ? " …" : ""}` : ""}
      >
        Take: {inHand.words}
      </TieOn>
    </>
  );
}
