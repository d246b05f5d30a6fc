/** A tag as it hangs on the thing: tied, in hand, or none yet. */

import { shown } from "../job/tag.ts";

export function Tag({ tag, inHand = false }: { tag: string | undefined; inHand?: boolean }) {
  if (!tag) return <span class="tag none-yet">no tag</span>;
  return <span class={inHand ? "tag in-hand" : "tag"}>{shown(tag)}</span>;
}

/** All the tags of a thing beside each other. */
export function Tags({ tags, inHand = false }: { tags: readonly string[]; inHand?: boolean }) {
  return (
    <span class="tags">
      {tags.length ? (
        tags.map((tag, index) => <Tag key={tag} tag={tag} inHand={inHand && !index} />)
      ) : (
        <Tag tag={undefined} />
      )}
    </span>
  );
}
