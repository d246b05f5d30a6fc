/** Which of the values that gave way were seen at this device. */
import { signal } from "@preact/signals-core";
import { write } from "./changes.ts";
import { settingIn, transact } from "./database.ts";

/** Null until the database has been asked. */
const seen = signal<ReadonlySet<string> | null>(null);
let isAsked = false;

/** The disagreements whose end was seen here; null until that is known. */
export function seenOverruled(): ReadonlySet<string> | null {
  if (!isAsked) {
    isAsked = true;
    transact(["setting"], "readonly", (tx) => settingIn(tx, "overruled seen")).then((ids) => {
      seen.value = new Set(ids ?? []);
    });
  }
  return seen.value;
}

export async function seeOverruled(disagreement_id: string): Promise<void> {
  const ids = await write(["setting"], async (tx) => {
    const before = (await tx.setting("overruled seen")) ?? [];
    const now = [...before.filter((id) => id !== disagreement_id), disagreement_id];
    await tx.remember("overruled seen", now);
    return now;
  });
  seen.value = new Set(ids);
}
