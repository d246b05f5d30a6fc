/**
 * What is to be seen in pictures, as tiles that fill up: a broken line where one is missing, manila round the one in
 * hand.
 */

import type { ComponentChildren } from "preact";
import { viewName } from "../../job/progress.ts";
import type { Outline } from "../../job/types.ts";
import { Sign } from "../../parts/sign.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { ViewDrawing } from "../../parts/view_drawing.tsx";
import { ANY_OTHER, type Shot } from "./photos.tsx";

type TilesOf = {
  class_id: string;
  drawings: readonly Outline[];
  shots: readonly Shot[];
  inHand: Shot;
  choose: (key: string) => void;
};

export function Tiles({ class_id, drawings, shots, inHand, choose }: TilesOf) {
  const tile = (shot: Shot) => (
    <Tile
      key={shot.key}
      {...{ class_id, drawings }}
      shot={shot}
      isInHand={shot === inHand}
      choose={() => choose(shot.key)}
    />
  );
  const views = shots.filter(({ about }) => about.view);
  const others = shots.filter(({ about }) => !about.view);
  const findings = others.filter(({ about }) => about.finding_id);
  return (
    <>
      {views.length > 0 && (
        <fieldset class="view-tiles views">
          <Taken words="Views" shots={views.filter(({ isAsked, photo }) => isAsked || photo)}>
            {ifTheyApply(views)}
          </Taken>
          {views.map(tile)}
        </fieldset>
      )}
      <fieldset class="view-tiles">
        {findings.length > 0 ? <Taken words="Findings" shots={findings} /> : <legend>Other pictures</legend>}
        {others.map(tile)}
      </fieldset>
    </>
  );
}

/** How many tiles stand there that nobody has to take, so that the count and the tiles agree. */
function ifTheyApply(views: readonly Shot[]) {
  const free = views.filter(({ isAsked, photo, skipped }) => !isAsked && !photo && !skipped).length;
  return free > 0 && `, ${free} more if ${free === 1 ? "it applies" : "they apply"}`;
}

type TakenOf = { words: string; shots: readonly Shot[]; children?: ComponentChildren };

function Taken({ words, shots, children }: TakenOf) {
  return (
    <legend>
      {words}{" "}
      <span class="count">
        {shots.filter(({ photo }) => photo).length} of {shots.length} taken
        {children}
      </span>
    </legend>
  );
}

type TileOf = Pick<TilesOf, "class_id" | "drawings"> & { shot: Shot; isInHand: boolean; choose: () => void };

function Tile({ class_id, drawings, shot, isInHand, choose }: TileOf) {
  const { photo, words, isAsked, skipped, key } = shot;
  const state = isInHand ? "in-hand" : photo ? "taken" : skipped ? "skipped" : "missing";
  return (
    <button type="button" class={`view-tile ${state}`} aria-pressed={isInHand} onClick={choose}>
      {photo ? (
        <Thumb sha256={photo.value.thumb_sha256} words="" />
      ) : key === ANY_OTHER ? (
        <Sign of="more" />
      ) : (
        <ViewDrawing {...{ class_id, drawings }} words={shot.about.view && words} />
      )}
      {photo && <Sign of="check" />}
      <span>{viewName(words)}</span>
      {skipped && <span class="not-taken">not taken</span>}
      <span class="unseen">{photo ? ", taken" : isAsked ? ", missing" : ""}</span>
    </button>
  );
}
