/** Finding a caution: the most urgent as buttons, the rest by whatever somebody types or says. */

import { useState } from "preact/hooks";
import { findCautions, unknownCaution, urgentCautions } from "../job/caution_search.ts";
import type { Caution, CautionPack, Plan } from "../job/types.ts";
import { LEVEL_WORDS } from "./caution_bar.tsx";

/** How many rows that may not be meant are shown under the one for what nobody knows. */
const ALIKE = 3;

type SignsOf = {
  pack: CautionPack;
  plan?: Plan | null;
  /** Those that the words of its name call for. */
  named?: Caution[];
  choose: (caution: Caution) => void;
};

/** With nothing typed: the urgent ones, then those that things of this class can have. */
export function Signs({ pack, plan, named = [], choose }: SignsOf) {
  const [words, setWords] = useState("");
  return (
    <>
      <div class="field">
        <label for="sign-words">What do you see, hear or smell?</label>
        <input
          id="sign-words"
          type="search"
          value={words}
          onInput={(event) => setWords(event.currentTarget.value)}
          autocomplete="off"
          maxLength={200}
          placeholder="ticking, bullets, old film, battery …"
        />
      </div>
      {words.trim() ? (
        <Found pack={pack} words={words} choose={choose} />
      ) : (
        <Offered pack={pack} plan={plan} named={named} choose={choose} />
      )}
    </>
  );
}

function Found({ pack, words, choose }: { words: string } & SignsOf) {
  const { rows, sure } = findCautions(pack, words);
  const unknown = unknownCaution(pack);
  const others = rows.filter((row) => row !== unknown);
  if (sure) {
    const last = unknown && !rows.includes(unknown) ? [unknown] : [];
    return <Rows rows={[...rows, ...last]} choose={choose} />;
  }
  return (
    <>
      <p class="lead" role="status">
        <strong>Nothing is called that. Hands off, and call the safety lead.</strong>
      </p>
      {unknown && <Rows rows={[unknown]} choose={choose} />}
      {others.length > 0 && (
        <>
          <h3>Spelt or told alike</h3>
          <Rows rows={others.slice(0, ALIKE)} choose={choose} />
        </>
      )}
    </>
  );
}

function Offered({ pack, plan, named = [], choose }: SignsOf) {
  const urgent = urgentCautions(pack);
  const called = named.filter((row) => !urgent.includes(row));
  const usual = pack.cautions.filter(
    (row) => plan?.hazards.includes(row.hazard) && !urgent.includes(row) && !called.includes(row),
  );
  const unknown = unknownCaution(pack);
  return (
    <>
      <div class="urgent">
        {urgent.map((row) => (
          <button type="button" key={row.hazard} onClick={() => choose(row)}>
            {row.name}
          </button>
        ))}
      </div>
      {called.length > 0 && (
        <>
          <h3>By what it is called</h3>
          <Rows rows={called} choose={choose} />
        </>
      )}
      {unknown && <Rows rows={[unknown]} choose={choose} />}
      {usual.length > 0 && (
        <>
          <h3>On things like this</h3>
          <Rows rows={usual} choose={choose} />
        </>
      )}
    </>
  );
}

function Rows({ rows, choose }: { rows: Caution[]; choose: (caution: Caution) => void }) {
  return (
    <ul class="rows">
      {rows.map((row) => (
        <li key={row.hazard}>
          <button type="button" class="row" onClick={() => choose(row)}>
            <span class="what">
              <span class={`level ${row.level}`}>{LEVEL_WORDS[row.level]}</span>
              <strong>{row.name}</strong>
              <small>{row.sign}</small>
            </span>
          </button>
        </li>
      ))}
    </ul>
  );
}
