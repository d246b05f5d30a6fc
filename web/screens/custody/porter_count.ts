/**
 * A porter's count: what is done with what is scanned, and what was scanned. It outlives the screen until it is
 * recorded.
 */
import { useRef } from "preact/hooks";
import type { ContainerRecord, ItemRecord } from "../../job/types.ts";
import { enteredIn, enterInJournal, holdForm } from "../../local/held.ts";
import { attempt } from "../../parts/notices.tsx";
import { sound } from "../../parts/sounds.ts";
import { useLatest } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import type { Aim } from "./porter_aim.tsx";
import { doAsAimed, type Scanned, takeOut } from "./porter_scan.ts";

const BLANK: Aim = {
  work: "move",
  to: "holding",
  at: "",
  given: "",
  container: "",
  kind_of: "box",
  of_load: "",
};

const nameOf = (day_id: string) => `porter ${day_id}`;

/** A load has come: what is scanned next came with it to the store. A count that was begun is not broken off. */
export async function countAsCome(day_id: string, of_load: string): Promise<void> {
  const held = enteredIn(nameOf(day_id)) as { aim?: Aim; scanned?: Scanned[] } | undefined;
  if (held?.scanned?.length) return;
  const aim: Aim = { ...BLANK, ...held?.aim, work: "move", to: "store", at: "", of_load };
  enterInJournal(nameOf(day_id), { aim, scanned: [] });
  await holdForm(nameOf(day_id));
}

type CountOf = { day_id: string; items: ItemRecord[]; containers: ContainerRecord[]; me: string };

export type Count = {
  aim: Aim;
  setAim: (patch: Partial<Aim>) => void;
  /** The newest first, also what did not count. */
  scanned: Scanned[];
  count: (tag: string) => Promise<void>;
  /** Take the newest that counts out again. */
  out: () => void;
  /** Go on from what was counted before, to count it again. */
  resume: (scanned: Scanned[]) => void;
  /** Begin another count; what was put on record stays there. */
  begin: (patch?: Partial<Aim>) => void;
};

function containerOf(tag: string, containers: ContainerRecord[]) {
  return containers.find(({ number }) => number === tag);
}

/** Numbers are counted one after the other: each waits for the one before, so that two quick scans are two rows. */
export function useCount(of: CountOf): Count {
  const { form, set } = useHeld<{ aim: Aim; scanned: Scanned[] }>(nameOf(of.day_id), {
    aim: BLANK,
    scanned: [],
  });
  const busy = useRef(Promise.resolve());
  const now = useRef(form); // what the screen shows may be a scan behind
  const latest = useLatest(of);
  const scan = () => ({ ...latest.current, aim: now.current.aim });
  const put = (scanned: Scanned[]) => {
    now.current = { ...now.current, scanned };
    return set("scanned")(scanned);
  };
  const countNow = async (tag: string) => {
    const isCounted = now.current.scanned.some((row) => row.done && row.tag === tag);
    const { aim } = now.current;
    const into = aim.work === "inside" && !aim.container && containerOf(tag, latest.current.containers);
    if (into) {
      sound(true);
      return setAim({ container: into.record_id });
    }
    const row = isCounted ? { tag, words: "was counted already", done: null } : await doAsAimed(tag, scan());
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
    aim: form.aim,
    setAim,
    scanned: form.scanned,
    count: (tag) => inTurn(() => countNow(tag)),
    out: () => inTurn(outNow),
    resume: (scanned) => attempt(() => put(scanned)),
    begin: (patch = {}) => {
      setAim({ of_load: "", again: "", ...patch });
      attempt(() => put([]));
    },
  };
}
