/** A tag as it hangs on the thing: tied, in hand, or none yet. */

import { Fragment } from "preact";
import { partName } from "../job/number_parts.ts";
import { shown } from "../job/tag.ts";
import type { RecordCopy } from "../job/types.ts";

export function Tag({ tag, inHand = false }: { tag: string | undefined; inHand?: boolean }) {
  if (!tag) return <span class="tag none-yet">no tag</span>;
  return <span class={inHand ? "tag in-hand" : "tag"}>{shown(tag)}</span>;
}

type TagsOf = { tags: readonly string[]; of?: RecordCopy; inHand?: boolean };

/** All the tags of a thing beside each other; `of` is the thing, whose parts are named where they have numbers. */
export function Tags({ tags, of, inHand = false }: TagsOf) {
  return (
    <span class="tags">
      {tags.length ? (
        tags.map((tag, index) => (
          <Fragment key={tag}>
            <Tag tag={tag} inHand={inHand && !index} /> {of && partName(of, tag)}
          </Fragment>
        ))
      ) : (
        <Tag tag={undefined} />
      )}
    </span>
  );
}
