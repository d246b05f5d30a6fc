/** Hearing that the office itself does otherwise: its copies, or which devices it waits for. */
import { useOfficeNews } from "./use.ts";

/** Called once as a screen is opened, and then at each change; whoever shows it asks the office anew. */
export function useOfficeChanges(hear: () => void) {
  useOfficeNews(hear, "office");
}
