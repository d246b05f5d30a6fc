/** The keys under the photos: take what is in hand; where nothing is asked for any more, on to the next step. */

import { useEffect, useState } from "preact/hooks";
import { viewName } from "../../job/progress.ts";
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

/** Whether the open camera is to be seen: whoever has scrolled away from it does not see what a press takes. */
function useInSight(isOpen: boolean) {
  const [isSeen, setSeen] = useState(true);
  useEffect(() => {
    const shown = isOpen && document.querySelector(".camera video");
    setSeen(true);
    if (!shown) return;
    const observer = new IntersectionObserver(([entry]) => setSeen((entry?.intersectionRatio ?? 1) >= SEEN), {
      threshold: SEEN,
    });
    observer.observe(shown);
    return () => observer.disconnect();
  }, [isOpen]);
  return isSeen;
}

/** So much of the picture tells what is in it. */
const SEEN = 0.4;

/** The label takes what is in hand; where nothing is asked for any more it leads on. */
export function PhotoDock({ item, inHand, isChosen, missing, camera, setCamera, shutter }: PhotoDockOf) {
  const [then, ...more] = missing.filter((shot) => shot !== inHand).map(({ words }) => viewName(words));
  const isSeen = useInSight(camera);
  const look = () => document.querySelector(".camera")?.scrollIntoView({ block: "start" });
  const press = () => (!camera ? setCamera(true) : isSeen ? shutter.current?.() : look());
  if (!("mediaDevices" in navigator)) return <NextStep item={item} here="/photos" />;
  if (!missing.length && !isChosen)
    return (
      <>
        {camera && (
          <button type="button" onClick={press}>
            {isSeen ? "Take another" : "Back to the camera"}
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
      <TieOn press={press} left={then && `then ${then}${more.length ? `, ${more.length} more` : ""}`}>
        {camera && !isSeen ? "Back to the camera" : `Take: ${viewName(inHand.words)}`}
      </TieOn>
    </>
  );
}
