/** What a device says of things that went back and came again; it answers for the days in a file. */
import { readFileSync, writeSync } from "node:fs";
import { contentsOfEach, itemsWithin } from "../../web/job/contents.ts";
import { sumsOf } from "../../web/job/day_sums.ts";
import { notSignedFor } from "../../web/job/not_signed_for.ts";
import { receiptLine, receiptState } from "../../web/job/receipt.ts";
import { changesOnAll } from "../../web/job/receipt_changes.ts";
import { whatIsWhere } from "../../web/job/where_list.ts";
import { isBackWithOwner, piecesAway, tagsHere } from "../../web/job/with_owner.ts";
import { differencesHere, withDoubles } from "./closing_here.js";

const SINCE = /^Changed since/;

function saidOf({ records, plans, rows }) {
  const of = (kind) => withDoubles(records).filter((record) => record.kind === kind);
  const [items, containers, visits] = ["item", "container", "visit"].map(of);
  const byId = new Map([...items, ...containers].map((record) => [record.record_id, record]));
  const ids = (list) => list.map(({ record_id }) => record_id).sort();
  const state = receiptState(visits[0], items, byId);
  const own = items.filter((item) => !item.fields.merged?.value.into_id);
  /** Each as a desk has it, by itself. */
  const saidAlone = (item) =>
    own.includes(item) ? notSignedFor(item, visits[0], byId, String).map(({ label }) => label) : [];
  const contents = contentsOfEach([...items, ...containers]);
  const standing = whatIsWhere(items, containers).flatMap((place) =>
    place.standing.map(({ thing }) => thing),
  );
  const somewhere = standing.flatMap((thing) =>
    thing.kind === "item" ? thing : itemsWithin(thing, contents),
  );
  return {
    items: Object.fromEntries(
      items.map((item) => [
        item.record_id,
        {
          away: piecesAway(item),
          here: tagsHere(item),
          back: isBackWithOwner(item),
          line: receiptLine(item).words,
        },
      ]),
    ),
    unsigned: ids(state.hereUnsigned),
    owed: ids(state.backUnsigned),
    listed: ids(items.filter((item) => saidAlone(item).some((label) => !SINCE.test(label)))),
    otherwise: ids(items.filter((item) => saidAlone(item).some((label) => SINCE.test(label)))),
    changed: changesOnAll(state.standing, items, () => "").map(({ now, what }) => [now.item_id, what]),
    sum: sumsOf({ visits, items, containers }).things,
    somewhere: [...new Set(ids(somewhere))],
    closing: differencesHere({ records, plans, rows }),
  };
}

writeSync(1, JSON.stringify(JSON.parse(readFileSync(process.argv[2], "utf-8")).map(saidOf)));
