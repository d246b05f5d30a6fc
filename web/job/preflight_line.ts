/** One line of the page before the doors open. */

export type Ready = { ready: boolean; words: string; todo: string; at: string };

export function line(ready: boolean, words: string, todo = "", at = ""): Ready {
  return { ready, words, todo: ready ? "" : todo, at };
}
