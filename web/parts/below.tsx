/** What lies below the first screenful: a screen stands the sooner for it. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

/** Rows that a slow device draws within one frame and still takes a touch. */
const ROWS_A_FRAME = 24;

/** Whether what was drawn first has been painted: true from the frame after it. */
export function useNextFrame() {
  const [isDue, setDue] = useState(false);
  useEffect(() => {
    const asked = requestAnimationFrame(() => setDue(true));
    return () => cancelAnimationFrame(asked);
  }, []);
  return isDue;
}

/** Drawn one frame after what stands above it has been painted; nobody can have scrolled there before. */
export function Below({ children }: { children: ComponentChildren }) {
  return useNextFrame() ? children : null;
}

/** A value a frame after it came: what is drawn with it lets what matters more be painted first. */
export function useFrameLater<Value>(value: Value): Value {
  const [painted, setPainted] = useState({ value });
  useEffect(() => {
    if (painted.value === value) return undefined;
    const asked = requestAnimationFrame(() => setPainted({ value }));
    return () => cancelAnimationFrame(asked);
  }, [value]);
  return painted.value;
}

type InTurnOf<Member> = {
  of: readonly Member[];
  /** So many fill the first screenful. */
  first: number;
  draw: (member: Member) => ComponentChildren;
};

/**
 * The members of a long list: the first screenful at once, the others some a frame, so that no list halts the device.
 */
export function InTurn<Member>({ of, first, draw }: InTurnOf<Member>) {
  const [count, setCount] = useState(first);
  useEffect(() => {
    if (count >= of.length) return;
    const asked = requestAnimationFrame(() => setCount(count + ROWS_A_FRAME));
    return () => cancelAnimationFrame(asked);
  }, [count, of.length]);
  return <>{of.slice(0, count).map(draw)}</>;
}
