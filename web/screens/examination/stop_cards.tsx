/** Two cards to print, each on one page: what everybody at a table does first, and what hangs on the wall. */

import { urgentCautions } from "../../job/caution_search.ts";
import { dateWords } from "../../job/day_facts.ts";
import type { Caution, CautionPack } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { StepWords } from "../../parts/caution_card.tsx";
import { Frame } from "../../parts/frame.tsx";
import { usePlanBook } from "../../parts/use.ts";

export default function StopCards() {
  const book = usePlanBook();
  if (!book?.cautions)
    return (
      <Frame title="Cards" back="#/stop" place="#/stop">
        <p>Reading …</p>
      </Frame>
    );
  const action = (
    <button type="button" class="main" onClick={() => print()}>
      Print both cards
    </button>
  );
  return (
    <Frame title="Cards" back="#/stop" place="#/stop" action={action}>
      <TableCard pack={book.cautions} />
      <WallCard pack={book.cautions} />
    </Frame>
  );
}

function TableCard({ pack }: { pack: CautionPack }) {
  return (
    <article class="card-page" aria-label="Card for the table">
      <h2>Stop</h2>
      <ol>
        {pack.card.map((step) => (
          <li key={step}>
            <StepWords step={step} emergency={pack.emergency} />
          </li>
        ))}
      </ol>
      <p class="write-in">Safety lead today:</p>
      <p class="write-in">This place (say it first):</p>
      <Small pack={pack} />
    </article>
  );
}

function WallCard({ pack }: { pack: CautionPack }) {
  return (
    <article class="card-page wall" aria-label="Card for the wall">
      <h2>Hands off. People away. Then call {pack.emergency}.</h2>
      <dl>
        {urgentCautions(pack).map((row) => (
          <div key={row.hazard}>
            <dt>{row.name}</dt>
            <dd>{row.caution}</dd>
          </div>
        ))}
      </dl>
      <p class="number">Nobody goes back. No telephone or radio close to it. Paper last.</p>
      <Small pack={pack} />
    </article>
  );
}

/** What everybody has to know of the card itself: for which country, of when, and that others decide. */
function Small({ pack }: { pack: CautionPack }) {
  return (
    <p class="hint">
      {pack.country}. {pack.notice} {checkedWords(urgentCautions(pack))}
    </p>
  );
}

/** When the rows on the wall were last held to their sources: the oldest day, and how many nobody has checked. */
function checkedWords(rows: Caution[]) {
  const days = rows.flatMap(({ checked_on }) => checked_on ?? []).sort();
  const without = rows.length - days.length;
  const checked = days[0] ? `Checked on ${dateWords(days[0])}` : "";
  const unchecked = without ? `nobody has checked ${without} of these ${rows.length} yet` : "";
  return `${firstUpper([checked, unchecked].filter(Boolean).join("; "))}.`;
}
