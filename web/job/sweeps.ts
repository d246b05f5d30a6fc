/** What one press said of several zones together, for as long as it stands so. */

import { seenFindings, WHOLE } from "./families.ts";
import type { ZoneState } from "./fields.ts";
import { MISSING } from "./gone.ts";
import { SET } from "./pieces.ts";
import { isOfOtherKind, neverHadIt, type Step, shutIn, zoneName } from "./progress.ts";
import { isInSight } from "./sight.ts";
import type { Operation, PlanBook, RecordCopy, Zone } from "./types.ts";
import { fieldValue, listed, TO_LOOK_AT } from "./values.ts";

/** Zones of one thing that were said to be so at one moment, on one device; `ids` are the operations that said it. */
export type Sweep = { zones: string[]; state: ZoneState; made_at: string; ids: ReadonlySet<string> };

/** The newest first. A zone of which something else was said since is none of it. */
export function sweepsOf(record: RecordCopy): Sweep[] {
  const found = new Map<string, Sweep & { ids: Set<string> }>();
  for (const { id, value, set } of listed(record, "zones/")) {
    const { made_at, device_id, operation_id } = set;
    if (value.state === "finding" || value.reason === TO_LOOK_AT) continue;
    const key = [made_at, device_id, value.state, value.reason].join();
    const sweep = found.get(key) ?? { zones: [], state: value, made_at, ids: new Set<string>() };
    sweep.zones.push(id);
    sweep.ids.add(operation_id);
    found.set(key, sweep);
  }
  const several = [...found.values()].filter(({ zones }) => zones.length > 1);
  return several.sort((a, b) => b.made_at.localeCompare(a.made_at));
}

/** The zones that an operation of a sweep speaks of. */
export function zonesOf(op: Operation) {
  return op.kind === "examine_rest" ? op.zones : op.kind === "examine_zone" ? [op.zone] : [];
}

/** Those of them of which what it said stands: nothing else was said since. */
export function zonesStillSaid(record: RecordCopy | null | undefined, made: readonly Operation[]): string[] {
  return made.flatMap((op) =>
    zonesOf(op).filter((zone) => record?.fields[`zones/${zone}`]?.operation_id === op.operation_id),
  );
}

/** Whether a thing can be without a zone: each has a whole, what it is made of, and that on which other zones lie. */
export function canLack(zone: Zone) {
  return (
    zone.zone !== WHOLE && !zone.inherent && (zone.optional || !zone.holds.length || zone.weight !== "key")
  );
}

/** Whether a zone is a place of marks: clear alone does not tell one without a fault from none at all. */
function isOfMarks({ zone }: Pick<Step, "zone">) {
  return Boolean(zone.wording?.length);
}

/** What lies beside a thing where it is there at all; a part of some classes is called a case, too. */
const BESIDE = new Set(
  "accessories box box-flaps documents extras packaging papers slipcase stand".split(" "),
);
/** What many a thing of its class was never given: called clear with the rest it would say that it has that. */
const APPLIED = new Set("blank-shield gilding liner plating".split(" "));

/** Whether a zone is beside the thing or put on it, and nobody has shown or found any of it. */
export function mayNotBeThere({ zone, findings, photos }: Step, record: RecordCopy): boolean {
  const isApplied = Boolean(zone.optional) && APPLIED.has(zone.zone);
  const isBeside = BESIDE.has(zone.zone) || isApplied || (zone.zone === "case" && Boolean(zone.optional));
  const isNamed = zone.zone === "packaging" && Boolean(fieldValue(record, "packaging")?.trim());
  return isBeside && !isNamed && !findings.length && !photos.length;
}

/** A zone as the key names it that says it was never there: by all that is denied of it afterwards. */
export function namedAsNone(
  { zone, key }: Pick<Step, "zone" | "key">,
  print: PlanBook["print"] | undefined,
): string {
  const name = zoneName(key);
  const lacking = print?.zones?.find((row) => row.zone === zone.zone)?.lacking;
  return !lacking || lacking === name ? name : `${name} (${lacking})`;
}

/** What may be said together not to have been examined: all that nobody spoke of, but what such things never have. */
export function leftOpen(steps: readonly Step[], record: RecordCopy): Step[] {
  return steps.filter(
    ({ state, findings, zone }) => !state && !findings.length && !isOfOtherKind(record, zone),
  );
}

/**
 * What is called clear with the rest in a light, and what is not, with why: it lies in what was not examined, or shows
 * in no such light, nor was it tried in the way that shows it, or by what it is called such a thing has none; of a
 * place of marks it is said by itself whether there is one, of what lies beside it whether that is there, and of a set
 * of which something is missing how many there are. Without a light, all that some light shows is covered.
 */
export function coveredIn(steps: readonly Step[], record: RecordCopy, light: string) {
  const open = steps.filter(({ state, findings }) => !state && !findings.length);
  const other = open.filter(({ zone }) => isOfOtherKind(record, zone));
  const rest = open.filter((step) => !other.includes(step));
  const isUnlit = ({ zone }: Step) => !isInSight(record, zone, light || zone.lights?.[0] || "");
  const unlit = rest.filter(isUnlit);
  const shut = shutIn(steps);
  const dark = shutIn(steps, (step) => unlit.includes(step));
  const isBeside = (step: Step) => mayNotBeThere(step, record);
  const isLacking = seenFindings(record).some(({ value }) => value.term === MISSING);
  const isShort = ({ zone }: Step) => isLacking && zone.zone === SET;
  const isShut = ({ zone }: Step) => shut.has(zone.zone);
  const seen = rest.filter((step) => !isShut(step) && !unlit.includes(step) && !dark.has(step.zone.zone));
  return {
    covered: seen.filter((step) => !isOfMarks(step) && !isBeside(step) && !isShort(step)),
    within: rest.filter(isShut).map((step) => ({ step, by: shut.get(step.zone.zone) ?? "" })),
    unlit: rest.filter((step) => !isShut(step) && (unlit.includes(step) || dark.has(step.zone.zone))),
    marks: seen.filter(isOfMarks),
    beside: seen.filter(isBeside),
    short: seen.filter(isShort),
    other,
  };
}

/**
 * Zones that a thing never had since it never had those of `keys`: whatever lies in a zone all of which it never had,
 * or on one that many of its class have not. What was said of one of them, or found on it, stands.
 */
export function alongWith(steps: readonly Step[], keys: readonly string[]): string[] {
  const along: string[] = [];
  const isNone = ({ key }: Step) => keys.includes(key) || along.includes(key);
  const isAllNone = (zone: string) => {
    const own = steps.filter((step) => step.zone.zone === zone);
    const isNever = (step: Step) => isNone(step) || (neverHadIt(step.state) && !step.findings.length);
    return own.some(isNone) && own.every(isNever);
  };
  const liesIn = ({ zone }: Step) =>
    steps.some(
      (step) =>
        (zone.inside?.includes(step.zone.zone) ||
          (step.zone.optional && step.zone.holds.includes(zone.zone))) &&
        isAllNone(step.zone.zone),
    );
  for (let found = true; found; ) {
    const next = steps.find(
      (step) => !step.state && !step.findings.length && !isNone(step) && canLack(step.zone) && liesIn(step),
    );
    found = Boolean(next);
    if (next) along.push(next.key);
  }
  return along;
}
