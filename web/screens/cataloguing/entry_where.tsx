/** Its place by the ledger, piece by piece where they are apart. */

import { type Check, checksInForce, checkWords, notCompared, numbersInWords } from "../../job/compared.ts";
import { piecesOf, whereIs } from "../../job/custody.ts";
import { partWords } from "../../job/number_parts.ts";
import { partsApart } from "../../job/parts_lost.ts";
import { referredTo } from "../../job/referred.ts";
import { shown } from "../../job/tag.ts";
import type { ItemRecord, ThingRecord } from "../../job/types.ts";
import { notComeWords, whereWords } from "../../job/where_words.ts";
import { firstUpper, spaced } from "../../job/words.ts";
import { useRecords } from "../../parts/use.ts";

/** Parts in several places, each accounted for, are no reason against describing it: whoever does so knows of it. */
export function LieApart({ item, byId }: { item: ItemRecord; byId: Map<string, ThingRecord> }) {
  const apart = partsApart(item, byId);
  if (!apart.length) return null;
  return <p class="bar">Its parts lie apart, each accounted for: {apart.join("; ")}.</p>;
}

/** What came of comparing it as it was unpacked, number by number where it came apart. */
function Checked({ item }: { item: ItemRecord }) {
  const checks = checksInForce(item);
  const left = checks.length ? numbersInWords(item, notCompared(item)) : "";
  return (
    <>
      {checks.map(({ tag, value }) => (
        <small key={tag}>
          {tag && `${firstUpper(numbersInWords(item, [tag]))}: `}
          {didWords(value.state, !tag)}
          {checkWords(value) && `, ${checkWords(value)}`}
        </small>
      ))}
      {left && <small>{firstUpper(left)}: not compared yet</small>}
    </>
  );
}

function didWords(state: Check["value"]["state"], isFirst: boolean) {
  const did = state === "not-here" ? "looked for" : "compared";
  return `${isFirst ? firstUpper(did) : did} as it was unpacked: ${spaced(state)}`;
}

export function WhereNow({ item }: { item: ItemRecord }) {
  const containers = useRecords("container", item.day_id) ?? [];
  const byId = new Map<string, ThingRecord>(containers.map((container) => [container.record_id, container]));
  const pieces = piecesOf(item, byId);
  const apart = new Set(pieces.map(({ where }) => whereWords(where))).size > 1;
  const missed = notComeWords(item, byId);
  const went = referredTo(item);
  if (went) return <p>{firstUpper(went)}, as was decided.</p>;
  return (
    <>
      <p>
        {missed || apart
          ? missed || "It lies apart:"
          : `${whereWords(pieces[0]?.where ?? whereIs(item, byId))}.`}
        <Checked item={item} />
      </p>
      {apart && !missed && (
        <ul>
          {pieces.map(({ tag, where, ...number }) => (
            <li key={tag}>
              {shown(tag)}, {partWords(item, number)}: {whereWords(where)}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
