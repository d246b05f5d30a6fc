/** Printing a page whole: what is folded away on the screen is on the paper. */

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
