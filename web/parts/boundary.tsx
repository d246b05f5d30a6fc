/** What could not be drawn, a screen or a part of one: what was entered is kept, and there is a way on. */

import type { ComponentChildren } from "preact";
import { useErrorBoundary, useLayoutEffect, useRef } from "preact/hooks";

/** `shown` is what the screen is about: a screen that stays while that changes is tried anew with the next. */
export function Boundary({ shown, children }: { shown: string; children: ComponentChildren }) {
  const [error, again] = useErrorBoundary();
  const failed = useRef({ error: null as unknown, shown });
  if (failed.current.error !== error) failed.current = { error, shown };
  useLayoutEffect(() => {
    if (error && failed.current.shown !== shown) again();
  }, [error, shown]);
  if (!error) return <>{children}</>;
  return (
    <div class="frame">
      <header class="top">
        <h1>This screen could not be drawn</h1>
      </header>
      <main role="alert">
        <WayOn error={error} again={again}>
          <a class="button" href="#/">
            To the start
          </a>
          <a class="button" href="#/outbox">
            On this device
          </a>
        </WayOn>
      </main>
    </div>
  );
}

/** Around a part whose screen stands without it; keyed by what the part shows. */
export function PartBoundary({ heading, children }: { heading: string; children: ComponentChildren }) {
  const [error, again] = useErrorBoundary();
  if (!error) return <>{children}</>;
  return (
    <div role="alert">
      <h2>{heading}</h2>
      <WayOn error={error} again={again} />
    </div>
  );
}

function WayOn({
  error,
  again,
  children,
}: {
  error: unknown;
  again: () => void;
  children?: ComponentChildren;
}) {
  return (
    <>
      <p class="lead">
        What was entered is kept on this device. Try again, or go on
        {children ? " from the start." : " with something else."}
      </p>
      <p class="hint">For whoever looks after the app: {String(error)}</p>
      <p class="inline">
        <button type="button" class="main" onClick={again}>
          Try again
        </button>
        {children}
      </p>
    </>
  );
}
