/** The closing of a day that this device does not hold, as the office tells it: counts at once, lines by pages. */

import { useEffect, useRef, useState } from "preact/hooks";
import {
  type ClosingSection,
  changedSection,
  type DayClosing,
  kindSections,
  namedSection,
  receiptsSection,
} from "../../job/day_closing.ts";
import { dayWords } from "../../job/day_facts.ts";
import { isNewsOf, REST } from "../../job/day_news.ts";
import type { News } from "../../job/desk.ts";
import { countWords } from "../../job/words.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { Frame } from "../../parts/frame.tsx";
import { momentWords } from "../../parts/moments.ts";
import { attempt } from "../../parts/notices.tsx";
import { printWhole } from "../../parts/print.ts";
import { useLatest } from "../../parts/use.ts";
import { EVERY_LINE, isOfAnotherState, readClosing, withLines } from "../../sync/closing_pages.ts";
import { mayPass, OfficeSays } from "../../sync/office.ts";
import { whyNoOffice } from "../../sync/out_of_reach.ts";
import { signedAsWell } from "./closing_closed_by.tsx";
import { drawFound, drawNamed, drawSigned, Folded, Lines, type Paging } from "./day_closing_lines.tsx";

const LINES_A_PAGE = 100;
export function ClosingOfDay({ day_id }: { day_id: string }) {
  const { closing, problem, paging, print } = useDayClosing(day_id);
  const left = closing?.closed ? 0 : (closing?.differences ?? 0);
  const open = left ? `Closing: ${left} to explain` : "Closing";
  return (
    <Frame
      title={closing?.closed ? "The day is closed" : open}
      back="#/closings"
      place="#/closings"
      action={
        closing && (
          <button type="button" onClick={() => attempt(print)}>
            Print this page
          </button>
        )
      }
    >
      {problem && (
        <p class="bar" role="alert">
          {problem}
        </p>
      )}
      {closing ? <Told closing={closing} paging={paging} /> : !problem && <p class="none">Asking …</p>}
    </Frame>
  );
}

/** The closing as the office tells it, and again after something of its day was kept, twice a second at most. */
function useDayClosing(day_id: string) {
  const [closing, setClosing] = useState<DayClosing | null>(null);
  const [problem, setProblem] = useState("");
  const [isWhole, setWhole] = useState(false);
  const latest = useLatest(closing);
  const heard = useRef(0); // up to where in the feed its day has changed
  const printing = useRef(false);
  const shown = useRef(new Map<string, number>()); // how many lines of each section were asked for
  const wanted = (section: string) => shown.current.get(section) ?? 0;
  const ask = async () => {
    if (printing.current) return true; // what is on the paper is of one state; it is asked for when that is printed
    if (closing && heard.current === closing.cursor && !problem) return true; // it came with this closing
    try {
      const read = await readClosing(day_id, wanted, closing);
      if (printing.current) return true;
      setClosing(read);
      setProblem("");
    } catch (error) {
      const why =
        error instanceof OfficeSays ? error.message : `The office tells this, and ${whyNoOffice()}.`;
      setProblem(why);
      return !mayPass(error);
    }
    return true;
  };
  const of = (news: News) => {
    const isOf = isNewsOf(day_id, news);
    if (isOf) heard.current = news.cursor;
    return isOf;
  };
  const again = useAskedAtNews(ask, { of, rest: REST });
  useEffect(again, []);
  const more = async ({ section, lines }: ClosingSection) => {
    if (!closing) return;
    shown.current.set(section, lines.length + LINES_A_PAGE);
    try {
      const read = await withLines(closing, wanted);
      if (latest.current?.state === read.state) setClosing(read);
    } catch (error) {
      if (!isOfAnotherState(error)) throw error;
      heard.current = -1;
      again();
    }
  };
  const print = async () => {
    printing.current = true;
    try {
      setClosing(await readClosing(day_id, EVERY_LINE, closing));
      setWhole(true);
      await new Promise(requestAnimationFrame);
      await printWhole();
    } finally {
      printing.current = false;
      setWhole(false);
      again(); // whatever was heard of meanwhile
    }
  };
  return { closing, problem, paging: { isWhole, more }, print };
}

function Told({ closing, paging }: { closing: DayClosing; paging: Paging }) {
  const { visits, items, containers, closed, differences } = closing;
  const title = closed ? "Since then" : "Differences";
  return (
    <>
      <p class="lead">
        {dayWords(closing)}. {countWords(visits, "visit")}, {countWords(items, "item")},{" "}
        {countWords(containers, "container")}.
      </p>
      {closed && (
        <p class="bar">
          Closed by {closed.closed_by} and {closed.second_by}, {momentWords(closed.closed_at)}, with{" "}
          {countWords(closed.named, "named difference")}.{closed.signed_beside?.map(signedAsWell)}
          {differences > 0 && ` ${countWords(differences, "difference")} not named then.`}
        </p>
      )}
      {closed && (
        <section class="found">
          <h2>
            Closed with <span class="count">{closed.named}</span>
          </h2>
          <Lines of={namedSection(closing)} paging={paging} draw={drawNamed} />
          {!closed.named && <p class="none">Nothing: everything agreed.</p>}
        </section>
      )}
      {(!closed || differences > 0) && (
        <section class="found">
          <h2>
            {title} <span class="count">{differences}</span>
          </h2>
          {kindSections(closing).map((kind) => (
            <Folded key={kind.section} of={kind} paging={paging} />
          ))}
          {!differences && <p class="none">None: everything agrees.</p>}
        </section>
      )}
      {changedSection(closing) && (
        <section>
          <h2>
            Changed since then <span class="count">{closing.changed}</span>
          </h2>
          <Lines of={changedSection(closing)} paging={paging} draw={drawFound} />
        </section>
      )}
      <section>
        <h2>
          Receipts <span class="count">{closing.receipts}</span>
        </h2>
        <Lines of={receiptsSection(closing)} paging={paging} draw={drawSigned} />
        {!receiptsSection(closing) && <p class="none">Nothing was left, and nobody has signed.</p>}
      </section>
    </>
  );
}
