/** Hearing that the office itself does otherwise: its copies, which devices it waits for, or which were paired. */
import { useAskedAtNews } from "./asked_at_news.ts";
import { useOfficeNews } from "./use.ts";

/**
 * Called once as a screen is opened, and then at each change of the copies or of what the office waits for, twice a
 * second at most. Whoever shows it asks the office anew.
 */
export function useOfficeChanges(hear: () => void): () => void {
  return useAskedAtNews(
    async () => {
      hear();
    },
    { kind: "office" },
  );
}

/** The same, for whoever shows devices: also as one is paired, and fifty may be at once. */
export function useDeviceChanges(hear: () => void) {
  const again = useOfficeChanges(hear);
  useOfficeNews(again, "devices");
}
