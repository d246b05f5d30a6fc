/** What nobody handles, above the desk's list. */

import type { QueuePage } from "../../job/desk.ts";
import { KeepAway } from "../../parts/incident_bar.tsx";
import { useDevice } from "../../parts/use.ts";

/**
 * What nobody handles, of whatever day: a desk has no copy of the day on which it could see that. Of the entry that is
 * open its own bar says so.
 */
export function Alone({ list, open }: { list: QueuePage | null; open: string }) {
  const isDesk = useDevice()?.role === "desk"; // the others are told on every screen
  const alone = list?.alone.filter(({ item_id }) => item_id !== open) ?? [];
  if (!isDesk || !alone.length) return null;
  return (
    <div class="bar caution-bar red" role="alert">
      {alone.map(({ item_id, short_description, keep_away }) => (
        <KeepAway key={item_id} name={short_description} from={keep_away} to={`#/entry/${item_id}`} />
      ))}
    </div>
  );
}
