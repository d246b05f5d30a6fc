/** The cautions on an item: which stand, what they stop, and what a label says of them. */
import type { CautionDecision, FindingValue } from "./fields.ts";
import type { FieldValue, RecordCopy } from "./types.ts";
import { fieldValue, isContested, listed } from "./values.ts";

const LEVELS = ["red", "amber", "note"];

/** A record, and those of the same thing: it stands behind them or they behind it. A stop holds for the thing. */
export function sameThing(record: RecordCopy): readonly RecordCopy[] {
  return record.doubles?.length ? [record, ...record.doubles] : [record];
}

/**
 * The cautions that nobody has cleared, on whichever record of the thing (`on`), the gravest first. One that is cleared
 * and that somebody else decided otherwise stands, until a person has settled who is right.
 */
export function standingCautions(record: RecordCopy) {
  return raisedCautions(record).filter((raised) => !isCleared(raised));
}

/** Those that asked for more than to be noted, and were cleared. */
export function clearedCautions(record: RecordCopy) {
  return raisedCautions(record).filter((raised) => isCleared(raised) && raised.value.level !== "note");
}

function raisedCautions(record: RecordCopy) {
  return sameThing(record)
    .flatMap((on) => listed(on, "cautions/").map((raised) => ({ ...raised, on })))
    .sort((a, b) => LEVELS.indexOf(a.value.level) - LEVELS.indexOf(b.value.level));
}

function isCleared({ id, on }: { id: string; on: RecordCopy }) {
  const name = `caution-decisions/${id}` as const;
  return fieldValue(on, name)?.decision === "cleared" && !isContested(on, name);
}

/** The standing cautions that ask for more than to be noted. */
export function holdingCautions(record: RecordCopy) {
  return standingCautions(record).filter(({ value }) => value.level !== "note");
}

/** Whether a red caution stands: then nobody goes on with the item. */
export function isStopped(record: RecordCopy) {
  return standingCautions(record)[0]?.value.level === "red";
}

function spreads(finding: FindingValue) {
  return finding.activity === "Q" && !finding.withdrawn;
}

/**
 * What says that it is held apart: an amber caution stands, something on it can spread, or whoever decides set it apart
 * and nobody cleared it. Where two say otherwise, either counts until a person has settled it.
 */
export function holdsApart(record: RecordCopy): FieldValue[] {
  const amber = standingCautions(record).filter(({ value }) => value.level === "amber");
  const values = sameThing(record).flatMap((row) => {
    const isolated = listed(row, "caution-decisions/").filter(({ value }) => value.decision === "isolated");
    const spreading = listed(row, "findings/").filter(({ value }) => spreads(value));
    return [...[...isolated, ...spreading].map(({ set }) => set), ...saidBeside(row)];
  });
  return [...amber.map(({ set }) => set), ...values];
}

/** What holds it apart by the word of either of two people who said otherwise, and nobody has settled. */
function saidBeside(record: RecordCopy) {
  return record.disagreements.flatMap(({ field, kept, other, settled }) => {
    if (settled) return [];
    const finds = field.startsWith("findings/");
    const decides = field.startsWith("caution-decisions/");
    return [kept, other].filter(
      ({ value }) =>
        (finds && spreads(value as FindingValue)) ||
        (decides && (value as CautionDecision).decision === "isolated"),
    );
  });
}

export function isHeldApart(record: RecordCopy) {
  return holdsApart(record).length > 0;
}

/** What a label says of the cautions that stand on what it is tied to; "" if none asks for more than a note. */
export function cautionMark(items: RecordCopy[]) {
  const levels = items.flatMap((item) => standingCautions(item).map(({ value }) => value.level));
  if (levels.includes("red")) return "stopped, do not handle";
  return levels.includes("amber") || items.some(isHeldApart) ? "held apart" : "";
}
