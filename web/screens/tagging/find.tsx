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
          {unknown.entry && (
            <a class="button" href={unknown.entry}>
              See its record
            </a>
          )}
        </p>
      )}
      <TagEntry found={open} scanning={scanning} setScanning={setScanning} />
      <Untagged />
    </Frame>
  );
}

/** A desk keeps no screens of containers, and fetches them as it asks for what is in one. */
const keepsContainers = (role: string) => role === "desk" || keepsPack("custody");

/**
 * In words what a number is on that opens here nowhere; the day to go back to, where its van is awaited or the thing
 * can be given back (`item`), and for whoever reads every day its record.
 */
type Unknown = { words: string; day_id?: string; held_on?: string; item?: string; entry?: string };

/** A porter counts what comes on the day on which it left; a manager gives back what was left on it. */
function BackToDay({ day_id = "", held_on = "", item }: Unknown) {
  const back = async () => {
    await workOnDay(day_id);
    location.hash = item ? `#/item/${item}` : "#/porter";
  };
  return (
    <button type="button" onClick={() => attempt(back)}>
      Work on {dateWords(held_on)}
      {item && " to give it back"}
    </button>
  );
}

/** What something of another day is, of which ticket and day: its owner stands there. */
function ofAnotherDay({ thing, ticket, closed }: Partial<Found>, held_on: string) {
  const of = [thing || "something", ticket && `ticket ${ticket}`].filter(Boolean).join(", ");
  return `on ${of}, of ${dateWords(held_on)}${closed ? ", a day that is closed" : ""}.`;
}

/** The screen of what a number is on: asked of this device, then of the office; in words where there is none. */
async function addressOf(tag: string, role: string): Promise<Partial<Unknown> & { address?: string }> {
  await load();
  const thing = thingWith(tag, records("item") ?? [], records("container") ?? []);
  if (thing?.kind === "container") return { address: CONTAINER + thing.record_id };
  const here = thing && tagsOf(thing).includes(tag) ? thing.record_id : null;
  const known: Found | null = here ? { kind: "item", record_id: here } : null;
  // What a manager opened last stays for a while: of which day it is the office says.
  const isLent = role === "manager" && thing?.day_id !== device.peek()?.day_id;
  const found = known && !isLent ? known : ((await atOffice(tag)) ?? known);
  const held_on = found?.held_on ?? (found ? "" : heldBefore.value?.(tag));
  if (held_on) {
    const [words, day_id, item] = [ofAnotherDay(found ?? {}, held_on), found?.day_id, found?.record_id];
    if (role === "manager" && found?.kind === "item")
      return { words, held_on, ...(day_id && item && { day_id, item }), entry: `#/entry/${item}` };
    if (role === "manager" && found) return { address: CONTAINER + found.record_id };
    return { words: `${words} ${day_id ? VAN : WHOM}`, ...(day_id && { held_on, day_id }) };
  }
  if (!found) return { words: ON_NOTHING_HERE };
  const item_id = found.record_id;
  if (found.kind === "container") return { address: CONTAINER + item_id };
  // A manager's device holds one day, and reads what is of another as the desk does.
  const isOfDay = record(item_id)?.day_id === device.peek()?.day_id;
  const isEntry = role === "desk" || (role === "manager" && !isOfDay);
  return { address: `#/${isEntry ? "entry" : "item"}/${item_id}` };
}

/** Of what is of another day that date, what it is, and of which ticket. */
type Found = {
  kind: string;
  record_id: string;
  held_on?: string;
  closed?: boolean;
  day_id?: string;
  thing?: string;
  ticket?: string;
};

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
