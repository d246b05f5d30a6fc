/** From a tag to its item. */

import { useEffect, useState } from "preact/hooks";
import { thingWith } from "../../job/custody.ts";
import { oneThing } from "../../job/one_thing.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import { referredTo } from "../../job/referred.ts";
import { parseTag, shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { load } from "../../local/load.ts";
import { records } from "../../local/memory.ts";
import { Frame } from "../../parts/frame.tsx";
import { clockWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { keepsPack } from "../../parts/packs.ts";
import { TagEntry } from "../../parts/tag_entry.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecords } from "../../parts/use.ts";
import { get } from "../../sync/office.ts";

const CONTAINER = "#/container/";
const ON_A_CONTAINER = "on a container: a porter's or the manager's device shows what is in it.";
const ON_NOTHING_HERE =
  "a good tag, but no item with it is known here. It may be on another device that has not synced yet.";

export default function FindByTag({ tag = "", role }: { tag?: string; role: string }) {
  const [unknown, setUnknown] = useState("");
  const [scanning, setScanning] = useState(false);
  const open = (read: string) =>
    attempt(async () => {
      const address = await addressOf(parseTag(read), role === "desk");
      const isKept = !address?.startsWith(CONTAINER) || role === "desk" || keepsPack("custody");
      if (address && isKept) location.replace(address);
      else setUnknown(`${shown(parseTag(read))} is ${address ? ON_A_CONTAINER : ON_NOTHING_HERE}`);
    });
  useEffect(() => {
    if (tag) open(tag);
  }, [tag]);
  return (
    <Frame
      title="Find by tag"
      back={role === "desk" ? "#/queue" : "#/today"}
      action={!scanning && <TieOn press={() => setScanning(true)}>Scan the tag</TieOn>}
    >
      {unknown && (
        <p class="bar" role="status">
          {unknown}
        </p>
      )}
      <TagEntry found={open} scanning={scanning} setScanning={setScanning} />
      <Untagged />
    </Frame>
  );
}

/** The screen of what a number is on: asked of this device, then of the office; null if neither knows it. */
async function addressOf(tag: string, atDesk: boolean): Promise<string | null> {
  await load();
  const thing = thingWith(tag, records("item") ?? [], records("container") ?? []);
  if (thing?.kind === "container") return CONTAINER + thing.record_id;
  const here = thing && tagsOf(thing).includes(tag) ? thing.record_id : null;
  const found = here ? { kind: "item", record_id: here } : await atOffice(tag);
  if (!found) return null;
  const item_id = found.record_id;
  if (found.kind === "container") return CONTAINER + item_id;
  return atDesk ? `#/entry/${item_id}` : `#/item/${item_id}`;
}

type Found = { kind: string; record_id: string };

/** What the office has under a number; null if it knows none, or with no network. */
function atOffice(tag: string): Promise<Found | null> {
  return get<Found>(`/tags/${tag}`).catch(() => null);
}

/** A tag fell off: what has none, with its first picture and the hour it was taken. */
function Untagged() {
  const items = useRecords("item");
  const without = (items ?? []).filter(
    (item) =>
      !tagsOf(oneThing(item)).length &&
      !isBackWithOwner(item) &&
      !referredTo(item) &&
      !fieldValue(item, "merged")?.into_id,
  );
  if (!without.length) return null;
  return (
    <section>
      <h2>
        Without a tag <span class="count">{without.length}</span>
      </h2>
      <ul class="rows">
        {without.map((item) => (
          <li key={item.record_id}>
            <UntaggedRow item={item} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function UntaggedRow({ item }: { item: ItemRecord }) {
  const first = photosOf(item)[0]?.value;
  const lost = listed(item, "tags/").filter(({ value }) => value.gone);
  return (
    <a class="row" href={`#/item/${item.record_id}/tag`}>
      <Thumb sha256={first?.thumb_sha256} words="its first photo" />
      <span class="what">
        {fieldValue(item, "short_description") || "Not named yet"}
        <small>
          {clockWords(first?.taken_at ?? item.opened_at)}
          {lost.length > 0 && `, had ${lost.map(({ value }) => shown(value.tag)).join(", ")}`}
        </small>
      </span>
    </a>
  );
}
