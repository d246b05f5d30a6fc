/**
 * The owner's side: the phone lies between two people. What the owner reads and signs is upright for them, and the one
 * key of the staff is upside down, so that whoever sits opposite reads it.
 */

import type { ComponentChildren } from "preact";
import { Notices } from "./notices.tsx";
import { Sign } from "./sign.tsx";

type OwnerSideOf = {
  /** What the staff's bar says. */
  staff: string;
  turnBack: () => void;
  children: ComponentChildren;
  action?: ComponentChildren;
};

export function OwnerSide({ staff, turnBack, children, action }: OwnerSideOf) {
  return (
    <div class="frame owner-side">
      <header class="staff-side">
        <button type="button" onClick={turnBack}>
          <Sign of="turn" /> Turn back
        </button>
        <span class="hint">{staff}</span>
      </header>
      <main class="read">{children}</main>
      <footer class="dock">
        <Notices />
        {action}
      </footer>
    </div>
  );
}
