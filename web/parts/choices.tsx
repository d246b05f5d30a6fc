/** One of several, as buttons or as a list; each is kept as it is chosen. */
import { attempt } from "./notices.tsx";
import { useOwnId } from "./own_id.ts";

/** A value and its words. */
export type Option<Value extends string> = readonly [Value, string];

/** One of several, as buttons; tapping the chosen one again changes nothing. */
export function Choice<Value extends string>({
  label,
  options,
  value,
  choose,
  hideLabel = false,
}: {
  label: string;
  options: readonly Option<Value>[];
  value: Value | null | undefined;
  choose: (value: Value) => unknown;
  hideLabel?: boolean;
}) {
  const id = useOwnId();
  return (
    <div class="field" role="group" aria-labelledby={id}>
      <span class={hideLabel ? "unseen" : "label"} id={id}>
        {label}
      </span>
      <div class="chips">
        {options.map(([key, words]) => (
          <button
            type="button"
            key={key}
            class="chip"
            aria-pressed={value === key}
            onClick={() => attempt(async () => choose(key))}
          >
            {words}
          </button>
        ))}
      </div>
    </div>
  );
}

export function Select<Value extends string>({
  label,
  options,
  value,
  choose,
  empty = "Not chosen",
}: {
  label: string;
  options: readonly Option<Value>[];
  value: Value | null | undefined;
  choose: (value: Value | "") => unknown;
  empty?: string;
}) {
  const id = useOwnId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value ?? ""}
        onChange={(event) => attempt(async () => choose(event.currentTarget.value as Value | ""))}
      >
        <option value="">{empty}</option>
        {options.map(([key, words]) => (
          <option key={key} value={key} selected={key === value}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}
