/** A tag as it hangs on the thing: tied, in hand, or none yet. */

import { shown } from "../job/tag.ts";

export function Tag({ tag, inHand = false }: { tag: string | undefined; inHand?: boolean }) {
  if (!tag) return <span class="tag none-yet">no tag</span>;
  return <span class={inHand ? "tag in-hand" : "tag"}>{shown(tag)}</span>;
}
