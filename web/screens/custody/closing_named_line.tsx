/** A difference of a closing by its name, and what others had said of it. */

import type { ComponentChildren } from "preact";

type NamedLineOf = { words: string; at?: string | undefined; children: ComponentChildren };

/** A difference by its name, which leads to it where it can be opened, and beside it what is known of it. */
export function NamedLine({ words, at, children }: NamedLineOf) {
  const [what, which] = apart(words);
  return (
    <span class="named-line">
      <span>
        {at ? <a href={at}>{what}</a> : what}
        {which && <small>{which}</small>}
      </span>
      {children}
    </span>
  );
}

/** A line of several things is a paragraph that nobody presses: what is so of them leads there, their names follow. */
const LONGEST_LINE = 160;
/** Where a ticket ends nothing is said of it yet. */
const A_TICKET = 12;

function apart(words: string): [what: string, which: string] {
  const end = words.length > LONGEST_LINE ? words.indexOf(": ", A_TICKET) : -1;
  return end < 0 ? [words, ""] : [words.slice(0, end + 1), words.slice(end + 2)];
}

/** What others had said of it, where that is another word. */
export function SaidBeside({ said }: { said: readonly { by: string; reason: string }[] | undefined }) {
  return (
    <>
      {said?.map(({ by, reason }) => (
        <small key={by}>
          {by} said: “{reason}”
        </small>
      ))}
    </>
  );
}
