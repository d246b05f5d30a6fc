/** Styles that come with the screens of one pack, so that no other device keeps them. */

/** Add them to the layer of the screens; print wins over them as over any other. */
export function addStyles(...texts: string[]) {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`@layer screens{${texts.join("")}}`);
  document.adoptedStyleSheets.push(sheet);
}
