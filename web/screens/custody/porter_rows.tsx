/**
 * What was scanned last, with its picture; the newest can be taken out, and a piece of it that stayed behind is named.
 */

import { useState } from "preact/hooks";
import { piecesAway } from "../../job/check_in.ts";
import { contentsOfEach, itemsWithin, liesWords } from "../../job/contents.ts";
import { piecesOf, placeWords, thingName, thingWith, type Where } from "../../job/custody.ts";
import { partWords } from "../../job/number_parts.ts";
import type { OpenContainer } from "../../job/operations.ts";
import { isBehind } from "../../job/piece_behind.ts";
import { photosOf } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { ContainerRecord, ItemRecord, ThingRecord } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { keepsPack } from "../../parts/packs.ts";
import { Sign } from "../../parts/sign.tsx";
import { Tag } from "../../parts/tag.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import type { Scanned } from "./porter_scan.ts";

type Things = { items: ItemRecord[]; containers: ContainerRecord[] };
const LAST = 3;

type LastScannedOf = {
  scanned: Scanned[];
  /** Null while nobody could take anything out again. */
  out: (() => void) | null;
  /** What a new container is, said by whoever holds it. */
  itIs: (tag: string, kind_of: OpenContainer["kind_of"]) => unknown;
};

/** The last three; the others are folded away, since the count says how many there are. */
export function LastScanned({ scanned, out, itIs, ...things }: Things & LastScannedOf) {
  const [isOpen, setOpen] = useState(false);
  const newest = scanned.find(({ done }) => done);
  const rows = (some: Scanned[]) => (
    <ul class="rows scanned">
      {some.map((scan) => (
        <Row
          key={scanned.length - scanned.indexOf(scan)}
          {...{ scan, itIs, ...things }}
          out={scan === newest ? out : null}
        />
      ))}
    </ul>
  );
  if (!scanned.length) return null;
  return (
    <section>
      <h2>The last three</h2>
      {rows(scanned.slice(0, LAST))}
      {newest && <LeftBehind tag={newest.tag} {...things} />}
      {scanned.length > LAST && (
        <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
          <summary>Scanned before: {scanned.length - LAST}</summary>
          {isOpen && rows(scanned.slice(LAST))}
        </details>
      )}
    </section>
  );
}

type RowOf = Things & Omit<LastScannedOf, "scanned"> & { scan: Scanned };

function Row({ scan, items, containers, out, itIs }: RowOf) {
  const thing = thingWith(scan.tag, items, containers);
  return (
    <li class={scan.done ? (out ? "row in-hand" : "row") : "row is-wrong"}>
      {thing?.kind === "item" && (
        <Thumb sha256={photosOf(thing)[0]?.value.thumb_sha256} words="its first photo" />
      )}
      <span class="what">
        {!scan.words.includes(shown(scan.tag)) && <Tag tag={scan.tag} inHand={out !== null} />} {scan.words}
        {scan.which && (
          <span class="chips">
            {scan.which.map((kind_of) => (
              <button type="button" key={kind_of} class="chip" onClick={() => itIs(scan.tag, kind_of)}>
                {`It is a ${kind_of}`}
              </button>
            ))}
          </span>
        )}
        {scan.shut && keepsPack("custody") && (
          <small>
            <a href={`#/container/${scan.shut}`}>To its seal: opened by two, broken, or what else you see</a>
          </small>
        )}
        {thing?.kind === "container" && !scan.done && !scan.shut && keepsPack("custody") && (
          <small>
            <a href={`#/container/${thing.record_id}`}>See what is in {thingName(thing)}</a>
          </small>
        )}
      </span>
      {out ? (
        <button type="button" onClick={out}>
          <Sign of="undo" /> Out
        </button>
      ) : (
        <Sign of={scan.done ? "check" : "differs"} />
      )}
    </li>
  );
}

/** Pieces with tags of their own that are not where the scanned one now is. */
function LeftBehind({ tag, items, containers }: Things & { tag: string }) {
  const thing = thingWith(tag, items, containers);
  if (thing?.kind === "container")
    return <LeftOutside container={thing} things={[...items, ...containers]} />;
  if (!thing) return null;
  const byId = new Map<string, ThingRecord>(
    [...items, ...containers].map((thing) => [thing.record_id, thing]),
  );
  const pieces = piecesOf(thing, byId);
  const here = pieces.find((piece) => piece.tag === tag);
  const behind = pieces.filter((piece) => here && isBehind(piece.where, here.where));
  if (!behind.length) return null;
  return <p class="bar">{behindWords(thing, behind)}</p>;
}

/** Things of which only some pieces came with the container. */
function LeftOutside({ container, things }: { container: ContainerRecord; things: ThingRecord[] }) {
  const behind = itemsWithin(container, contentsOfEach(things)).flatMap((item) => {
    const away = piecesAway(item, container, things);
    return away.length ? `${thingName(item)}: ${away.join("; ")}` : [];
  });
  if (!behind.length) return null;
  return <p class="bar">{`Not all of it came with this. ${behind.map(firstUpper).join(". ")}.`}</p>;
}

function behindWords(thing: ThingRecord, behind: ReturnType<typeof piecesOf>) {
  const each = behind.map(
    ({ tag, where, ...number }) => `${partWords(thing, number)}, ${shown(tag)}, ${stillAt(where)}`,
  );
  return `${thingName(thing)} has more than this: ${each.join("; ")}.`;
}

function stillAt(where: Where) {
  return where.inside.length
    ? `is ${liesWords(where)}`
    : `is still at ${placeWords(where.place).toLowerCase()}`;
}
