/** Which drawings of its class show a thing, by its name: a pocket watch is no wristwatch, and a rug no coat. */
import type { ItemRecord, Outline, Plan, PlanBook } from "./types.ts";
import { fieldValue } from "./values.ts";

/** Those that are for things of its name come first; while it has none, all but what would take another's place. */
export function outlinesOf(book: PlanBook | null | undefined, plan: Plan, item: ItemRecord): Outline[] {
  const all = book?.outlines?.[plan.class_id] ?? [];
  const name = fieldValue(item, "short_description")?.trim() ?? "";
  const isMeant = ({ of = [] }: Outline) => of.some((word) => new RegExp(`\\b${word}s?\\b`, "i").test(name));
  const meant = all.filter(isMeant);
  const replaced = meant.flatMap(({ instead }) => instead ?? []);
  const others = all.filter(
    (one) =>
      !meant.includes(one) && !replaced.includes(one.outline) && (!one.of?.length || (!name && !one.instead)),
  );
  return [...meant, ...others];
}
