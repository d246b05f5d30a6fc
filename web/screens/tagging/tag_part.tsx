/** What a number of several is on: a piece of the list, or a part in a few words, such as a cover packed apart. */

import { useState } from "preact/hooks";
import type { TagValue } from "../../job/fields.ts";
import { lineAsTyped, linesListed } from "../../job/listed_pieces.ts";
import { recordWith } from "../../job/one_thing.ts";
import type { ItemRecord } from "../../job/types.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

type WhichPartOf = {
  item: ItemRecord;
  value: string;
  save: (words: string) => Promise<unknown>;
  of?: string;
};

/** In a few words; what its list of pieces has is offered. */
export function WhichPart({ item, value, save, of = "" }: WhichPartOf) {
  const lines = linesListed(item).map((line) => lineAsTyped(line.value));
  return (
    <Typed
      of={of}
      label="What this number is on"
      hint="A piece of its list, or a part in a few words: the cover, the key"
      into="tie_tag.mark"
      value={value}
      save={save}
      below={(text, write) => (
        <span class="chips">
          {lines
            .filter((words) => words !== text)
            .map((words) => (
              <button type="button" key={words} class="chip" onClick={() => write(words)}>
                {words}
              </button>
            ))}
        </span>
      )}
    />
  );
}

/** Say anew what is said with a number, by whoever sees what stands: how many numbers there are, or what it is on. */
export function tieAnew(
  item: ItemRecord,
  number: TagValue,
  change: Partial<Pick<TagValue, "of" | "mark" | "parts">>,
) {
  const { tag, piece, of, mark, parts = false } = { ...number, ...change };
  const { record_id: item_id } = recordWith(item, tag);
  return keep("tie_tag", { item_id, tag, piece, of: of ?? 1, mark: mark ?? "", parts });
}

/** What a number that is tied is on, to be said anew. */
export function PartSaid({ item, number }: { item: ItemRecord; number: TagValue }) {
  const now = number.mark ?? "";
  const { form, set, drop, isOld } = useHeld(`part ${number.tag}`, { mark: now });
  const [isOpen, setOpen] = useState(isOld);
  if (!isOpen)
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        {now ? "It is on another part" : "Name its part"}
      </button>
    );
  const said = form.mark.trim();
  const close = (save: boolean) =>
    attempt(async () => {
      if (save) await tieAnew(item, number, { mark: said });
      drop();
      setOpen(false);
    });
  return (
    <div class="bar">
      <WhichPart item={item} value={form.mark} save={set("mark")} of={number.tag} />
      <p class="chips">
        <button type="button" class="main" disabled={said === now} onClick={() => close(true)}>
          Its number is on that
        </button>
        <button type="button" onClick={() => close(false)}>
          Leave it
        </button>
      </p>
    </div>
  );
}
