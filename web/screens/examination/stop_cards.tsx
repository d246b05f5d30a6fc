/** Two cards to print, each on one page: what everybody at a table does first, and what hangs on the wall. */

import { urgentCautions } from "../../job/caution_search.ts";
import type { CautionPack } from "../../job/types.ts";
import { Frame } from "../../parts/frame.tsx";
import { usePlanBook } from "../../parts/use.ts";

export default function StopCards() {
  const book = usePlanBook();
  if (!book?.cautions)
    return (
      <Frame title="Cards" back="#/stop">
        <p>Reading …</p>
      </Frame>
    );
  const action = (
    <button type="button" class="main" onClick={() => print()}>
      Print both cards
    </button>
  );
  return (
    <Frame title="Cards" back="#/stop" action={action}>
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
          <li key={step}>{step}</li>
        ))}
      </ol>
      <p class="number">Emergency number: {pack.emergency}</p>
      <p class="write-in">Safety lead today:</p>
      <p class="write-in">This place (say it first):</p>
      <p class="hint">
        {pack.country}. {pack.notice}
      </p>
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
      <p class="hint">
        {pack.country}. {pack.notice}
      </p>
    </article>
  );
}
