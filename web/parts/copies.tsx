/** How each second place of the office is doing: what it says, what it lacks, and what to do. */
import { countWords } from "../job/words.ts";
import { type Copy, markOf } from "./copy_trouble.ts";
import { Mark } from "./mark.tsx";
import { bytesWords, momentWords } from "./moments.ts";

/**
 * A copy that is kept up to date no longer; `copy_id` tells it from others that were in the same folder, `erasures` is
 * how many were made since it was written last.
 */
export type FormerCopy = {
  folder: string;
  copy_id: string | null;
  sealed: boolean;
  sealed_to: string | null;
  complete_at: string | null;
  erasures: number;
};

/** What opens a copy: `of` is what the paper of the office's present key says, where it is known here. */
function Sealed({ copy, of }: { copy: Pick<Copy, "sealed" | "sealed_to">; of?: string | null | undefined }) {
  if (!copy.sealed) return null;
  if (!copy.sealed_to) return <small>sealed</small>;
  return (
    <small>
      sealed: opened by the {of === undefined || copy.sealed_to === of ? "" : "older "}paper that says{" "}
      <span class="address">{copy.sealed_to}…</span>
    </small>
  );
}

/** The folder of the copy in which this one was set aside to begin anew; empty if it lies by itself. */
export function setAsideIn({ folder }: FormerCopy) {
  return /^(.+)[/\\]before-[^/\\]*$/.exec(folder)?.[1] ?? "";
}

/** `alike`: another copy is listed under the same folder. */
type FormerWordsOf = { copy: FormerCopy; of?: string | null; alike?: boolean };

export function FormerWords({ copy, of, alike = false }: FormerWordsOf) {
  const { complete_at, erasures } = copy;
  const lies_in = setAsideIn(copy);
  return (
    <span class="what">
      <span class="address">{copy.folder}</span> <Sealed copy={copy} of={of} />
      {alike && <NumberWords copy={copy} />}
      <small>
        Kept up to date no longer;{" "}
        {complete_at
          ? `it last had everything ${momentWords(complete_at)}`
          : "since when it has not had everything is not known"}
        .
      </small>
      {erasures > 0 && (
        <small class="check-words wrong">
          <Mark state="not-good" /> It may still hold words of owners that were erased since (
          {countWords(erasures, "erasure")}).{" "}
          {lies_in
            ? `They go from it as the copy in ${lies_in} is next brought up to date.`
            : alike
              ? "Plug it in for a moment in the place of the other one, or destroy it."
              : "Keep it up to date again until they are gone, or destroy it."}
        </small>
      )}
    </span>
  );
}

/** Which of several copies that came in turn to one folder this is. */
function NumberWords({ copy: { copy_id } }: { copy: { copy_id: string | null } }) {
  return (
    <small>
      {copy_id
        ? `One of several that were in this folder: number ${copy_id.slice(0, 8)}, as its file head-0.json says.`
        : "One of several that were in this folder."}
    </small>
  );
}

type CopyWordsOf = { copy: Copy; of?: string | null; alike?: boolean };

export function CopyWords({ copy, of, alike = false }: CopyWordsOf) {
  const state = markOf(copy);
  return (
    <span class="what">
      <span class="address">{copy.folder}</span> <Sealed copy={copy} of={of} />
      {alike && <NumberWords copy={copy} />}
      <small class={state === "not-good" ? "check-words wrong" : "check-words"}>
        <Mark state={state} /> {copy.says} <WithCommands words={copy.hint} />
      </small>
      <small>
        {copy.complete_at
          ? `It last had everything ${momentWords(copy.complete_at)}.`
          : "It has never had everything yet."}{" "}
        {copy.state !== OF_A_LATER_STATE && lacks(copy.lag)}
      </small>
      {copy.same_disk && (
        <small class="check-words wrong">
          <Mark state="not-good" /> This folder does not count as a second place: for all the office can tell
          it is on its own disk, or in its memory, and is lost with it. Phones let go of nothing for its sake.
          Take a stick, a second disk or a folder on the network.
        </small>
      )}
    </span>
  );
}

/** Words with commands in them, each beginning a line of its own: whoever types it reads it whole. */
function WithCommands({ words }: { words: string }) {
  const parts = words.replace(/`[.,](?= |$)/g, "`").split("`"); // a line of its own needs no stop behind it
  return <>{parts.map((part, index) => (index % 2 ? <code class="command">{part}</code> : part))}</>;
}

/** Its counts are of a log that the office has no longer: beside the office's they say nothing. */
const OF_A_LATER_STATE = "forgotten";

/** What it still has to get, in words; erasures first, since they are owed to somebody. */
function lacks({ operations, erasures, photos, bytes }: Copy["lag"]) {
  const parts = [
    erasures && `${countWords(erasures, "erasure")} of owners' words`,
    operations && countWords(operations, "record"),
    photos && `${countWords(photos, "picture")}, small ones counted as well (${bytesWords(bytes)})`,
  ].filter(Boolean);
  return parts.length ? `It lacks: ${parts.join(", ")}.` : "";
}
