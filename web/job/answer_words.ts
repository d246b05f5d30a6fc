/** An answer as one text. */
import type { Sentence } from "./sentences.ts";

/** What was looked for in vain, in one sentence without stops of its own: none that is not settled. */
const DENIED = /^(?:Before (?:it was|they were) checked in, n|N)o [^;:.]+\.$/;
const AND_NONE = ", and none ";
const NO_FAULT =
  /^(?:Before (?:it was|they were) checked in, n|N)o (further )?(such )?fault noted on (.+)\.$/;
const NOTHING =
  /^(?:Before (?:it was|they were) checked in, n|N)othing further (?:of the kind )?noted on [^;:.]+\.$/;
/** How something was looked at, where a sentence ends with it. */
const HOW = / (?:under|in low|with|through|when) [^,]+$/;
/** The same where it stands before what was looked for: "seen under a lamp that the sheet is laid down". */
const HOW_THAT = / seen( .+?) that /;
const NO_LATER = /^No sign of later work noted on (.+)\.$/;

/**
 * Its sentences behind each other. That something was looked for on a zone, and that nothing else is wrong there, are
 * one: nobody reads of the same zones twice running that there is nothing.
 */
export function answerInWords(answer: readonly Sentence[]): string {
  const texts: string[] = [];
  for (const [at, one] of answer.entries()) {
    const joined = joinedWith(answer[at - 1], one, texts.at(-1) ?? "");
    if (joined) texts[texts.length - 1] = joined;
    else texts.push(one.words);
  }
  return texts.join(" ");
}

/** "No chip seen on the tiles under a lamp, nor any other such fault on the tiles or the glaze"; null if not alike. */
function joinedWith(before: Sentence | undefined, { words, keys }: Sentence, said: string): string | null {
  const [, further = "", such = "", faultless = ""] = NO_FAULT.exec(words) ?? [];
  const [, unchanged = ""] = said.startsWith("No sign") ? (NO_LATER.exec(words) ?? []) : [];
  const rest = faultless || unchanged;
  if (before && faultless && NOTHING.test(said))
    return nothingWith(said.slice(0, -1), faultless, further + such);
  if (!before || !rest || said !== before.words || !DENIED.test(said) || said.includes(AND_NONE)) return null;
  const zones = keys.map((key) => key.replace(/^clear\//, "denials/"));
  const isOnOne = before.keys.some((key) => zones.some((zone) => key.startsWith(`${zone}/`)));
  if (!isOnOne || !before.keys.every((key) => key.startsWith("denials/"))) return null;
  const denied = said.slice(0, -1);
  const how = HOW_THAT.exec(denied)?.[1] ?? HOW.exec(denied)?.[0] ?? "";
  const seen = how && rest.endsWith(how) ? rest.slice(0, -how.length) : rest;
  const where = how ? seen.replace(`${how}, or `, " or ") : seen;
  // Of one zone its name stands there already.
  const isSame =
    !HOW_THAT.test(denied) &&
    keys.length === 1 &&
    !/,| or | and /.test(where) &&
    before.keys.every((key) => key.startsWith(`${zones[0]}/`));
  const on = isSame ? (HOW.exec(where)?.[0] ?? "") : ` on ${where}`;
  if (unchanged) return `${denied}, nor any other sign of later work${on}.`;
  return `${denied}, nor any ${further || "other "}${such}fault${on}.`;
}

/** "Nothing further noted on the movement, nor any such fault on the bell, under a lamp"; of two lights it is two. */
function nothingWith(said: string, rest: string, which: string): string | null {
  const how = HOW.exec(said)?.[0] ?? "";
  if (how !== (HOW.exec(rest)?.[0] ?? "")) return null;
  const [zones, others] = [said, rest].map((words) => (how ? words.slice(0, -how.length) : words));
  return `${zones}, nor any ${which}fault on ${others}${how && `,${how}`}.`;
}
