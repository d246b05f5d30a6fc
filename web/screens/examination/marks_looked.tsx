/** Where marks were looked for and none found; of letters, which have a date, what was looked at and not copied. */
import type { ItemRecord, Plan } from "../../job/types.ts";
import { fieldValue } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";

type Looked = {
  item: ItemRecord;
  plan: Plan | null;
  /** The places that can be reached, and whether those are all. */
  inReach: string[];
  isAll: boolean;
};

export function MarksLooked({ item, plan, inReach, isAll }: Looked) {
  const save = (value: string) => keep("set_item", { item_id: item.record_id, field: "marks_looked", value });
  const isAlways = Boolean(plan?.marks_always);
  const all = isAll ? "Looked at all of these places" : `Looked at all of these: ${inReach.join(", ")}`;
  return (
    <section>
      <h2>{isAlways ? "Nothing copied?" : "No marks found?"}</h2>
      <Typed
        label="Looked at"
        into="set_item.value"
        hint={
          isAlways
            ? "It is printed as looked at and not copied"
            : "A missing mark says something only where it was looked for"
        }
        value={fieldValue(item, "marks_looked")}
        lines={3}
        save={save}
      />
      {plan && (
        <button type="button" class="chip" onClick={() => attempt(() => save(inReach.join(", ")))}>
          {isAlways ? `${all}, copied nothing` : all}
        </button>
      )}
    </section>
  );
}
