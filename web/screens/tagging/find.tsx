/** From a tag to its item. */

import { useEffect, useState } from "preact/hooks";
import { thingWith } from "../../job/custody.ts";
import { dateWords } from "../../job/day_facts.ts";
import { oneThing } from "../../job/one_thing.ts";
import { photosOf, tagsOf } from "../../job/progress.ts";
import { referredTo } from "../../job/referred.ts";
import { parseTag, shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { workOnDay } from "../../local/day.ts";
import { load } from "../../local/load.ts";
import { device, record, records } from "../../local/memory.ts";
import { Frame } from "../../parts/frame.tsx";
import { clockWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { keepsPack } from "../../parts/packs.ts";
import { TagEntry } from "../../parts/tag_entry.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { useRecords } from "../../parts/use.ts";
import { heldBefore } from "../../parts/with_words.ts";
import { get } from "../../sync/office.ts";

const CONTAINER = "#/container/";
const ON_A_CONTAINER = "on a container: a porter's or the manager's device shows what is in it.";
const WHOM = "This device works on another day: the manager's device or the desk opens it.";
const VAN = "Its van is not counted as come: that is done on that day.";
const ON_NOTHING_HERE =
  "a good tag, but no item with it is known here. It may be on another device that has not synced yet.";

export default function FindByTag({ tag = "", role }: { tag?: string; role: string }) {
  const [unknown, setUnknown] = useState<Unknown>({ words: "" });
  const [scanning, setScanning] = useState(false);
  const open = (read: string) =>
    attempt(async () => {
      const number = parseTag(read);
      const found = await addressOf(number, role);
      const isKept = found.address && (!found.address.startsWith(CONTAINER) || keepsContainers(role));
      if (found.address && isKept) location.replace(found.address);
      else setUnknown({ ...found, words: `${shown(number)} is ${found.words ?? ON_A_CONTAINER}` });
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
      {unknown.words && (
        <p class={unknown.day_id ? "bar with-key" : "bar"} role="status">
          {unknown.words}
          {unknown.day_id && <BackToDay {...unknown} />}
        </p>
      )}
      <TagEntry found={open} scanning={scanning} setScanning={setScanning} />
      <Untagged />
    </Frame>
  );
}

/** A desk keeps no screens of containers, and fetches them as it asks for what is in one. */
const keepsContainers = (role: string) => role === "desk" || keepsPack("custody");

/** In words what a number is on that opens here nowhere; the day to go back to, where its van is awaited. */
type Unknown = { words: string; day_id?: string; held_on?: string };

/** A porter counts what comes on the day on which it left. */
function BackToDay({ day_id = "", held_on = "" }: Unknown) {
  const back = async () => {
    await workOnDay(day_id);
    location.hash = "#/porter";
  };
  return (
    <button type="button" onClick={() => attempt(back)}>
      Work on {dateWords(held_on)}
    </button>
  );
}

/** The screen of what a number is on: asked of this device, then of the office; in words where there is none. */
async function addressOf(tag: string, role: string): Promise<Partial<Unknown> & { address?: string }> {
  await load();
  const thing = thingWith(tag, records("item") ?? [], records("container") ?? []);
  if (thing?.kind === "container") return { address: CONTAINER + thing.record_id };
  const here = thing && tagsOf(thing).includes(tag) ? thing.record_id : null;
  const found = here ? { kind: "item", record_id: here } : await atOffice(tag);
  const held_on = found?.held_on ?? (found ? "" : heldBefore.value?.(tag));
  if (held_on) {
    const whom = found?.day_id ? VAN : WHOM;
    const words = `on something of ${dateWords(held_on)}${found?.closed ? ", a day that is closed" : ""}. ${whom}`;
    return found?.day_id ? { words, held_on, day_id: found.day_id } : { words };
  }
  if (!found) return { words: ON_NOTHING_HERE };
  const item_id = found.record_id;
  if (found.kind === "container") return { address: CONTAINER + item_id };
  // A manager's device holds one day, and reads what is of another as the desk does.
  const isOfDay = record(item_id)?.day_id === device.peek()?.day_id;
  const isEntry = role === "desk" || (role === "manager" && !isOfDay);
  return { address: `#/${isEntry ? "entry" : "item"}/${item_id}` };
}

/** Of what the device does not read the date of its day alone. */
type Found = { kind: string; record_id: string; held_on?: string; closed?: boolean; day_id?: string };

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
