/** Where a thing lies that is to go back to its owner, and why it does not while nobody opens that. */

import { thingName, whereIs } from "../../job/custody.ts";
import { whyNotTakenOut } from "../../job/left_alone.ts";
import { lyingOf, shutAround } from "../../job/shut.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { whereWords } from "../../job/where_words.ts";
import { useRecords } from "../../parts/use.ts";

/** Why it does not go; `shut` is the container whose seal is opened first, "" where nothing opens it. */
export type WhyShut = { words: string; shut: string };

/**
 * Why it, or the piece with a tag, does not leave what it lies in: nobody opens what holds something left alone, and
 * two people open what is under a seal, before anything of it is in anybody's hands.
 */
export function useWhyShut(item: ItemRecord): (tag?: string) => WhyShut | null {
  const [items, containers] = [useRecords("item") ?? [], useRecords("container") ?? []];
  const things = [...items, ...containers];
  return (tag) => {
    const thing = items.find((one) => tag && fieldValue(one, `tags/${tag}`)) ?? item;
    const against = whyNotTakenOut(thing, things, tag);
    if (against) return { words: against, shut: "" };
    const shut = shutAround(thing, lyingOf(items, containers), tag);
    if (!shut) return null;
    const seal = fieldValue(shut, "seal")?.seal;
    const words = `lies in ${thingName(shut)}, which is under the seal ${seal}: two people open that first`;
    return { words, shut: shut.record_id };
  };
}

export function Shut({ before = "It", why }: { before?: string; why: WhyShut }) {
  return (
    <p class="bar">
      {before} {why.words}. {why.shut && <a href={`#/container/${why.shut}`}>To its seal</a>}
    </p>
  );
}

/** Where all of it, or a piece, lies; nothing of what was left in nobody's hands but the table's. */
export function LiesNow({ item, tag }: { item: ItemRecord; tag?: string | undefined }) {
  const containers = useRecords("container") ?? [];
  const byId = new Map(containers.map((container) => [container.record_id, container]));
  const where = whereIs(item, byId, tag);
  if (where.place === "table" && !where.inside.length) return null;
  return <p>It lies here: {whereWords(where)}.</p>;
}
