/** What lies below the first screenful: a screen stands the sooner for it. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

/** Drawn one frame after what stands above it has been painted; nobody can have scrolled there before. */
export function Below({ children }: { children: ComponentChildren }) {
  const [isDue, setDue] = useState(false);
  useEffect(() => setDue(true), []);
  return isDue ? children : null;
}
