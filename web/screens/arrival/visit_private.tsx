/** A visit whose owner is named on no screen that the hall can read. */
import { isPrivate, PRIVATE } from "../../job/values.ts";
import { recordOf } from "../../local/memory.ts";
import { keep } from "../../local/outbox.ts";
import { attempt } from "../../parts/notices.tsx";
import { useSelected } from "../../parts/use.ts";

/** One key, pressed or not: lists then show the ticket alone. */
export function Privately({ visit_id, turned }: { visit_id: string; turned: () => void }) {
  const on = useSelected(() => isPrivate(recordOf("visit", visit_id)), [visit_id]);
  const turn = () =>
    attempt(async () => {
      await keep("set_visit", { visit_id, field: "private", value: on ? "" : PRIVATE });
      turned();
    });
  return (
    <button type="button" class="chip" aria-pressed={on} onClick={turn}>
      Private: lists show the ticket alone
    </button>
  );
}
