/** Tickets that a door did not give on the day before: its run goes on with them. */
import { useEffect, useState } from "preact/hooks";
import { dateWords } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import { type TicketRun, ticketOf } from "../../job/tickets.ts";
import { keep } from "../../local/outbox.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { get } from "../../sync/office.ts";

type RunLeft = { held_on: string; first: number; last: number; given_to: string; for_device_id: string };
type TicketsLeft = { runs: RunLeft[]; last: number };

/** What is left of the runs of the day before, and the highest ticket of the days before; nothing out of reach. */
export function useTicketsLeft(day_id: string): TicketsLeft {
  const [left, setLeft] = useState<TicketsLeft>({ runs: [], last: 0 });
  useEffect(() => {
    get<TicketsLeft>(`/tickets/left?${new URLSearchParams({ day_id })}`).then(setLeft, () => {});
  }, [day_id]);
  return left;
}

/** A door's run goes on where it stopped: an owner of yesterday has a ticket that nobody gets today. */
export function GoesOn({ run, day_id, runs }: { run: RunLeft; day_id: string; runs: TicketRun[] }) {
  const { held_on, first, last, given_to, for_device_id } = run;
  if (runs.some((one) => one.first <= last && first <= one.last)) return null;
  const words = `${ticketOf(first)} to ${ticketOf(last)}`;
  const go = () =>
    attempt(async () => {
      await keep("give_tickets", { day_id, run_id: newId(), first, last, given_to, for_device_id });
      sayDone(`${words} are for ${given_to}, once the office has kept that.`);
    });
  return (
    <p class="bar with-key">
      <span>
        {words}, {given_to}: left from {dateWords(held_on)}.
      </span>
      <button type="button" onClick={go}>
        Goes on: {words}, {given_to}
      </button>
    </p>
  );
}
