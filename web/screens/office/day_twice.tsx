/** A day that is set up already, and one that was set up twice: told before it is made, and ended where it was made. */
import { useEffect, useState } from "preact/hooks";
import type { DayListed, DaysPage } from "../../job/day_closing.ts";
import { dateWords, dayFacts, dayWords, namesOn } from "../../job/day_facts.ts";
import { doublesOf, isStanding, whoSetUp } from "../../job/next_day.ts";
import type { DayRecord } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { countWords } from "../../job/words.ts";
import { workOnDay } from "../../local/day.ts";
import { records } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { useAskedAtNews } from "../../parts/asked_at_news.ts";
import { momentWords } from "../../parts/moments.ts";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { useDevice, useRecords } from "../../parts/use.ts";
import { ask, get } from "../../sync/office.ts";

export type SetUpAlready = Pick<DayListed, "day_id" | "house" | "place" | "held_on"> & { by: string };

const ASK_MS = 3000;
const WORK_ON_IT = "Work on it";

/** A day of this date that stands and is open, as far as this device has heard, or else as the office says. */
export async function setUpAlready(held_on: string): Promise<SetUpAlready | null> {
  const here = (records("day") ?? []).find(
    (day) => isStanding(day) && !fieldValue(day, "closed") && dayFacts(day).held_on === held_on,
  );
  if (here) {
    const { opened_by = "" } = here;
    return { ...dayFacts(here), day_id: here.record_id, by: opened_by && namesOn(here)(opened_by) };
  }
  const answer = await ask("/days", { limitMs: ASK_MS }).catch(() => null); // with no line it is found twice later
  const { days }: DaysPage = answer ? await answer.json() : { days: [] };
  const told = days.find((day) => day.held_on === held_on && !day.let_go && !day.closed_at);
  return told ? { ...told, by: told.set_up_by ?? "" } : null;
}

export function AlreadyThere({ day, workOn }: { day: SetUpAlready; workOn: (day_id: string) => void }) {
  return (
    <p class="bar with-key" role="status">
      <span>
        {dateWords(day.held_on)} is set up already{day.by && `, by ${day.by}`}: {day.house}, {day.place}.
      </span>
      <button type="button" onClick={() => workOn(day.day_id)}>
        {WORK_ON_IT}
      </button>
    </p>
  );
}

/** Each day that stands twice: one on which nothing was entered can be let go. */
export function SetUpTwice({ days }: { days: readonly DayRecord[] }) {
  const doubled = days.filter((day) => doublesOf(day, days).length);
  const letGo = days.filter((day) => !isStanding(day));
  return doubled.length || letGo.length ? <Twice {...{ days, doubled, letGo }} /> : null;
}

type TwiceOf = Record<"days" | "doubled" | "letGo", readonly DayRecord[]>;

function Twice({ days, doubled, letGo }: TwiceOf) {
  const [told, setTold] = useState<readonly DayListed[]>([]);
  const begin = useAskedAtNews(async () => {
    const page = await get<DaysPage>("/days").catch(() => null);
    if (page) setTold(page.days);
    return page !== null;
  });
  useEffect(begin, []);
  const visitsOn = (day: DayRecord) => {
    const here = records("visit", day.record_id)?.length ?? 0;
    return Math.max(here, told.find(({ day_id }) => day_id === day.record_id)?.visits ?? 0);
  };
  const [first] = doubled;
  const stillHold = letGo.filter((day) => visitsOn(day) > 0);
  if (!first && !stillHold.length) return null;
  return (
    <section class="bar">
      {first && (
        <p>
          <strong>{dayWords(first)} is set up twice.</strong>{" "}
          {doubled.every((day) => visitsOn(day) > 0)
            ? "There are visits on each, so each stands, and is told by who set it up."
            : "Let go the one on which nothing was entered."}
        </p>
      )}
      <ul class="rows">
        {doubled.map((day) => (
          <OneOfTwo key={day.record_id} {...{ day, days }} visits={visitsOn(day)} />
        ))}
        {stillHold.map((day) => (
          <li key={day.record_id}>
            {dayWords(day)}, {whoSetUp(day, momentWords)}, is let go, and {countWords(visitsOn(day), "visit")}{" "}
            came on it. <WorkOnIt day_id={day.record_id} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function WorkOnIt({ day_id }: { day_id: string }) {
  if (useDevice()?.day_id === day_id) return <>This device works on it.</>;
  return (
    <button type="button" class="quiet" onClick={() => attempt(() => workOnDay(day_id))}>
      {WORK_ON_IT}
    </button>
  );
}

function OneOfTwo({ day, days, visits }: { day: DayRecord; days: readonly DayRecord[]; visits: number }) {
  const device = useDevice();
  const containers = useRecords("container", day.record_id) ?? [];
  const [other] = doublesOf(day, days);
  const letGo = () =>
    attempt(async () => {
      if (!other) return;
      const value = `the one ${whoSetUp(other, momentWords)} goes on`;
      await keep("correct_day", { day_id: day.record_id, field: "let_go", value });
      if (device?.day_id === day.record_id) await workOnDay(other.record_id);
      sayDone(`It is let go: ${value}.`);
    });
  return (
    <li>
      {dateWords(dayFacts(day).held_on)}, {whoSetUp(day, momentWords)}:{" "}
      {visits ? countWords(visits, "visit") : "no visit that this device knows of"}.{" "}
      <WorkOnIt day_id={day.record_id} />{" "}
      {!visits && !containers.length && (
        <button type="button" onClick={letGo}>
          Let it go
        </button>
      )}
    </li>
  );
}
