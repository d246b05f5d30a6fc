/** Over the first picture, which shows a thing with its tag: whether there is one to lie beside it. */

import { tagsOf } from "../../job/progress.ts";
import type { ItemRecord } from "../../job/types.ts";
import type { Shot } from "./photos.tsx";

/** The view that every plan begins with. */
const WITH_TAG = "with-scale-and-tag";

export function NoTagYet({ item, inHand }: { item: ItemRecord; inHand: Shot }) {
  if (inHand.key !== WITH_TAG || inHand.photo || tagsOf(item).length) return null;
  return (
    <p class="bar">
      Its tag belongs in this picture, and none is tied yet.{" "}
      <a href={`#/item/${item.record_id}/tag`}>Tie it first</a>, or lay the one that it gets beside it.
    </p>
  );
}
