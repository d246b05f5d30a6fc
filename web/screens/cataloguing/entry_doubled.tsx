/** The same thing recorded twice, at the desk. */

import { useState } from "preact/hooks";
import { saidBehindAlone } from "../../job/behind.ts";
import { placeWords } from "../../job/custody.ts";
import type { OtherItem } from "../../job/desk.ts";
import { tagsOf } from "../../job/progress.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { keep } from "../../local/outbox.ts";
import { Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { NO_NAME } from "../../parts/no_name.ts";
import { attempt } from "../../parts/notices.tsx";
import { useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { syncNow } from "../../sync/sync.ts";

function nameOf(item: ItemRecord) {
  return `${fieldValue(item, "short_description") || "not named"} ${tagsOf(item).map(shown).join(", ")}`;
}

function briefly({ short_description, tags, state, place }: OtherItem) {
  const gone: Record<string, string> = { returned: "went back to its owner", "taken-away": "was taken away" };
  const where = gone[state] ?? placeWords(place ?? "table").toLowerCase();
  return `${[short_description || "not named", ...tags.map(shown)].join(" ")}: ${where}`;
}

type DoubledOf = { item: ItemRecord; others: readonly OtherItem[] };

/** The same thing recorded twice: one record stands behind the other, and both keep their histories. */
export function Doubled({ item, others: ofVisit }: DoubledOf) {
  const items = useRecords("item", item.day_id);
  const {
    form: { into, why },
    set,
    drop,
    isOld,
  } = useHeld(`doubled ${item.record_id}`, { into: "", why: "" });
  const [open, setOpen] = useState(isOld);
  const merged = fieldValue(item, "merged");
  const front = items?.find(({ record_id }) => record_id === merged?.into_id);
  const behind = items?.filter((other) => fieldValue(other, "merged")?.into_id === item.record_id) ?? [];
  // What is here is not one with what went back: that record goes behind this one, if they are one after all.
  const others = ofVisit.filter(
    ({ merged_into, state }) => !merged_into && (state !== "returned" || isBackWithOwner(item)),
  );
  const merge = (into_id: string | null) =>
    attempt(async () => {
      await keep("merge_item", { item_id: item.record_id, into_id, why });
      drop();
      setOpen(false);
      syncNow();
    });
  if (front)
    return (
      <p class="bar">
        Recorded twice: this record stands behind <a href={`#/entry/${front.record_id}`}>{nameOf(front)}</a>.{" "}
        {merged?.why}{" "}
        <button type="button" class="quiet" onClick={() => merge(null)}>
          They are two things
        </button>
      </p>
    );
  return (
    <>
      {behind.length > 0 && (
        <p class="bar">
          Recorded twice; the other history:{" "}
          {behind.map((other) => (
            <a key={other.record_id} href={`#/entry/${other.record_id}`}>
              {nameOf(other)}
            </a>
          ))}
          {behind.map((other) => (
            <OnlyThere key={other.record_id} front={item} behind={other} />
          ))}
        </p>
      )}
      {open ? (
        <div class="bar">
          <Select
            label="It is the same thing as"
            options={others.map((other) => [other.item_id, briefly(other)])}
            value={into}
            choose={set("into")}
          />
          {items?.map(
            (other) => other.record_id === into && <OnlyThere key={into} front={other} behind={item} />,
          )}
          <Typed label="How that is known" hint={NO_NAME} value={why} save={set("why")} />
          <button type="button" disabled={!into || !why.trim()} onClick={() => merge(into)}>
            {!into
              ? "Choose the other record first"
              : why.trim()
                ? "Put this record behind it"
                : "Say how that is known"}
          </button>{" "}
          <button type="button" class="quiet" onClick={() => setOpen(false)}>
            Not now
          </button>
        </div>
      ) : (
        others.length > 0 && (
          <p>
            <button type="button" class="quiet" onClick={() => setOpen(true)}>
              Recorded twice?
            </button>
          </p>
        )
      )}
    </>
  );
}

/** What the record behind says and the one in front does not, which the closing names until somebody answers it. */
function OnlyThere({ front, behind }: { front: ItemRecord; behind: ItemRecord }) {
  const alone = saidBehindAlone(front, behind);
  return alone.length > 0 && <span class="hint"> Only on the record behind: {alone.join("; ")}.</span>;
}
