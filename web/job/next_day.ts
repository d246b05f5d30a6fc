/**
 * Which day a device is led to, and days that were set up twice: two managers out of each other's reach each set up
 * tomorrow, and neither is told.
 */
import { dayFacts, dayWords, namesOn } from "./day_facts.ts";
import { asOneName } from "./one_name.ts";
import type { DayRecord } from "./types.ts";
import { fieldValue, instant } from "./values.ts";

const heldOn = (day: DayRecord) => dayFacts(day).held_on;
const isOpen = (day: DayRecord) => !fieldValue(day, "closed");

/** Whether nobody has let it go. */
export function isStanding(day: DayRecord) {
  return !fieldValue(day, "let_go");
}

/** The others that stand of its date, house and place. */
export function daysAlike(day: DayRecord, days: readonly DayRecord[]): DayRecord[] {
  const facts = (one: DayRecord) => {
    const { held_on, house, place } = dayFacts(one);
    return [held_on, house, place].map(asOneName).join("; ");
  };
  return days.filter((other) => other !== day && isStanding(other) && facts(other) === facts(day));
}

const setUpAt = ({ opened_at = "", record_id }: DayRecord) => `${instant(opened_at)} ${record_id}`;

/** Those that were set up before somebody had closed the other one: a day that is held in two parts is none of them. */
export function doublesOf(day: DayRecord, days: readonly DayRecord[]): DayRecord[] {
  if (!isStanding(day)) return [];
  const closedAt = ({ fields: { closed } }: DayRecord) => (closed ? instant(closed.made_at) : "~");
  return daysAlike(day, days).filter(
    (other) => setUpAt(other) < closedAt(day) && setUpAt(day) < closedAt(other),
  );
}

/** A double to which nobody is led: another of them is closed, or was set up first. */
function givesWay(day: DayRecord, days: readonly DayRecord[]) {
  return doublesOf(day, days).some((other) => !isOpen(other) || setUpAt(other) < setUpAt(day));
}

/**
 * The day that is led to from this one, closed or not yet: set up, open itself and held later; from a closed one also
 * on its own date, from one of another date also that of `today`. Today's comes first, then the next to be held, then
 * the one held last: who closes a day comes the morning after, and its doors would go on writing into yesterday. From
 * one that was let go it is the one that goes on in its place.
 */
export function dayAfter(day: DayRecord, days: readonly DayRecord[], today: string): DayRecord | undefined {
  const own = heldOn(day);
  const [isClosed, isLetGo] = [!isOpen(day), !isStanding(day)];
  const after = days.filter((other) => {
    if (other === day || !isOpen(other) || !isStanding(other) || givesWay(other, days)) return false;
    const at = heldOn(other);
    return at > own || (at === own && (isClosed || isLetGo)) || (at === today && own !== today);
  });
  if (isLetGo) {
    const [instead] = after.filter((other) => daysAlike(day, days).includes(other));
    if (instead) return instead;
  }
  const isOver = (one: DayRecord) => heldOn(one) < today;
  return after.sort((a, b) => {
    if (isOver(a) !== isOver(b)) return isOver(a) ? 1 : -1;
    return heldOn(a).localeCompare(heldOn(b)) * (isOver(a) ? -1 : 1);
  })[0];
}

/** Whether it is time to go there: nobody is to be led into tomorrow by the key that they press without looking. */
export function isDue(next: DayRecord, from: DayRecord, today: string) {
  return !isOpen(from) || !isStanding(from) || heldOn(next) <= today;
}

/** "set up by Alec Frome, 30 Nov, 17:02"; `at` says an instant in words. */
export function whoSetUp(day: DayRecord, at: (instant: string) => string) {
  const { opened_by = "", opened_at } = day;
  return `set up by ${namesOn(day)(opened_by)}${opened_at ? `, ${at(opened_at)}` : ""}`;
}

/** A day in one line, and who set it up where another one has the same line. */
export function dayWordsApart(day: DayRecord, days: readonly DayRecord[], at: (instant: string) => string) {
  return dayWords(day) + (daysAlike(day, days).length ? `, ${whoSetUp(day, at)}` : "");
}
