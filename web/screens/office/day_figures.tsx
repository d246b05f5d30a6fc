/** The day at a glance: how many owners and things are where, as figures; each leads to where they are named. */

import { isStopped } from "../../job/cautions.ts";
import { isReturned } from "../../job/custody.ts";
import { doubledTickets } from "../../job/tickets.ts";
import { fieldValue } from "../../job/values.ts";
import { placesOfDay } from "../../local/places_of_day.ts";
import { useRecords } from "../../parts/use.ts";

export function DayFigures({ day_id }: { day_id: string }) {
  const visits = useRecords("visit", day_id);
  const items = useRecords("item", day_id);
  if (!visits || !items) return null;
  const at = (stage: string) => visits.filter((visit) => fieldValue(visit, "stage") === stage).length;
  const stopped = items.filter(isStopped).length;
  const doubled = doubledTickets(visits).size;
  return (
    <>
      <Figures
        words="Owners"
        address="#/today"
        figures={[
          ["Waiting", at("waiting")],
          ["At the tables", at("at-table")],
          ["Left", at("left")],
          ...(doubled ? [["Tickets with two owners", doubled] as const] : []),
        ]}
      />
      <Figures
        words="Things"
        address="#/places"
        figures={[
          ["On record", items.length],
          ...(stopped ? [["Stopped", stopped] as const] : []),
          ...placesOfDay(day_id).map(({ words, items }) => [words, items] as const),
          ["Back with owners", items.filter(isReturned).length],
        ]}
      />
    </>
  );
}

type FiguresOf = { words: string; address: string; figures: (readonly [words: string, count: number])[] };

function Figures({ words, address, figures }: FiguresOf) {
  return (
    <section>
      <h3 class="lines">
        <a href={address}>{words}</a>
      </h3>
      <dl class="figures">
        {figures.map(([of, count]) => (
          <div key={of}>
            <dt>{of}</dt>
            <dd>{count}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
