/** Sums that must agree, each as a bar of its parts: numbers given out, things counted, receipts; and the loads. */

import { aloneAtTheStore, isReplaced, loadName, notCome, takenOut } from "../../job/loads.ts";
import { countWords, firstUpper, pluralOf } from "../../job/words.ts";
import { loadsThatLeftOn, rollsOfDay, sumsOfDay } from "../../local/day_found.ts";
import { Below } from "../../parts/below.tsx";
import { OfNoRoll } from "../../parts/of_no_roll.tsx";
import { Sign } from "../../parts/sign.tsx";

export function Sums({ day_id }: { day_id: string }) {
  const rolls = rollsOfDay(day_id);
  return (
    <section>
      <h2>What must agree</h2>
      {!rolls.length && <p class="none">No roll was given out.</p>}
      {rolls.map(({ roll_id, given_to, count, used, elsewhere, spoiled, unused }) => (
        <Sum
          key={roll_id}
          of={`Numbers: ${given_to}`}
          whole={[count, ""]}
          parts={[
            [used, "used"],
            ...(elsewhere ? [[elsewhere, "on things of another day"] as const] : []),
            [spoiled, "struck through"],
            [unused, "unused"],
          ]}
        />
      ))}
      <OfNoRoll day_id={day_id} />
      <Below>
        <OfDay day_id={day_id} />
        <Loads day_id={day_id} />
      </Below>
    </section>
  );
}

function OfDay({ day_id }: { day_id: string }) {
  const { things, receipts } = sumsOfDay(day_id);
  const { signed, stays, renew, nothing, open } = receipts;
  const visits = signed + stays + renew + nothing + open;
  const still = [open && `${open} open`, renew && `${renew} to sign anew`, stays && `${stays} not left yet`]
    .filter(Boolean)
    .join(", ");
  return (
    <>
      <Sum
        of="Things"
        whole={[things.counted, "counted at the tables"]}
        parts={[
          [things.here, "left with us"],
          [things.back, "back with owners"],
          ...(things.stopped ? [[things.stopped, "stopped, not decided"] as const] : []),
          ...(things.referred
            ? [[things.referred, "referred: where to stands in the decision"] as const]
            : []),
        ]}
      />
      <Sum
        of="Receipts"
        whole={[visits, pluralOf(visits, "visit")]}
        parts={[
          [signed, stays ? "signed and left" : "signed"],
          ...(stays ? [[stays, "signed, the owner still here"] as const] : []),
          [renew, "signed before something came or changed"],
          [nothing, "left nothing"],
        ]}
        still={still}
      />
    </>
  );
}

type Part = readonly [count: number, words: string];

/** `parts` are the first of a whole: filled, then outlined; what they lack of it is a gap at the end. */
function Sum({ of, whole, parts, still }: { of: string; whole: Part; parts: Part[]; still?: string }) {
  const sum = parts.reduce((total, [count]) => total + count, 0);
  const agrees = sum === whole[0] && !still;
  const length = Math.max(sum, whole[0], 1);
  let from = 0;
  return (
    <div class="sum">
      <strong>{of}</strong>
      <span class="agrees">
        <Sign of={agrees ? "agrees" : "differs"} /> {agrees ? "agrees" : still || "differs"}
      </span>
      <svg class="bar-of" viewBox={`0 0 ${length} 1`} preserveAspectRatio="none" aria-hidden="true">
        {parts.map(([count, words], index) => {
          const at = from;
          from += count;
          return count ? (
            <rect key={words} x={at} width={count} height="1" class={index ? "" : "first"} />
          ) : null;
        })}
      </svg>
      <small>
        {parts.map(([count, words], index) => (
          <span key={words}>
            {index > 0 && " + "}
            <strong>{count}</strong> {words}
          </span>
        ))}{" "}
        {sum === whole[0] ? "=" : "≠"} <strong>{whole[0]}</strong> {whole[1]}
      </small>
    </div>
  );
}

function Loads({ day_id }: { day_id: string }) {
  const loads = loadsThatLeftOn(day_id).filter((load) => !isReplaced(load));
  if (!loads.length) return null;
  return (
    <>
      <h3>Loads</h3>
      <ul class="loads">
        {loads.map((load) => {
          const [came, taken] = [load.things.filter((one) => one.came).length, takenOut(load).length];
          const alone = aloneAtTheStore(load);
          const lacks = taken > 0 || notCome(load).length > 0;
          return (
            <li key={load.id}>
              <a href={`#/load/${load.id}`}>{firstUpper(loadName(load))}</a>
              <span>
                <Sign of={lacks ? "differs" : "agrees"} /> {came} of {countWords(load.things.length, "thing")}{" "}
                came{taken > 0 && `, ${taken} missing from them`}
                {alone.length > 0 && `; taken in by ${alone.join(", ")} alone`}
              </span>
            </li>
          );
        })}
      </ul>
    </>
  );
}
