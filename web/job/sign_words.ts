/** The sign of a caution in print: what was seen, and nothing of where its owner says that it was kept. */
import { withoutStop } from "./sentences.ts";

/** Where things are kept before they come: that is told, and no look at the thing shows it. */
const KEPT =
  /^(?:(?:it )?(?:was )?(?:kept|stored|found) in|(?:(?:it )?(?:came|was brought|brought) )?(?:from|out of)) /i;
const KEPT_IN = /\b(?:cellar|loft|attic|garage|shed|barn|outhouse|basement|stable)$/i;
const TOLD = /^(?:told|as told|said to|it is said|according to|(?:the|its|their) owners?) /i;

/** "furry spots" of "furry spots, from a damp cellar"; what is nothing else stands as it was typed. */
export function signSeen(sign: string): string {
  const [first = "", ...more] = withoutStop(sign).split(/(?=[,;] )/);
  const isTold = (clause: string) => {
    const words = clause.replace(/^[,;] /, "");
    return (KEPT.test(words) && KEPT_IN.test(words)) || TOLD.test(words);
  };
  return first + more.filter((clause) => !isTold(clause)).join("");
}
