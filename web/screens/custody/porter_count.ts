/**
 * A porter's count: what is done with what is scanned, and what was scanned. It outlives the screen until it is
 * recorded.
 */
import { useRef } from "preact/hooks";
import { thingWith, toWords } from "../../job/custody.ts";
import type { Load } from "../../job/loads.ts";
import { asOneName } from "../../job/one_name.ts";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { enteredIn, enterInJournal, holdForm } from "../../local/held.ts";
import { countOf, isOwedOf } from "../../local/owed_count.ts";
import { attempt } from "../../parts/notices.tsx";
import { sound } from "../../parts/sounds.ts";
import { useLatest } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import type { Aim } from "./porter_aim.tsx";
import { doAsAimed, type Scanned } from "./porter_scan.ts";
import { takeOut } from "./porter_undo.ts";

const BLANK: Aim = {
  work: "move",
  to: "holding",
  at: "",
  given: "",
  container: "",
  kind_of: "box",
  of_load: "",
};

/**
 * A load has come: what is scanned next came with it to the store, given by whoever drove it, or by nobody else where
 * that is who is at this device (`me`). The count of another load
 * that is not recorded yet is not broken off, since two in one count could not be told apart: it throws, and says so.
 */
export async function countAsCome(
  day_id: string,
  { id: of_load, value }: Pick<Load, "id" | "value">,
  me: string,
): Promise<void> {
  const held = enteredIn(countOf(day_id)) as { aim?: Aim; scanned?: Scanned[] } | undefined;
  const before = { ...BLANK, ...held?.aim };
  if (isOwedOf(before, held?.scanned ?? [])) {
    if (before.of_load === of_load) return; // it is being counted: on with that
    throw new Error(
      `Another count is open here, ${toWords(before.to, before.at)}, and not recorded yet. Record it under Porter ` +
        "first, or begin another count there; then this load can be counted.",
    );
  }
  const driver = value.driver?.trim() ?? "";
  const isMe = me !== "" && asOneName(driver) === asOneName(me);
  const given = isMe ? { given: me, alone: me } : { given: driver, alone: "" };
  const aim: Aim = { ...before, work: "move", to: "store", at: "", again: "", ...given, of_load };
  enterInJournal(countOf(day_id), { aim, scanned: [] });
  await holdForm(countOf(day_id));
}

/**
 * What was packed and sealed is moved next, and the count into it is over. One that is not recorded yet is not broken
 * off: it is gone on with.
 */
export async function countAsMoved(day_id: string): Promise<void> {
  const held = enteredIn(countOf(day_id)) as { aim?: Aim; scanned?: Scanned[] } | undefined;
  const before = { ...BLANK, ...held?.aim };
  if (isOwedOf(before, held?.scanned ?? [])) return;
  const to = before.work === "move" ? before.to : "van";
  const aim: Aim = { ...before, work: "move", to, container: "", of_load: "", again: "" };
  enterInJournal(countOf(day_id), { aim, scanned: [] });
  await holdForm(countOf(day_id));
}

type CountOf = { day_id: string; items: ItemRecord[]; containers: ContainerRecord[]; me: string };

export type Count = {
  /** The day of what counts so far; "" while nothing does. */
  day_id: string;
  aim: Aim;
  setAim: (patch: Partial<Aim>) => void;
  /** The newest first, also what did not count. */
  scanned: Scanned[];
  count: (tag: string, is?: Aim["kind_of"]) => Promise<void>;
  /** Take the newest that counts out again. */
  out: () => void;
  /** Go on from what was counted before, to count it again. */
  resume: (scanned: Scanned[]) => void;
  /** Begin another count; what was put on record stays there. */
  begin: (patch?: Partial<Aim>) => void;
};

/** The day of what was scanned first: a load is of one day, and so is a count of it. */
function dayOfFirst(scanned: readonly Scanned[], { items, containers }: CountOf) {
  const first = scanned.findLast(({ done }) => done);
  return first?.of_day ?? (first && thingWith(first.tag, items, containers)?.day_id) ?? "";
}

function containerOf(tag: string, containers: ContainerRecord[]) {
  return containers.find(({ number }) => number === tag);
}

/** Numbers are counted one after the other: each waits for the one before, so that two quick scans are two rows. */
export function useCount(of: CountOf): Count {
  const { form, set } = useHeld<{ aim: Aim; scanned: Scanned[] }>(countOf(of.day_id), {
    aim: BLANK,
    scanned: [],
  });
  const busy = useRef(Promise.resolve());
  const now = useRef(form); // what the screen shows may be a scan behind
  const latest = useLatest(of);
  const scan = () => ({
    ...{ ...latest.current, aim: now.current.aim },
    of_day: dayOfFirst(now.current.scanned, latest.current),
  });
  const put = (scanned: Scanned[]) => {
    now.current = { ...now.current, scanned };
    return set("scanned")(scanned);
  };
  const countNow = async (tag: string, is?: Aim["kind_of"]) => {
    const isCounted = now.current.scanned.some((row) => row.done && row.tag === tag);
    const { aim } = now.current;
    const into = aim.work === "inside" && !aim.container && containerOf(tag, latest.current.containers);
    if (into) {
      sound(true);
      return setAim({ container: into.record_id });
    }
    const row = isCounted
      ? { tag, words: "was counted already", done: null }
      : await doAsAimed(tag, { ...scan(), is });
    sound(Boolean(row.done));
    // What was said against it before is so no more, or is said again.
    await put([row, ...now.current.scanned.filter((before) => before.done || before.tag !== tag)]);
  };
  const outNow = async () => {
    const newest = now.current.scanned.find(({ done }) => done);
    if (!newest) return;
    await takeOut(newest, scan());
    await put(now.current.scanned.filter((row) => row !== newest));
  };
  const inTurn = (work: () => Promise<unknown>) => {
    busy.current = busy.current.then(async () => {
      await attempt(work);
    });
    return busy.current;
  };
  const setAim = (patch: Partial<Aim>) => {
    const aim = { ...now.current.aim, ...patch };
    now.current = { ...now.current, aim };
    attempt(() => set("aim")(aim));
  };
  return {
    day_id: dayOfFirst(form.scanned, of),
    aim: form.aim,
    setAim,
    scanned: form.scanned,
    count: (tag, is) => inTurn(() => countNow(tag, is)),
    out: () => inTurn(outNow),
    resume: (scanned) => attempt(() => put(scanned)),
    begin: (patch = {}) => {
      setAim({ of_load: "", again: "", ...patch });
      attempt(() => put([]));
    },
  };
}
