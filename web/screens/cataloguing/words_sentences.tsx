/** The sentences of a text in a row, as they will be read; one can be taken in hand by tap or by key. */

import { useLayoutEffect, useRef } from "preact/hooks";
import { isAdded, type Line } from "../../job/desk_words.ts";
import { asText } from "../../job/sentences.ts";

type SentencesOf = {
  label: string;
  lines: Line[];
  chosen: string;
  choose: (sentence: string) => void;
  move: (line: Line, by: -1 | 1) => unknown;
};

const STEPS: Record<string, -1 | 1> = { ArrowUp: -1, ArrowLeft: -1, ArrowDown: 1, ArrowRight: 1 };

const TEXTS = ".words [role=listbox]";
const SENTENCE = "[role=option]";

export function Sentences({ label, lines, chosen, choose, move }: SentencesOf) {
  const list = useRef<HTMLDivElement>(null);
  const options = () => list.current?.querySelectorAll<HTMLElement>(SENTENCE) ?? [];
  useLayoutEffect(() => {
    // A sentence that was moved lost the focus on its way.
    const at = lines.findIndex(({ sentence }) => sentence === chosen);
    if (at >= 0 && document.activeElement === document.body) options()[at]?.focus();
  }, [lines.map(({ sentence }) => sentence).join()]);
  const press = (line: Line, at: number) => (event: KeyboardEvent) => {
    const by = STEPS[event.key];
    if (event.ctrlKey || event.metaKey) return;
    if (by && event.altKey) move(line, by);
    else if (by) goTo(at + by);
    else if (event.key === "Enter" || event.key === " ") toggle(line);
    else return;
    event.preventDefault();
    event.stopPropagation(); // the desk's own arrows go through the queue
  };
  const goTo = (at: number) => {
    const next = lines[at];
    if (!next) return goToText(at < 0 ? -1 : 1);
    choose(next.sentence);
    options()[at]?.focus();
  };
  /** From the heading on to the description, and back. */
  const goToText = (by: -1 | 1) => {
    const texts = [...document.querySelectorAll<HTMLElement>(TEXTS)];
    const there =
      texts[texts.indexOf(list.current as HTMLElement) + by]?.querySelectorAll<HTMLElement>(SENTENCE);
    const sentence = there && [...there].at(by < 0 ? -1 : 0);
    if (!sentence) return;
    choose("");
    sentence.focus();
    if (sentence.getAttribute("aria-selected") !== "true") sentence.click();
  };
  const toggle = ({ sentence }: Line) => choose(sentence === chosen ? "" : sentence);
  const reached = lines.some(({ sentence }) => sentence === chosen) ? chosen : lines[0]?.sentence;
  return (
    <div class="text" role="listbox" aria-label={label} ref={list}>
      {lines.flatMap((line, at) => [
        <span
          key={line.sentence}
          role="option"
          class={classOf(line)}
          aria-selected={line.sentence === chosen}
          tabIndex={line.sentence === reached ? 0 : -1}
          onClick={() => toggle(line)}
          onKeyDown={press(line, at)}
        >
          {line.version?.version === "struck" && <span class="unseen">Struck: </span>}
          {line.words || asText(line.recorded) || (isAdded(line) ? "…" : "(nothing)")}
        </span>,
        " ",
      ])}
    </div>
  );
}

function classOf({ version, differs }: Line) {
  return [version?.version ?? "", differs ? "differs" : ""].join(" ").trim();
}
