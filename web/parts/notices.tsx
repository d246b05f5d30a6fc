/** One line at a time to the person: what was done, with a way back, or what went wrong and what to do. */
import { useEffect, useState } from "preact/hooks";

export type Notice = { words: string; wrong: boolean; undo?: () => unknown };

let current: Notice | null = null;
const watchers: Set<() => void> = new Set();
let timer: ReturnType<typeof setTimeout> | undefined;
const SHOWN_MS = 7000;

function show(notice: Notice | null) {
  current = notice;
  clearTimeout(timer);
  if (notice && !notice.wrong) timer = setTimeout(() => show(null), SHOWN_MS);
  for (const watcher of watchers) watcher();
}

/** Say what was done. */
export function sayDone(words: string, undo?: () => unknown) {
  show({ words, wrong: false, ...(undo ? { undo } : {}) });
}

/** What was done belongs to the page it was done on: a link that leads on takes it away, unless it can be undone. */
addEventListener("click", ({ target }) => {
  const leadsOn = target instanceof Element && target.closest("a[href]");
  if (leadsOn && current && !current.wrong && !current.undo) show(null);
});

/** Say what went wrong; it stays until it is read. */
export function sayWrong(error: unknown) {
  const words = error instanceof Error ? error.message : String(error);
  const hint = error instanceof Error && "hint" in error ? ` ${error.hint}` : "";
  show({ words: words + hint, wrong: true });
}

/** Do something on a tap; what goes wrong is said, never swallowed. */
export async function attempt<T>(work: () => Promise<T>): Promise<T | undefined> {
  try {
    return await work();
  } catch (error) {
    sayWrong(error);
    return undefined;
  }
}

export function Notices() {
  const [notice, setNotice] = useState(current);
  useEffect(() => {
    const watcher = () => setNotice(current);
    watchers.add(watcher);
    return () => void watchers.delete(watcher);
  }, []);
  const undo = notice?.undo;
  return (
    <div class="notices" aria-live="polite">
      {notice && (
        <div class={notice.wrong ? "notice wrong" : "notice"} role={notice.wrong ? "alert" : "status"}>
          <p>{notice.words}</p>
          {undo && (
            <button
              type="button"
              class="quiet"
              onClick={() => {
                show(null);
                attempt(async () => undo());
              }}
            >
              Undo
            </button>
          )}
          <button type="button" class="quiet" onClick={() => show(null)}>
            {notice.wrong ? "I have read it" : "Close"}
          </button>
        </div>
      )}
    </div>
  );
}
