/**
 * The closings of days that this device does not hold, as the office reads them off its records: the list, and one day.
 */

import { useEffect, useRef, useState } from "preact/hooks";
import type { DayClosing, DayListed, DaysPage, VisitSigned } from "../../job/day_closing.ts";
import { receiptsWords } from "../../job/day_closing.ts";
import { dayWords } from "../../job/day_facts.ts";
import type { News } from "../../job/desk.ts";
import { countWords, errorWords } from "../../job/words.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { printWhole } from "../../parts/print.ts";
import { Sign } from "../../parts/sign.tsx";
import { get, mayPass, OfficeSays } from "../../sync/office.ts";
import { whyNoOffice } from "../../sync/out_of_reach.ts";
import { ClosedWith, Differences } from "./closing_differences.tsx";

export default function DayClosings({ day_id }: { day_id: string }) {
  return day_id ? <OneDay key={day_id} day_id={day_id} /> : <Days />;
}

/** Every day that there was, the latest first, a page at a time. */
function Days() {
  const [days, setDays] = useState<DayListed[] | null>(null);
  const [before, setBefore] = useState<number | null>(null);
  const [problem, setProblem] = useState("");
  const take = async () => {
    const page = await get<DaysPage>(`/days${before === null ? "" : `?before=${before}`}`);
    setDays([...(days ?? []), ...page.days]);
    setBefore(page.next);
  };
  const read = () => attempt(take);
  const begin = useAskedAtNews(async () => {
    try {
      if (!days) await take();
    } catch (error) {
      setProblem(errorWords(error));
      return !mayPass(error);
    }
    return true;
  });
  useEffect(begin, []);
  return (
    <Frame title="Closing" place="#/closings">
      {!days && <p class="none">{problem || "Asking …"}</p>}
      {days && !days.length && <p class="lead">No valuation day is set up yet.</p>}
      <ul class="rows">
        {days?.map((day) => (
          <li key={day.day_id}>
            <a class="row" href={`#/closings/${day.day_id}`}>
              <span class="what">
                {dayWords(day)}
                <small>{day.closed_at ? `closed ${momentWords(day.closed_at)}` : "not closed yet"}</small>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {before !== null && (
        <button type="button" class="quiet" onClick={read}>
          Show earlier ones
        </button>
      )}
    </Frame>
  );
}

function OneDay({ day_id }: { day_id: string }) {
  const { closing, problem } = useDayClosing(day_id);
  const print = (
    <button type="button" onClick={printWhole}>
      Print this page
    </button>
  );
  const left = closing?.differences.length ?? 0;
  const open = left ? `Closing: ${left} to explain` : "Closing";
  return (
    <Frame
      title={closing?.closed ? "The day is closed" : open}
      back="#/closings"
      place="#/closings"
      action={closing && print}
    >
      {problem && (
        <p class="bar" role="alert">
          {problem}
        </p>
      )}
      {closing ? <Told closing={closing} /> : !problem && <p class="none">Asking …</p>}
    </Frame>
  );
}

function Told({ closing }: { closing: DayClosing }) {
  const { visits, items, containers, closed } = closing;
  const found = closing.differences.map((difference) => ({ ...difference, at: atTheDesk(difference.at) }));
  return (
    <>
      <p class="lead">
        {dayWords(closing)}. {countWords(visits, "visit")}, {countWords(items, "item")},{" "}
        {countWords(containers, "container")}.
      </p>
      {closed && (
        <p class="bar">
          Closed by {closed.closed_by} and {closed.second_by}, {momentWords(closed.closed_at)}, with{" "}
          {countWords(closed.named.length, "named difference")}.
          {closed.since > 0 && ` ${countWords(closed.since, "difference")} not named then.`}
        </p>
      )}
      {closed ? <ClosedWith named={closed.named} found={found} /> : <Differences found={found} />}
      <Receipts visits={closing.visits_signed} />
    </>
  );
}

/** Where a desk looks: at a thing's entry; what it keeps no record of it cannot open. */
function atTheDesk(at: string) {
  const item_id = /^#\/item\/(.+)$/.exec(at)?.[1];
  return item_id ? `#/entry/${item_id}` : "";
}

function Receipts({ visits }: { visits: VisitSigned[] }) {
  const of = visits.filter(({ receipts, here, back_unsigned }) => receipts.length || here || back_unsigned);
  of.sort((a, b) => Number(isOwed(b)) - Number(isOwed(a))); // what somebody has to do stands first
  return (
    <section>
      <h2>
        Receipts <span class="count">{of.reduce((sum, { receipts }) => sum + receipts.length, 0)}</span>
      </h2>
      {of.length ? (
        <ul>
          {of.map((visit) => (
            <li key={visit.visit_id}>
              <Sign of={isOwed(visit) ? "differs" : "agrees"} /> <strong>{visit.ticket}</strong>:{" "}
              {receiptsWords(visit)}
            </li>
          ))}
        </ul>
      ) : (
        <p class="none">Nothing was left, and nobody has signed.</p>
      )}
    </section>
  );
}

/** Whether somebody has yet to sign for what was left, or for what went back. */
function isOwed({ here_unsigned, back_unsigned }: VisitSigned) {
  return here_unsigned + back_unsigned > 0;
}

/** A closing is made of its whole day: it is asked for no more than a fifth of the time. */
const REST = 4;

/** The closing as the office tells it, and again after something of its day was kept, twice a second at most. */
function useDayClosing(day_id: string) {
  const [closing, setClosing] = useState<DayClosing | null>(null);
  const [problem, setProblem] = useState("");
  const heard = useRef(0); // up to where in the feed its day has changed
  const ask = async () => {
    if (closing && heard.current === closing.cursor && !problem) return true; // it came with this closing
    try {
      setClosing(await get<DayClosing>(`/days/${day_id}/closing`));
      setProblem("");
    } catch (error) {
      const why =
        error instanceof OfficeSays ? error.message : `The office tells this, and ${whyNoOffice()}.`;
      setProblem(why);
      return !mayPass(error);
    }
    return true;
  };
  const of = ({ changed, cursor }: News) => {
    const isOf = !changed || changed.some(([, , , of_day]) => of_day === day_id);
    if (isOf) heard.current = cursor;
    return isOf;
  };
  const again = useAskedAtNews(ask, { of, rest: REST });
  useEffect(again, []);
  return { closing, problem };
}
