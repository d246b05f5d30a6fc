/** Printing a page whole: what is folded away on the screen is on the paper, and what is drawn for paper alone. */

import { useEffect, useState } from "preact/hooks";

/** Whether the page is being drawn for paper, of what would be too much to keep drawn for a screen. */
export function useOnPaper(): boolean {
  const [isOnPaper, setOnPaper] = useState(false);
  useEffect(() => {
    const media = matchMedia("print");
    const turned = () => setOnPaper(media.matches);
    const begins = () => setOnPaper(true);
    media.addEventListener("change", turned);
    addEventListener("beforeprint", begins);
    addEventListener("afterprint", turned);
    return () => {
      media.removeEventListener("change", turned);
      removeEventListener("beforeprint", begins);
      removeEventListener("afterprint", turned);
    };
  }, []);
  return isOnPaper;
}

/** As `print`, once what goes on paper alone was drawn: the browser asks for that too late to wait for it. */
export async function printDrawn() {
  dispatchEvent(new Event("beforeprint"));
  await untilDrawn();
  print();
}

export async function printWhole() {
  const folded = [...document.querySelectorAll("details:not([open])")];
  for (const details of folded) details.setAttribute("open", "");
  if (folded.length) await untilDrawn();
  print();
  for (const details of folded) details.removeAttribute("open");
}

/** A list may draw its lines when it is opened: it is told so after the frame, and has drawn them by the next. */
async function untilDrawn() {
  for (let frame = 0; frame < 2; frame += 1) await new Promise(requestAnimationFrame);
}
