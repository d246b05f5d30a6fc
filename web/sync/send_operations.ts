/** Sending what waits in the outbox, a batch at a time, and settling the answers. */
import type { Answer } from "../job/types.ts";
import { rememberDevice } from "../local/device.ts";
import { device } from "../local/memory.ts";
import { nowBy, settle, takeBatch } from "../local/outbox.ts";
import { post } from "./office.ts";
import { lookForErased } from "./read.ts";
import { hear, knowing, round, type Says } from "./round.ts";

const BATCH = 200;

type Answers = Says & { answers: Answer[]; office_time: string };

export async function sendOperations() {
  let waits = false;
  let moved = false;
  for (let after = 0; ; ) {
    const { clock_offset_ms = device.peek()?.clock_offset_ms, ...batch } = await takeBatch(BATCH, after);
    const last = batch.operations.at(-1);
    if (!last) {
      if (!waits || !moved) return;
      [after, waits, moved] = [0, false, false]; // what they wait for may have been among those that came later
      continue;
    }
    const [path, asked] = knowing("/sync/operations");
    const answered = await post<Answers>(path, { ...batch, sent_at: nowBy(clock_offset_ms) });
    round.officeTime = answered.office_time;
    lookForErased();
    await settle(answered.answers);
    await rememberClock(answered.office_time);
    for (const { outcome } of answered.answers) {
      if (outcome === "waiting") waits = true;
      else moved = true;
    }
    after = (await hear(answered, asked)) ? 0 : last.device_seq;
  }
}

async function rememberClock(officeTime: string) {
  const offset = Date.parse(officeTime) - Date.now();
  const known = device.peek();
  if (known && Math.abs(offset - known.clock_offset_ms) > 2000)
    await rememberDevice({ clock_offset_ms: offset });
}
