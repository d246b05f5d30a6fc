/** What was entered of damage of the way, put on record as a table does: its zone, then the finding. */

import { AS_UNPACKED } from "../../job/as_unpacked.ts";
import { sizeOf } from "../../job/bare_sizes.ts";
import type { FindingValue, ZoneState } from "../../job/fields.ts";
import { newId } from "../../job/ids.ts";
import { countMeant } from "../../job/on_how_many.ts";
import type { Step } from "../../job/progress.ts";
import type { ItemRecord, Term } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { wholeNumber } from "../../parts/controls.tsx";
import type { Corrected } from "./entry_correct.tsx";

type Said = { term: Term; form: Corrected; correction: string };

/** The findings of the same term on the same zone that stand, and that somebody saw. */
export function alikeOn(item: ItemRecord, { zone, term }: Corrected) {
  return listed(item, "findings/").filter(
    ({ value }) =>
      value.zone === zone && value.term === term && !value.withdrawn && value.certainty !== "told",
  );
}

/** Its zone first, as at a table. How the zone was looked at stays; of one that nobody saw, this is how it was seen. */
export async function putDamage(
  item: ItemRecord,
  { key, member, state }: Step,
  { term, form, correction }: Said,
) {
  const item_id = item.record_id;
  const light = form.light || AS_UNPACKED;
  const isSeen = state && state.state !== "not-examined";
  if (state?.state !== "finding") {
    const count = state?.count ?? null;
    const found: ZoneState = { state: "finding", reason: null, light: isSeen ? state.light : light, count };
    await keep("examine_zone", { item_id, zone: key, ...found, correction });
  }
  // What the table said of one that has grown stays, as far as nothing else is said here.
  const before = alikeOn(item, form).find(({ id }) => id === form.instead);
  const { side = member, origin = null, note: noted = "" } = before?.value ?? {};
  const { piece = null, piece_count = null, piece_words = null } = before?.value ?? {};
  const pieces = piecesIn(item, form) ?? (before && { piece, piece_count, piece_words });
  const sizes = sizesIn(form, term);
  const said = { zone: key, side, term: term.term, light, ...sizes, ...pieces };
  const note = (form.note ?? "").trim() || noted;
  const rest = { certainty: "certain", origin, note, withdrawn: false };
  const activity = (["n", "w", "P", "Q"] as const).find((code) => code === term.activity) ?? null;
  const severity = Number(form.severity);
  await keep("record_finding", {
    item_id,
    finding_id: before?.id ?? newId(),
    ...said,
    ...rest,
    severity,
    activity,
    correction,
  });
}

type Sizes = Pick<FindingValue, "extent_mm" | "extent_mm_across" | "extent_percent" | "extent_count">;

/** What was typed for a term that was chosen before, and that this one has no size of, is left out. */
function sizesIn(form: Corrected, { extents }: Term): Sizes & { extent_words: null } {
  const { length = "", across = "", share = "", count = "" } = form;
  const has = (...ways: string[]) => ways.some((way) => (extents as string[]).includes(way));
  return {
    extent_mm: has("mm", "mm2") ? sizeOf(length, "mm") : null,
    extent_mm_across: has("mm2") ? sizeOf(across, "mm") : null,
    extent_percent: has("%") ? wholeNumber(share) : null,
    extent_count: has("n") ? wholeNumber(count) : null,
    extent_words: null,
  };
}

/**
 * On how many pieces it is: as it was typed, else as many as the words mean, or as were said of what it is grown from.
 * Null if nobody said either.
 */
export function onHowMany(item: ItemRecord, form: Corrected): number | null {
  const { pieces = "", which = "" } = form;
  const before = alikeOn(item, form).find(({ id }) => id === form.instead)?.value.piece_count;
  return wholeNumber(pieces) ?? (which.trim() ? (before ?? countMeant(item, which)) : null);
}

function piecesIn(item: ItemRecord, form: Corrected) {
  const piece_count = onHowMany(item, form);
  return piece_count ? { piece_count, piece_words: (form.which ?? "").trim() || null } : undefined;
}
