/** A visit: one owner's turn. What they brought, who they are, and their items. */

import { isReturned } from "../../job/custody.ts";
import { newId } from "../../job/ids.ts";
import type { SetVisit } from "../../job/operations.ts";
import { missing, photosOf, tagsOf } from "../../job/progress.ts";
import { receiptState } from "../../job/receipt.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord, VisitRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords, STAGES, type Stage } from "../../job/words.ts";
import type { ThisDevice } from "../../local/device.ts";
import { keep } from "../../local/outbox.ts";
import { planFinder } from "../../local/plans.ts";
import { listRecords } from "../../local/records.ts";
import { Choice } from "../../parts/choices.tsx";
import { Counted } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { attempt } from "../../parts/notices.tsx";
import { RecordPhotos } from "../../parts/record_photos.tsx";
import { Thumb } from "../../parts/thumb.tsx";
import { useDevice, useKept, useRecord } from "../../parts/use.ts";
import { Arrival, Note, Owner } from "./visit_owner.tsx";

/** An item of the visit, and how much is missing on it. */
type Listed = { item: ItemRecord; gaps: number };
type VisitGiven = { visit: VisitRecord; items: Listed[]; device: ThisDevice };

export default function Visit({ visit_id }: { visit_id: string }) {
  const visit = useRecord("visit", visit_id);
  const device = useDevice();
  const items = useKept(() => itemsOf(visit_id), [visit_id]);
  if (!visit || !items || !device)
    return (
      <Frame title="Visit" back="#/today">
        <p>
          {visit === null
            ? "This visit is not on this device yet. It comes with the next sync."
            : "Reading …"}
        </p>
      </Frame>
    );
  return <VisitOf visit={visit} items={items} device={device} />;
}

async function itemsOf(visit_id: string): Promise<Listed[]> {
  const items = (await listRecords("item")).filter((item) => item.visit_id === visit_id);
  const planOf = await planFinder();
  return items.map((item) => ({ item, gaps: missing(planOf(item), item).length }));
}

function VisitOf({ visit, items, device }: VisitGiven) {
  const visit_id = visit.record_id;
  const choose = (stage: Stage) =>
    stage === "at-table" ? toTable(visit_id, device) : setVisit(visit_id, "stage", stage);
  return (
    <Frame
      title={`Visit ${fieldValue(visit, "ticket")}`}
      back="#/today"
      action={<Action visit={visit} device={device} />}
    >
      <Choice
        label="Where they are"
        options={STAGES}
        value={fieldValue(visit, "stage") as Stage}
        choose={choose}
      />
      <Items visit={visit} items={items} device={device} />
      <section>
        <h2>Unpacked</h2>
        <p class="hint">
          One picture of everything on the table with the ticket in it, before anything is looked at.
        </p>
        <RecordPhotos record={visit} words="what was unpacked" />
      </section>
      <ToReceipt visit={visit} items={items.map(({ item }) => item)} />
      <Arrival visit={visit} />
      <Owner visit={visit} />
      <Note visit={visit} />
    </Frame>
  );
}

function setVisit(visit_id: string, field: SetVisit["field"], value: string | number) {
  return keep("set_visit", { visit_id, field, value });
}

/** They sit down at the table of this device. */
async function toTable(visit_id: string, device: ThisDevice) {
  if (device.table_id) await setVisit(visit_id, "table_id", device.table_id);
  await setVisit(visit_id, "stage", "at-table");
}

/** The door goes on to the next person, a table takes the next item; the porter does neither. */
function Action({ visit, device }: { visit: VisitRecord; device: ThisDevice }) {
  const put = () =>
    attempt(async () => {
      const item_id = newId();
      if (fieldValue(visit, "stage") === "waiting") await toTable(visit.record_id, device);
      await keep("open_item", { item_id, visit_id: visit.record_id, day_id: visit.day_id });
      location.hash = `#/item/${item_id}`;
    });
  if (device.role === "porter") return null;
  if (device.role === "door")
    return (
      <a class="button main" href="#/today">
        Done, next person
      </a>
    );
  return (
    <button type="button" class="main" onClick={put}>
      Put an item on the table
    </button>
  );
}

function Items({ visit, items, device }: VisitGiven) {
  const counted = fieldValue(visit, "item_count");
  return (
    <section>
      <h2>
        Items <span class="count">{counted ? `${items.length} of ${counted} counted` : items.length}</span>
      </h2>
      {items.length ? (
        <ul class="rows">
          {items.map(({ item, gaps }) => (
            <li key={item.record_id}>
              <ItemRow item={item} gaps={gaps} />
            </li>
          ))}
        </ul>
      ) : (
        <p class="none">Nothing is on the table yet.</p>
      )}
      {device.role !== "door" && (
        <Counted
          label="Things counted at unpacking"
          hint="Count before looking: at the end the list must come to this number."
          value={counted}
          save={(count) => setVisit(visit.record_id, "item_count", count)}
        />
      )}
    </section>
  );
}

function ItemRow({ item, gaps }: Listed) {
  const home = isReturned(item);
  return (
    <a class="row" href={`#/item/${item.record_id}`}>
      <Thumb sha256={photosOf(item)[0]?.value.thumb_sha256} words="" />
      <span class="what">
        {fieldValue(item, "short_description") || "Not named yet"}
        <small>{tagsOf(item).map(shown).join(", ") || "no tag"}</small>
      </span>
      <span class={gaps && !home ? "left" : "left all"}>
        {home ? "with its owner" : gaps ? `${gaps} missing` : "✓ done"}
      </span>
    </a>
  );
}

function ToReceipt({ visit, items }: { visit: VisitRecord; items: ItemRecord[] }) {
  if (!items.length) return null;
  return (
    <section>
      <h2>Receipt</h2>
      <p>
        <a class="button" href={`#/visit/${visit.record_id}/receipt`}>
          {receiptWords(visit, items)}
        </a>
      </p>
    </section>
  );
}

/** What is still to be signed, on the way to the receipt. */
function receiptWords(visit: VisitRecord, items: ItemRecord[]) {
  const { receipts, hereUnsigned, backUnsigned } = receiptState(visit, items, new Map());
  if (backUnsigned.length) return `Sign for ${countWords(backUnsigned.length, "thing")} taken back`;
  if (!hereUnsigned.length) return "✓ Signed: show the receipt";
  return receipts.length
    ? "The list has changed: sign anew"
    : `Show and sign for ${countWords(hereUnsigned.length, "thing")}`;
}
