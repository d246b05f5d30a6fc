/** What a record has that another class would take out of view, or that was signed or closed under the class it has. */
import { seenFindings } from "./families.ts";
import { planOfKind } from "./kind_of.ts";
import { keysOf, type Step, zoneName, zonesLeft } from "./progress.ts";
import type { ItemRecord, Plan, RecordCopy } from "./types.ts";
import { fieldValue, listed } from "./values.ts";
import { countWords } from "./words.ts";
import { zonesBeyond } from "./zones_beyond.ts";

export type OtherClass = { item: ItemRecord; visit: RecordCopy | null; day: RecordCopy | null };

/** Whether an owner signed for it. */
function isSignedFor({ item, visit }: OtherClass) {
  const signed = visit ? listed(visit, "receipts/") : [];
  return signed.some(({ value }) => value.lines.some(({ item_id }) => item_id === item.record_id));
}

/** Whether anything is on record that a change of its class would bear on. */
export function isMoreThanNamed(of: OtherClass): boolean {
  const { item, day } = of;
  const isExamined = listed(item, "zones/").length + seenFindings(item).length > 0;
  const isTried = listed(item, "tests/").length > 0;
  return isExamined || isTried || isSignedFor(of) || Boolean(day && fieldValue(day, "closed"));
}

function zonesOf(plan: Plan, item: ItemRecord) {
  const asked = planOfKind(plan, item);
  const all = asked.zones.flatMap(keysOf).length;
  return { said: all - zonesLeft(asked, item), all };
}

/** What becomes of its findings; `beyond` are the zones with some that the other class does not have. */
function staysWords(count: number, beyond: readonly Step[]) {
  const stay = `${countWords(count, "finding")} ${count === 1 ? "stays" : "stay"}`;
  const names = beyond.map(({ key }) => zoneName(key)).join("; ");
  if (!names) return `${stay}, on zones that the two have alike.`;
  const own = `${beyond.length === 1 ? "a zone" : "zones"} that the other does not have (${names})`;
  const few = beyond.reduce((sum, { findings }) => sum + findings.length, 0);
  const some = few < count ? `${few} of them ` : "";
  return `${stay}, ${some}on ${own}, below its list.`;
}

/** What is said before the class is changed, each a sentence: "27 of 27 zones become 2 of 32." */
export function lostFromView(of: OtherClass, from: Plan, to: Plan): string[] {
  const { item, day } = of;
  const [before, after] = [zonesOf(from, item), zonesOf(to, item)];
  const findings = seenFindings(item);
  const isClosed = Boolean(day && fieldValue(day, "closed"));
  return [
    ...(before.said
      ? [`${before.said} of ${countWords(before.all, "zone")} become ${after.said} of ${after.all}.`]
      : []),
    ...(findings.length ? [staysWords(findings.length, zonesBeyond(to, item))] : []),
    ...(isSignedFor(of)
      ? ["Its owner signed for it under the class that it has: the receipt will say so."]
      : []),
    ...(isClosed ? ["The day is closed: the closing will name the change."] : []),
  ];
}
