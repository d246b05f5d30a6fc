/** A number that no scanner reads, keyed in. */

import { parseTag } from "../../job/tag.ts";
import { attempt } from "../../parts/notices.tsx";
import { useHeld } from "../../parts/use_held.ts";

/** What is half keyed outlives the page. */
export function KeyedIn({ day_id, count }: { day_id: string; count: (tag: string) => Promise<void> }) {
  const { form, set, drop } = useHeld(`porter number ${day_id}`, { typed: "" });
  const { typed } = form;
  const key = (event: Event) => {
    event.preventDefault();
    attempt(async () => {
      await count(parseTag(typed));
      drop();
    });
  };
  return (
    <form class="inline" onSubmit={key}>
      <div class="field">
        <label for="porter-tag">or key it in</label>
        <input
          id="porter-tag"
          class="code"
          value={typed}
          autocomplete="off"
          onInput={(event) => attempt(() => set("typed")(event.currentTarget.value))}
        />
      </div>
      <button type="submit" disabled={!typed.trim()}>
        {typed.trim() ? "Count it" : "Key in a number first"}
      </button>
    </form>
  );
}
