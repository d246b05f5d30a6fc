/** The keys under the photos: take what is in hand; where nothing is asked for any more, on to the next step. */

import { useState } from "preact/hooks";
import { tagsOf, viewName } from "../../job/progress.ts";
import type { ItemRecord } from "../../job/types.ts";
import type { Shutter } from "../../parts/camera.tsx";
import { NextStep } from "../../parts/next_step.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import type { Shot } from "./photos.tsx";

const KEEPING = "Keeping the last picture …";

type PhotoDockOf = {
  item: ItemRecord;
  inHand: Shot;
  isChosen: boolean;
  missing: readonly Shot[];
  camera: boolean;
  setCamera: (open: boolean) => void;
  shutter: Shutter;
};

/** Whoever waits so long for a picture to be kept presses again: it takes none before that. */
const SLOW_MS = 300;

/** Whether a picture takes long to be kept. */
function useSlowToKeep() {
  const [isKeeping, setKeeping] = useState(false);
  const keeps = async (picture: unknown) => {
    const slow = setTimeout(() => setKeeping(true), SLOW_MS);
    try {
      await picture;
    } finally {
      clearTimeout(slow);
      setKeeping(false);
    }
  };
  return { keeps, isKeeping };
}

/** The label takes what is in hand; where nothing is asked for any more it leads on. */
export function PhotoDock({ item, inHand, isChosen, missing, camera, setCamera, shutter }: PhotoDockOf) {
  const [then, ...more] = missing.filter((shot) => shot !== inHand).map(({ words }) => viewName(words));
  const { keeps, isKeeping } = useSlowToKeep();
  const address = `#/item/${item.record_id}`;
  const press = () => (camera ? keeps(shutter.current?.()) : setCamera(true));
  if (!("mediaDevices" in navigator)) return <NextStep item={item} here="/photos" />;
  if (!missing.length && !isChosen)
    return (
      <>
        {camera && (
          <button type="button" onClick={press}>
            {isKeeping ? KEEPING : "Take another"}
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
        <>
          <a class="button" href={address} aria-label="Back to the item">
            Item
          </a>
          {!tagsOf(item).length && (
            <a class="button" href={`${address}/tag`} aria-label="Tie the tag: the views stay open">
              Tag
            </a>
          )}
        </>
      )}
      <TieOn press={press} left={then && `then ${then}${more.length ? `, ${more.length} more` : ""}`}>
        {isKeeping ? KEEPING : `Take: ${viewName(inHand.words)}`}
      </TieOn>
    </>
  );
}
