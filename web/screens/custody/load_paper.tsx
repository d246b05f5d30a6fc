/** Of a load: what is in a crate of which nobody noted what left in it, and who answers for it on paper. */

import { type ContentsOfEach, itemsWithin } from "../../job/contents.ts";
import { thingName } from "../../job/custody.ts";
import { tagsOf } from "../../job/progress.ts";
import type { ThingRecord } from "../../job/types.ts";
import { Tag } from "../../parts/tag.tsx";

/** What was scanned into it, a line for each with its numbers. */
export function InsideNow({ container, contents }: { container: ThingRecord; contents: ContentsOfEach }) {
  const inside = itemsWithin(container, contents);
  if (!inside.length) return <small>nothing was scanned into it</small>;
  return (
    <>
      <small>What left in it was not noted. In it now:</small>
      <ul class="loaded">
        {inside.map((item) => (
          <li key={item.record_id}>
            {tagsOf(item).map((tag) => (
              <Tag key={tag} tag={tag} />
            ))}{" "}
            {thingName(item)}
          </li>
        ))}
      </ul>
    </>
  );
}

/** On paper the four who answer for it sign, with what came in the store's own hand. */
export function Signed() {
  const lines = ["Given in the hall", "Taken by the driver", "Given at the store", "Taken at the store"];
  return (
    <dl class="print-only signed">
      {lines.map((line) => (
        <div key={line}>
          <dt>{line}, name and time</dt>
          <dd class="write-in"></dd>
        </div>
      ))}
    </dl>
  );
}
