/** Styles that come with the screens of one pack, so that no other device keeps them. */

/** Add them to the layer of the screens, or to the one of print, which wins over any other. */
export function addStyles(texts: readonly string[], layer: "screens" | "print" = "screens") {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`@layer ${layer}{${texts.join("")}}`);
  document.adoptedStyleSheets.push(sheet);
}
