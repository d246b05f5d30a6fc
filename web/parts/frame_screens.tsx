/** The way to the other screens that a role begins with. */

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Role } from "../local/device.ts";
import { useOwnId } from "./own_id.ts";
import { Sign } from "./sign.tsx";
import { useDevice } from "./use.ts";

/** The screens that a role begins with. */
const SCREENS: [address: string, words: string, roles: Role[]][] = [
  ["#/today", "Today", ["door", "table", "porter", "manager"]],
  ["#/porter", "Porter", ["porter", "table", "door", "manager"]],
  ["#/queue", "Queue", ["desk", "manager"]],
  ["#/day", "Day", ["manager"]],
  ["#/rolls", "Numbers", ["manager"]],
  ["#/closing", "Closing", ["manager", "porter"]],
  ["#/closings", "Closing", ["desk"]],
  ["#/devices", "Devices", ["manager"]],
  ["#/copies", "Copies", ["desk", "manager"]],
  ["#/outbox", "On this device", ["door", "table", "porter", "desk", "manager"]],
];

/**
 * The screens that this device's role begins with: behind one key on a phone, since a person keeps one place all day.
 */
export function ScreensKey({ here }: { here: string }) {
  const [open, setOpen] = useState(false);
  const id = useOwnId();
  const key = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    if (!open) return;
    const beside = ({ target }: Event) => {
      const isOfMenu = [key, list].some(({ current }) => target instanceof Node && current?.contains(target));
      if (!isOfMenu) setOpen(false);
    };
    const onEscape = (event: KeyboardEvent) => {
      if (event.key !== "Escape") return;
      setOpen(false);
      key.current?.focus();
    };
    addEventListener("pointerdown", beside, true);
    addEventListener("keydown", onEscape);
    return () => {
      removeEventListener("pointerdown", beside, true);
      removeEventListener("keydown", onEscape);
    };
  }, [open]);
  const role = useDevice()?.role;
  if (!role) return null;
  return (
    <>
      <button
        ref={key}
        type="button"
        class="places-key"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
      >
        <Sign of="places" />
        <span class="unseen">Screens</span>
      </button>
      <nav ref={list} id={id} class={open ? "places open" : "places"} aria-label="Screens">
        {SCREENS.filter(([, , roles]) => roles.includes(role)).map(([address, words]) => (
          <a
            key={address}
            href={address}
            aria-current={address === here ? "page" : undefined}
            onClick={() => setOpen(false)} // its own entry leads nowhere else
          >
            {words}
          </a>
        ))}
      </nav>
    </>
  );
}
