/** Which drawings of its class show a thing, by its name: a pocket watch is no wristwatch, and a rug no coat. */
import type { ItemRecord, Outline, Plan, PlanBook, Shape } from "./types.ts";
import { fieldValue } from "./values.ts";

/**
 * Those that are named for its kind or for things of its name come first; while it has none, all but what would take
 * another's place.
 */
export function outlinesOf(book: PlanBook | null | undefined, plan: Plan, item: ItemRecord): Outline[] {
  const isAsked = ({ zone }: Shape) => plan.zones.some((row) => row.zone === zone?.split("/")[0]);
  // Of a drawing whose zones are mostly another kind's, or a later plan's, nothing could be touched.
  const isOfPlan = ({ shapes }: Outline) => {
    const regions = shapes.filter(({ zone }) => zone);
    return regions.filter(isAsked).length * 2 > regions.length;
  };
  const all = (book?.outlines?.[plan.class_id] ?? []).filter(isOfPlan);
  const name = fieldValue(item, "short_description")?.trim() ?? "";
  const isMeant = ({ of = [] }: Outline) => of.some((word) => new RegExp(`\\b${word}s?\\b`, "i").test(name));
  const ofKind = all.filter(({ outline }) => plan.kind && `${outline}-`.startsWith(`${plan.kind}-`));
  const meant = ofKind.length ? ofKind : all.filter(isMeant);
  const replaced = meant.flatMap(({ instead }) => instead?.split(", ") ?? []);
  const others = all.filter(
    (one) =>
      !meant.includes(one) && !replaced.includes(one.outline) && (!one.of?.length || (!name && !one.instead)),
  );
  return [...meant, ...others];
}
