/** Words of a page on their way into a letter: put where this machine pastes from. */

/**
 * Whether they are there. An office that is reached without a certificate has no clipboard, and a browser may refuse
 * it: there they are marked.
 */
export async function copyWords(shown: HTMLElement): Promise<boolean> {
  if (navigator.clipboard)
    try {
      await navigator.clipboard.writeText(shown.textContent ?? "");
      return true;
    } catch {
      // the browser's own words for it say nothing of what to do: what is marked is copied by hand
    }
  getSelection()?.selectAllChildren(shown);
  return document.execCommand("copy");
}
