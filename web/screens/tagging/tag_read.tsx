/** A number that was read off a tag, with what speaks against it. */

import type { TagValue } from "../../job/fields.ts";
import { shown } from "../../job/tag.ts";
import { spaced } from "../../job/words.ts";
import { Tag } from "../../parts/tag.tsx";

/** The number that was read, before it is tied; `against` says why it cannot be. */
type ReadOf = { tag: string; lost: TagValue | undefined; against: string; whose: string };

export function Read({ tag, lost, against, whose }: ReadOf) {
  return (
    <>
      <p class="big-tag" role="status">
        <span class="unseen">Read: </span>
        <Tag tag={tag} inHand={true} />
      </p>
      <p class={against ? "bar wrong" : "lead"}>
        {against || (lost && `It takes the place of ${shown(lost.tag)}, which is ${spaced(lost.gone)}.`)}
        {!against && ` Is it on ${whose}? Then tie it.`}
      </p>
    </>
  );
}
