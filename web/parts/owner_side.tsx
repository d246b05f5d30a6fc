/**
 * The owner's side: the phone lies between two people. What the owner reads and signs is upright for them, and the one
 * key of the staff says its words both ways, as a playing card does: whoever sits opposite reads it, and whoever has
 * taken the phone in hand. Nothing that the owner presses leaves this side.
 */

import type { ComponentChildren } from "preact";
import { useLayoutEffect } from "preact/hooks";
import { Notices } from "./notices.tsx";
import { Sign } from "./sign.tsx";

const WORDS = "Turn back";

type OwnerSideOf = {
  /** What the staff's bar says. */
  staff: string;
  turnBack: () => void;
  children: ComponentChildren;
  action?: ComponentChildren;
};

export function OwnerSide({ staff, turnBack, children, action }: OwnerSideOf) {
  useLayoutEffect(() => scrollTo(0, 0), []); // what is handed over is read from its top
  return (
    <div class="frame owner-side">
      <header class="staff-side">
        <button type="button" onClick={turnBack}>
          <span class="from-opposite" aria-hidden="true">
            {WORDS}
          </span>
          <Sign of="turn" /> {WORDS}
        </button>
        <span class="hint from-opposite">{staff}</span>
      </header>
      <main class="read">{children}</main>
      <footer class="dock">
        <Notices />
        {action}
      </footer>
    </div>
  );
}
