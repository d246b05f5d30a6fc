/** At the store: what left with a load, and what of it is still to come, while it is being scanned. */

import { type Load, loadName, notCome } from "../../job/loads.ts";
import { firstUpper } from "../../job/words.ts";
import { keepsPack } from "../../parts/packs.ts";
import type { Scanned } from "./porter_scan.ts";

export function Coming({ load, scanned }: { load: Load; scanned: Scanned[] }) {
  const here = new Set(scanned.map(({ tag }) => tag));
  const name = `${firstUpper(loadName(load))}: ${load.things.length} left with it`;
  const lacking = notCome(load).filter(({ number }) => !here.has(number));
  return (
    <section>
      <h2>
        Still to come <span class="count">{lacking.length}</span>
      </h2>
      {keepsPack("custody") ? (
        <p class="lines">
          <a href={`#/load/${load.id}`}>{name}</a>
        </p>
      ) : (
        <p class="hint">{name}.</p>
      )}
      {lacking.length ? (
        <ul class="gaps">
          {lacking.map(({ number, words }) => (
            <li key={number}>{words}</li>
          ))}
        </ul>
      ) : (
        <p class="none">All that left with it is here.</p>
      )}
    </section>
  );
}

/** What a count is then compared with is less than what left, and that is said. */
export function NoLoadKnown({ count }: { count: number }) {
  return (
    <p class="hint">
      {count
        ? "No load is chosen: what is scanned is compared with nothing that left."
        : "This device knows of no load that left, so it cannot say what is missing."}
    </p>
  );
}
