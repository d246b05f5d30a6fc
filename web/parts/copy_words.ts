/** Words of a page on their way into a letter: put where this machine pastes from. */

/** Whether they are there. An office that is reached without a certificate has no clipboard: there they are marked. */
export async function copyWords(shown: HTMLElement): Promise<boolean> {
  if (navigator.clipboard) {
    await navigator.clipboard.writeText(shown.textContent ?? "");
    return true;
  }
  getSelection()?.selectAllChildren(shown);
  return document.execCommand("copy");
}
