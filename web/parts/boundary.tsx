/** A screen that could not be drawn: what was entered is kept, and there is a way on. */

import type { ComponentChildren } from "preact";
import { useErrorBoundary } from "preact/hooks";

export function Boundary({ children }: { children: ComponentChildren }) {
  const [error, again] = useErrorBoundary();
  if (!error) return <>{children}</>;
  return (
    <div class="frame">
      <header class="top">
        <h1>This screen could not be drawn</h1>
      </header>
      <main role="alert">
        <p class="lead">What was entered is kept on this device. Try again, or go on from the start.</p>
        <p class="hint">For whoever looks after the app: {String(error)}</p>
        <p class="inline">
          <button type="button" class="main" onClick={again}>
            Try again
          </button>
          <a class="button" href="#/">
            To the start
          </a>
          <a class="button" href="#/outbox">
            On this device
          </a>
        </p>
      </main>
    </div>
  );
}
