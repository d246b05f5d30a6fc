/** A number from its tag: scanned, or keyed in as it stands under the code. */

import { useState } from "preact/hooks";
import { parseTag, tagInQr } from "../job/tag.ts";
import { errorWords } from "../job/words.ts";
import { Scanner } from "./scanner.tsx";

type TagEntryOf = {
  found: (tag: string) => void;
  /** The scanner is opened by the label of the screen. */
  scanning: boolean;
  setScanning: (open: boolean) => void;
  /** What was typed of it before the page was opened anew, and where it is held. */
  begun?: string;
  hold?: (typed: string) => unknown;
};

/** Scan or key in a tag. */
export function TagEntry({ found, scanning, setScanning, begun = "", hold }: TagEntryOf) {
  const [typed, setTyped] = useState(begun);
  const problem = problemOf(typed);
  const type = (text: string) => {
    setTyped(text);
    hold?.(text);
    if (text && problemOf(text) === null) found(parseTag(text));
  };
  return (
    <>
      {scanning && (
        <Scanner found={(text: string) => found(tagInQr(text))} close={() => setScanning(false)} />
      )}
      <div class={problem ? "field is-wrong" : "field"}>
        <label for="tag">Key in the tag's number</label>
        <p class="hint" id="tag-hint" role="status">
          {problem || "Or scan it: six characters under the code, such as 7K3-QW5"}
        </p>
        <input
          id="tag"
          class="code"
          value={typed}
          onInput={(event) => type(event.currentTarget.value)}
          autocomplete="off"
          autocapitalize="characters"
          spellcheck={false}
          aria-describedby="tag-hint"
          maxLength={9}
        />
      </div>
    </>
  );
}

/** What is wrong with a typed tag: nothing (null) if it is one, "" while it is too short to say. */
function problemOf(typed: string) {
  try {
    parseTag(typed);
    return null;
  } catch (error) {
    const short = typed.replace(/[\s-]/g, "").length < 6;
    if (short && /^[\s0-9a-z-]*$/i.test(typed)) return "";
    return errorWords(error);
  }
}
