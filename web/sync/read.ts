/** Reading from the office: the feed of records, whose words were erased, the plans. */
import type { RecordCopy } from "../job/types.ts";
import { beginReading, letGoOfOtherDays, takeUpWork } from "../local/day.ts";
import { noteAnswered } from "../local/day_over.ts";
import { dayOfWork, type Paired, rememberDevice } from "../local/device.ts";
import {
  dropErasedWords,
  type Erasure,
  isBehindInErasures,
  storeErasures,
  tellErasures,
} from "../local/erasures.ts";
import { storeFeed } from "../local/feed.ts";
import { daysOfAnswered } from "../local/keeping.ts";
import { device, waiting } from "../local/memory.ts";
import { forgetErased } from "../local/opened.ts";
import { plansTag, storePlans } from "../local/plans.ts";
import { ask, get, OfficeSays } from "./office.ts";
import { behind, hear, knowing, rememberClock, round, type Says } from "./round.ts";
import { holding } from "./status.ts";

export type FeedPage = Says & {
  records: RecordCopy[];
  cursor: number;
  epoch: string;
  more: boolean;
  day_id?: string;
  awaits?: readonly string[];
  day_over?: boolean;
  office_time: string;
  /** What the asker is to the office; one of before does not say it. */
  device?: Paired;
};

/** A page of the feed has come by then, as a rule; a clock that is off by less changes nothing (CLOCK_OFF_S). */
const LONGEST_PAGE_MS = 60_000;

/** How much the office was last told that this device holds. */
let toldHolding = -1;

/** Whether the office is to hear that this device holds more or less than it was told. */
export function holdsOtherwise() {
  return holding() !== toldHolding;
}

/**
 * One that was signed off reads nothing until it is paired again: an office put back from an older copy may not
 * know of it. It asks whether it is off still, and of what comes with the answer it reads alone whether it was paired
 * since, so that an answer to that which was lost costs no second code. So it is with one that is signed off in the
 * middle of a long reading.
 */
export async function readFeed() {
  if (owesForgetting && !device.peek()?.revoked) await forgetShown();
  for (;;) {
    if (device.peek()?.revoked) {
      const { device: paired } = await get<FeedPage>("/sync/feed?limit=1");
      if (!isPairedSince(paired)) return;
      await takeUpWork({ ...paired, revoked: false });
      continue;
    }
    await beginReading();
    const known = device.peek();
    if (!known) return;
    const held = holding();
    const untold = waiting.peek().filter((op) => !op.waits).length;
    const { table_id, person_id } = known;
    const day_id = dayOfWork(known);
    const work = `&${new URLSearchParams({ day_id, table_id, by: person_id })}`;
    const [path, asked] = knowing(
      `/sync/feed?after=${known.cursor}&limit=500&holding=${held}&to_send=${untold}${work}`,
    );
    const page = await get<FeedPage>(path);
    if (isOther(page)) {
      await takeUpWork({ ...page.device, revoked: false });
      continue;
    }
    const paired_at = page.device?.paired_at;
    if (paired_at && paired_at !== known.paired_at) await rememberDevice({ paired_at });
    toldHolding = held;
    round.officeTime = page.office_time;
    // Whoever has sent nothing yet writes by it as well: what is made by a clock that is behind may be taken for older
    // than it is. One that is ahead is put right as it sends, and nothing that it made until then comes out of order.
    if (behind(page.office_time) > LONGEST_PAGE_MS) await rememberClock(page.office_time);
    if (await hear(page, asked)) continue; // it is read from the start, over what is here
    const now = device.peek();
    // It was signed off, or other work was chosen meanwhile.
    if (!now || now.revoked || dayOfWork(now) !== day_id || now.table_id !== table_id) continue;
    if (!page.day_over) await noteAnswered();
    await storeFeed(page);
    if (page.more) continue;
    if (page.day_id === undefined) return; // an office of before tells of every day, and takes none away
    const gone = await letGoOfOtherDays(Boolean(page.day_over), page.office_time);
    if (gone) await forgetShown();
    await noteAnswered(); // what stays is owed
    const still = device.peek();
    const comesBack = !page.day_over && Boolean(day_id) && now.day_left === day_id;
    if (!still || (!comesBack && [page.day_id, day_id].includes(dayOfWork(still)))) return;
    // Its day is over: it reads what is to come. Or it is not over after all: it reads that from the start.
  }
}

/**
 * Whether the office knows this device as another one, or by other work: the answer to its pairing was lost behind the
 * cookie. What it has read since is not for what it was, and what it holds may not be for what it is.
 */
export function isOther({ device: paired }: FeedPage) {
  const known = device.peek();
  return Boolean(paired && known && (paired.device_id !== known.device_id || paired.role !== known.role));
}

/** Whether one that was signed off was paired anew since, though that answer was lost: no older copy says so. */
function isPairedSince(paired: Paired | undefined) {
  const { paired_at: before } = device.peek() ?? {};
  return Boolean(before && paired?.paired_at && paired.paired_at > before);
}

/** The office's word to the browser was asked for, and has not come yet. */
let owesForgetting = false;

/**
 * The browser keeps pictures of its own accord, which only the office's word takes from it. An answer may be lost on
 * its way: then it is asked for again with the next feed.
 */
export async function forgetShown() {
  owesForgetting = true;
  owesForgetting = await ask("/sync/forget", { method: "POST" }).then(
    () => false,
    (error) => !(error instanceof OfficeSays),
  );
}

/** Whether operations may be kept here with words that were erased: before the first look, and after each answer. */
let mayHaveErased = true;

export function lookForErased() {
  mayHaveErased = true;
}

/**
 * Hear whose words were erased, and let go of those here; an office that has forgotten is told of it. The browser may
 * keep a small picture of such a visit: it forgets first, since an erasure that was heard is not heard again.
 */
export async function hearErasures() {
  const behind = isBehindInErasures();
  if (behind) {
    const { erasures } = await get<{ erasures: Erasure[] }>("/sync/erasures");
    await forgetShown();
    if (owesForgetting) return; // no line: all of it with the next round
    await forgetErased(erasures.map(({ record_id }) => record_id));
    await storeErasures(erasures);
  }
  if (behind || mayHaveErased) await dropErasedWords();
  mayHaveErased = false;
  await tellErasures();
}

/**
 * A device that was signed off hears what it may let go of, and nothing else: where the office stands, which days of
 * what it sent are settled for good, and whose words were erased. Null if the office has lost something: then nothing
 * goes.
 */
export async function hearWhatMayGo(): Promise<readonly string[] | null> {
  const days = await daysOfAnswered();
  const [path, asked] = knowing(`/sync/standing?${new URLSearchParams({ days: days.join(",") })}`);
  const heard = await get<Says & { office_time: string; settled: string[] }>(path);
  round.officeTime = heard.office_time;
  if (await hear(heard, asked)) return null;
  await hearErasures();
  return heard.settled;
}

export async function readPlans() {
  if (device.peek()?.revoked) return;
  const tag = plansTag();
  const response = await ask("/plans", tag ? { headers: { "If-None-Match": tag } } : {});
  if (response.status !== 304) await storePlans(await response.json(), response.headers.get("ETag"));
}
