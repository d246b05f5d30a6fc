/** One entry of the queue in two lines. */

import { shown } from "../../job/tag.ts";
import { countWords, ENTRY_WORDS } from "../../job/words.ts";
import { LEVEL_WORDS } from "../../parts/caution_bar.tsx";
import { momentWords } from "../../parts/moments.ts";
import type { QueueEntry } from "./queue_pages.ts";

type QueueRowOf = { entry: QueueEntry; className: string; isOpen: boolean };

export function QueueRow({ entry, className, isOpen }: QueueRowOf) {
  return (
    <a class="row" href={`#/entry/${entry.item_id}`} aria-current={isOpen ? "true" : undefined}>
      {entry.thumb_sha256 ? (
        <img class="thumb" src={`/photos/${entry.thumb_sha256}`} alt="" loading="lazy" />
      ) : (
        <span class="thumb empty" aria-hidden="true"></span>
      )}
      <span class="what">
        {entry.short_description || "Not named yet"}
        <small>
          {entry.tags.map(shown).join(", ") || "no tag"} · {className} · {entry.ticket ?? ""} ·{" "}
          {momentWords(entry.arrived_at)}
        </small>
        <small>
          {countWords(entry.photo_count, "photo")} · {countWords(entry.finding_count, "finding")}
          {entry.missing ? ` · ${countWords(entry.missing, "zone")} not looked at` : ""}
          {entry.caution ? ` · ${LEVEL_WORDS[entry.caution]}` : ""}
          {entry.disagreement_count ? ` · ≠ ${entry.disagreement_count} to settle` : ""}
        </small>
      </span>
      <span class={`entry-state ${entry.state}`}>{ENTRY_WORDS[entry.state]}</span>
    </a>
  );
}
