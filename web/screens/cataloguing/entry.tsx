/** One entry: its pictures, what was found, the desk's words, and who said what and when. */

import { isStopped } from "../../job/cautions.ts";
import { tablesOf } from "../../job/day_facts.ts";
import { countAlike } from "../../job/piece_open.ts";
import { tagsOf } from "../../job/progress.ts";
import { takenAway } from "../../job/referred.ts";
import type { ItemRecord, Plan, VisitRecord } from "../../job/types.ts";
import { fieldValue, ownerWords } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import type { Opened } from "../../local/opened.ts";
import { CautionBar } from "../../parts/caution_bar.tsx";
import { shortName } from "../../parts/class_drawing.tsx";
import { printDrawn } from "../../parts/print.ts";
import { Sign } from "../../parts/sign.tsx";
import { Tags } from "../../parts/tag.tsx";
import { useDevice, usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { moveEntry } from "./entry_moved.ts";
import { Panes } from "./entry_panes.tsx";
import { NotSignedFor } from "./entry_unsigned.tsx";
import { namesHere } from "./names_here.ts";
import { useShortcuts } from "./shortcuts.ts";

/** `opened` is what the office said of it last; null until it has, or until what was kept of it is read. */
export default function Entry({
  item_id,
  opened,
  ...goesOn
}: {
  item_id: string;
  opened: Opened | null;
  next: () => unknown;
  /** Whether it is in the list shown. */
  isListed: boolean;
}) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook() ?? null;
  const visit = useRecord("visit", item?.visit_id ?? "");
  const who = namesHere(useRecord("day", item?.day_id ?? ""), opened?.people);
  const isOff = useDevice()?.revoked; // then nothing comes
  if (!item || plan === undefined) return isOff ? null : <p>Reading …</p>;
  return (
    <article class="entry">
      <Head item={item} plan={plan} visit={visit ?? null} />
      <CautionBar item_id={item.record_id} />
      <NotCome words={opened?.row?.not_come ?? ""} />
      <NotSignedFor item={item} />
      <Panes item={item} plan={plan} book={book} {...goesOn} opened={opened} who={who} />
    </article>
  );
}

/** That nobody has seen it since it left: who describes it would describe a thing that the house cannot find. */
function NotCome({ words }: { words: string }) {
  return words ? (
    <p class="not-signed">
      <Sign of="differs" /> <strong>Nobody has it:</strong> {words}.
    </p>
  ) : null;
}

function Head({ item, plan, visit }: { item: ItemRecord; plan: Plan | null; visit: VisitRecord | null }) {
  const owner = ownerWords(visit);
  const table = useTableName(item.day_id, visit);
  const tags = tagsOf(item);
  return (
    <header class="entry-head">
      <div>
        <h2>{fieldValue(item, "short_description") || "Not named yet"}</h2>
        <p>
          <Tags tags={tags} of={item} inHand={true} /> {countedWords(item, tags)}
          {plan ? shortName(plan).toLowerCase() : "no class"}, {visit ? fieldValue(visit, "ticket") : "…"}
          {owner ? ` ${owner}` : ""}
          {table ? `, ${table}` : ""}
        </p>
      </div>
      <HeadKeys item={item} />
    </header>
  );
}

/** How many pieces were counted; of what nobody counted how many numbers it has. */
function countedWords(item: ItemRecord, tags: readonly string[]): string {
  const pieces = countAlike(item);
  if (pieces > 1) return `${pieces} pieces, `;
  return tags.length > 1 ? `${tags.length} numbers, ` : "";
}

function useTableName(day_id: string, visit: VisitRecord | null) {
  const day = useRecord("day", day_id);
  const table_id = visit && fieldValue(visit, "table_id");
  return (
    (day &&
      tablesOf(day)
        .find((table) => table.table_id === table_id)
        ?.name.toLowerCase()) ??
    ""
  );
}

/** Its place in the queue, by press or by key; described is asked for below the words. */
function HeadKeys({ item }: { item: ItemRecord }) {
  const state = fieldValue(item, "entry")?.state ?? "waiting";
  const isWaiting = state === "waiting";
  const isBack = isBackWithOwner(item) && isWaiting; // what was taken in hand can be put back
  const rests = takenAway(item)
    ? "Taken away"
    : isStopped(item)
      ? "Stopped"
      : isBack
        ? "Back with its owner"
        : "";
  const turn = () => moveEntry(item, isWaiting ? "picked-up" : "waiting");
  useShortcuts({ p: () => !rests && turn() });
  return (
    <div class="head-keys on-screen">
      <button type="button" onClick={printDrawn}>
        Print
      </button>
      {rests ? (
        <strong>{rests}</strong>
      ) : (
        <button type="button" onClick={turn}>
          {isWaiting ? "Pick up" : "Put back"} <kbd>P</kbd>
        </button>
      )}
      <a class="button" href="#/queue">
        Close
      </a>
    </div>
  );
}
