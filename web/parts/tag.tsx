/** A tag as it hangs on the thing: tied, in hand, or none yet; and its number where it stands in a sentence. */

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

/** A number as `shown` writes it; split by it, every second part is one. */
const NUMBER = /\b([0-9A-Z]{3}-[0-9A-Z]{3})\b/;

/** Words in which numbers may stand: none of them is broken over two lines. */
export function WithTags({ words }: { words: string }) {
  return (
    <>{words.split(NUMBER).map((part, index) => (index % 2 ? <span class="whole">{part}</span> : part))}</>
  );
}
