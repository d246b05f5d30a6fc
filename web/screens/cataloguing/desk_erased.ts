/** What becomes of the words in the search box as an owner's words are erased: they may have been theirs. */

/** So much of what is typed the office looks for. */
const MOST_SOUGHT = 200;

/**
 * Words that still find something are on record of something else, and stay: nobody who types loses a letter. All
 * others may be the erased owner's, also misspelt or a number of theirs, which the index never had: they go. `words`
 * are those that stand there now, whoever goes on typing meanwhile; nobody can tell where the office does not answer.
 */
export async function emptyUnlessFound(
  words: () => string,
  findsAny: (words: string) => Promise<boolean>,
  empty: () => void,
) {
  let sought = "";
  while (words() && words() !== sought) {
    sought = words();
    const isFound = sought.length <= MOST_SOUGHT && (await findsAny(sought).catch(() => false));
    if (!isFound && words() === sought) empty();
  }
}
