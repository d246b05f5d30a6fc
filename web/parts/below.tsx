/** What lies below the first screenful: a screen stands the sooner for it. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

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
