/** What is ready for the day and what is not, line by line, and how it stood when the doors were opened. */
import type { Ready } from "../../job/preflight_line.ts";
import type { DayRecord } from "../../job/types.ts";
import { listed } from "../../job/values.ts";
import { Mark } from "../../parts/mark.tsx";
import { momentWords } from "../../parts/moments.ts";

export function Lines({ title, lines, none }: { title: string; lines: Ready[]; none: string }) {
  return (
    <section>
      <h2>
        {title} <span class="count">{lines.length}</span>
      </h2>
      {lines.length ? (
        <ul class="check-lines">
          {lines.map(({ ready, words, todo, at }) => (
            <li key={words} class={ready ? "good" : "not-good"}>
              <Mark state={ready ? "good" : "not-good"} />
              <span>
                {words} {todo && (at ? <a href={at}>{todo}</a> : <strong>{todo}</strong>)}
              </span>
            </li>
          ))}
        </ul>
      ) : (
        <p class="none">{none}</p>
      )}
    </section>
  );
}

/** How it stood each time the manager opened the doors. */
export function KeptBefore({ day }: { day: DayRecord }) {
  const kept = listed(day, "preflights/");
  if (!kept.length) return null;
  return (
    <section>
      <h2>Kept with the day</h2>
      {kept.map(({ id, value, set }) => (
        <details key={id}>
          <summary>
            {momentWords(set.made_at)}: {value.ready.length} ready, {value.not_ready.length} not,{" "}
            {value.items_expected} things expected
          </summary>
          <ul>
            {value.not_ready.map((words) => (
              <li key={words}>Not ready: {words}</li>
            ))}
            {value.ready.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      ))}
    </section>
  );
}
