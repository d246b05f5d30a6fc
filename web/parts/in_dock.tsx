/** A key that a part of the screen knows about, drawn in the dock: beside the thumb, however long the screen is. */

import { type ComponentChildren, render } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

/** What a screen gives its frame as the action, where a part of it draws the keys. */
export function KeysOfPart() {
  return <span class="keys-of-part" />;
}

export function InDock({ children }: { children: ComponentChildren }) {
  const place = useRef<Element | null>(null);
  useLayoutEffect(() => {
    const found = document.querySelector(".dock .keys-of-part");
    place.current = found;
    if (found) render(children, found);
  });
  useLayoutEffect(() => () => void (place.current && render(null, place.current)), []);
  return null;
}
