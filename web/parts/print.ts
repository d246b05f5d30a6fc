/** Printing a page whole: what is folded away on the screen is on the paper. */

export function printWhole() {
  const folded = [...document.querySelectorAll("details:not([open])")];
  for (const one of folded) one.setAttribute("open", "");
  print();
  for (const one of folded) one.removeAttribute("open");
}
