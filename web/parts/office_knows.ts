/**
 * What only the office can say of a day: devices that still hold something, pictures awaited, its copies and its log.
 */
import { useEffect, useState } from "preact/hooks";
import { isNewsOf, REST } from "../job/day_news.ts";
import type { News } from "../job/desk.ts";
import { get, mayPass, OfficeSays } from "../sync/office.ts";
import { useAskedAtNews } from "./asked_at_news.ts";
import type { FormerCopy } from "./copies.tsx";
import type { Copy } from "./copy_trouble.ts";
import { OF_DAY } from "./day_at_news.ts";
import { useDeviceChanges } from "./office_changes.ts";

/** `holding` is null of a device that has not said; `clock_off_s` how far its clock was ahead when it last sent. */
export type HeardDevice = {
  device_id: string;
  name: string;
  role: string;
  last_seen_at: string | null;
  revoked_at: string | null;
  holding: number | null;
  clock_off_s: number;
};

export type OfficeAnswer = {
  devices: HeardDevice[];
  orphans: string[];
  awaited: { sha256: string; item_id: string }[];
  log: { office_seq: number; chain: string };
  copies: Copy[];
  former: FormerCopy[];
};

type AskedAgain = { again?: number; atNews?: boolean };

/**
 * Asked when a screen is opened, whenever the office itself does otherwise, at each other value of `again`, and
 * `atNews` as something of the day was kept. `problem` is why there is no answer yet.
 */
export function useOfficeKnows(day_id: string, notHeard: string, { again, atNews = false }: AskedAgain) {
  const [answer, setAnswer] = useState<OfficeAnswer | null>(null);
  const [problem, setProblem] = useState("");
  const ask = async () => {
    try {
      setAnswer(await get<OfficeAnswer>(`/closing?${new URLSearchParams({ day_id })}`));
      setProblem("");
    } catch (error) {
      setProblem(error instanceof OfficeSays ? error.message : notHeard);
      return !mayPass(error);
    }
    return true;
  };
  const of = (news: News) => atNews && isNewsOf(day_id, news);
  const want = useAskedAtNews(ask, { of, rest: REST, ...(atNews && { turn: OF_DAY }) });
  useDeviceChanges(want);
  useEffect(want, [day_id, again]);
  return { answer, problem };
}

/** How far a clock was ahead of the office's, in words, with no more exactness than matters. */
export function clockOffWords(seconds: number) {
  const minutes = Math.round(Math.abs(seconds) / 60);
  const days = Math.round(minutes / 1440);
  const [amount, unit] =
    days >= 2 ? [days, "days"] : minutes >= 120 ? [Math.round(minutes / 60), "hours"] : [minutes, "min"];
  return `${amount} ${unit} ${seconds > 0 ? "ahead" : "behind"}`;
}
