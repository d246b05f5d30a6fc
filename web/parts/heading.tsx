/** The heading of a screen, which is the page's title as well. */

import { useEffect, useLayoutEffect, useRef } from "preact/hooks";

export type TitleOf = {
  /** A function where the words change while they are typed: then they alone are drawn again. */
  title: string | (() => string);
};

function wordsOf({ title }: TitleOf) {
  return typeof title === "string" ? title : title();
}

export function Words({ title }: TitleOf) {
  return <>{wordsOf({ title })}</>;
}

const APP = "Intake desk";

/** The address whose heading has had the focus; the first screen leaves it where the browser has put it. */
let focused: string | null = null;

/** The heading of the screen, and the page's title; a new screen begins there for whoever does not see it change. */
export function Heading({ title }: TitleOf) {
  const heading = useRef<HTMLHeadingElement>(null);
  const words = wordsOf({ title });
  useEffect(() => {
    document.title = `${words} · ${APP}`;
  }, [words]);
  // Before it is painted: later the focus could be taken out of a field that somebody has begun to type into.
  useLayoutEffect(() => {
    if (focused !== null && focused !== location.hash) heading.current?.focus({ preventScroll: true });
    focused = location.hash;
  }, []);
  return (
    <h1 ref={heading} tabIndex={-1}>
      {words}
    </h1>
  );
}
