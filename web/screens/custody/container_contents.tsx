/** What was scanned into a container, each container within it with its own contents. */

import { standingCautions } from "../../job/cautions.ts";
import { lackingIn } from "../../job/compared.ts";
import { type ContentsOfEach, pieceMoved, piecesHere, whyNotCarried } from "../../job/contents.ts";
import { containerIdOf, thingName, type Where, whereIs } from "../../job/custody.ts";
import type { Whereabouts } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { isNotCome } from "../../job/not_come.ts";
import { numbersShown } from "../../job/number_parts.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import { isShut, type Lying } from "../../job/shut.ts";
import type { ThingRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { fieldOfPiece } from "../../job/with_owner.ts";
import { firstUpper } from "../../job/words.ts";
import { device, record, recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { attempt, sayDone, sayWrong } from "../../parts/notices.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { whoIs } from "../tagging/tag_tied.ts";
import { goToSeal } from "./container_seal.tsx";

type ContentsOf = {
  container_id: string;
  contents: ContentsOfEach;
  sealing: Lying;
  /** Nobody takes anything out: something in it, at any depth, is stopped. */
  isLeftAlone: boolean;
  /** The outermost of what it lies in, itself the last, that is under a seal: that is opened first, by two. */
  shut: ThingRecord | undefined;
};

export function Contents({ container_id, contents, sealing, isLeftAlone, shut }: ContentsOf) {
  const held = contents.get(container_id) ?? [];
  if (!held.length) return <p class="none">Nothing is in it, as far as was scanned.</p>;
  return (
    <ul class="rows">
      {held.map((thing) => (
        <li key={thing.record_id}>
          <ThingRow {...{ thing, container_id, isLeftAlone, shut }} />
          {thing.kind === "container" && (
            <div class="nested">
              <Contents
                container_id={thing.record_id}
                {...{ contents, sealing, isLeftAlone }}
                shut={shut ?? (isShut(thing, sealing.within(thing)) ? thing : undefined)}
              />
            </div>
          )}
        </li>
      ))}
    </ul>
  );
}

type ThingRowOf = Omit<ContentsOf, "contents" | "sealing"> & { thing: ThingRecord };

function ThingRow({ thing, container_id, isLeftAlone, shut }: ThingRowOf) {
  const level = standingCautions(thing)[0]?.value.level;
  const numbers = thing.kind === "item" ? numbersShown(thing, tagsOf(thing)) : "";
  const missed = thing.kind === "item" && isNotCome(thing) ? "not there as it was unpacked" : "";
  const pieces = thing.kind === "item" ? piecesHere(thing, container_id, lackingIn(thing, container_id)) : "";
  const takeIt = () => attempt(() => takeOut(thing, container_id));
  return (
    <div class="row">
      {thing.kind === "item" && (
        <Thumb sha256={photosOf(thing)[0]?.value.thumb_sha256} words="its first photo" />
      )}
      <span class="what">
        <a href={thing.kind === "item" ? `#/item/${thing.record_id}` : `#/container/${thing.record_id}`}>
          {firstUpper(thingName(thing))}
        </a>
        <small>
          {[numbers, pieces, missed].filter(Boolean).join(" · ")}
          {level ? ` · ${LEVEL_WORDS[level]}` : ""}
        </small>
      </span>
      {!isLeftAlone && (
        <button type="button" class="quiet" onClick={() => (shut ? askToOpen(shut) : takeIt())}>
          Take out
        </button>
      )}
    </div>
  );
}

/** Nothing leaves what is sealed before two people have said that they opened it: to its seal, wherever that stands. */
function askToOpen(shut: ThingRecord) {
  sayWrong(
    new Error(
      `${firstUpper(thingName(shut))} is under a seal. Two people open it first: key the number at its ` +
        "seal, say “Opened by two”, or what else you see, and then take it out.",
    ),
  );
  const address = `#/container/${shut.record_id}`;
  if (location.hash === address) goToSeal();
  else location.hash = address;
}

/**
 * Take a thing out, whole or those of its pieces that are in this container. It stays where that stands: where it was
 * before it went in says nothing of that any more.
 */
async function takeOut(thing: ThingRecord, container_id: string) {
  const lies = (tag: string | null) => containerIdOf(thing, tag ?? undefined) === container_id;
  const here = [null, ...tagsOf(thing)].filter(
    (tag) => fieldValue(thing, tag ? `inside/${tag}` : "inside")?.container_id === container_id && lies(tag),
  );
  const tied = tagsOf(thing).filter((tag) => thing.fields[`tags/${tag}`]);
  const moving = tied.some((tag) => pieceMoved(thing, tag)) ? tied.filter(lies) : [null];
  const container = recordOf("container", container_id);
  const stands = container && whereIs(container, { get: thingOf });
  const put = async (into: string | null) => {
    for (const tag of here) await keep("put_inside", { thing_id: thing.record_id, container_id: into, tag });
  };
  await put(null);
  for (const tag of stands ? moving : []) await leaveAt(thing, tag, stands as Where);
  sayDone(`${thingName(thing)} is out.`, () => put(container_id));
}

/** Out of what it lay in a thing, or a piece of it, is on record where that stands. */
async function leaveAt(thing: ThingRecord, tag: string | null, { place, at }: Where) {
  const before = fieldOfPiece(thing, "whereabouts", tag ?? undefined)?.value as Whereabouts | undefined;
  const isThere = (before?.to_place ?? "table") === place && (before?.at ?? "") === at;
  if (isThere || whyNotCarried(thing, "record_move", place, [])) return;
  const me = whoIs(recordOf("day", thing.day_id) ?? null, device.peek());
  await keep("record_move", {
    ...{ move_id: newId(), thing_id: thing.record_id, tag, count: null, signed: false },
    ...{ from_place: place, to_place: place, at, given_by: me, taken_by: me },
  });
}

function thingOf(id: string): ThingRecord | undefined {
  const found = record(id);
  return found?.kind === "item" || found?.kind === "container" ? found : undefined;
}
