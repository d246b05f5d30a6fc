/** Sending what waits in the outbox, a batch at a time, and settling the answers. */
import type { Answer, Operation, Problem } from "../job/types.ts";
import { device } from "../local/memory.ts";
import { type Batch, nowBy, settle, takeBatch } from "../local/outbox.ts";
import { OfficeSays, post } from "./office.ts";
import { lookForErased } from "./read.ts";
import { hear, knowing, rememberClock, round, type Says } from "./round.ts";

/**
 * What one request has at the most. The office takes 4 MiB; half of one goes through a thin line in the time that a
 * request has, and through whatever stands before the office.
 */
const BATCH = 200;
const BATCH_BYTES = 512 * 1024;

type Answers = Says & { answers: Answer[]; office_time: string };

export async function sendOperations() {
  let waits = false;
  let moved = false;
  let limit = BATCH;
  for (let after = 0; ; ) {
    const { clock_offset_ms = device.peek()?.clock_offset_ms, ...batch } = await takeBatch(
      limit,
      after,
      BATCH_BYTES,
    );
    const last = batch.operations.at(-1);
    if (!last) {
      if (!waits || !moved) return;
      [after, waits, moved] = [0, false, false]; // what they wait for may have been among those that came later
      continue;
    }
    const [path, asked] = knowing("/sync/operations");
    const answered = await handIn(path, { ...batch, sent_at: nowBy(clock_offset_ms) });
    if (!answered) {
      limit = Math.ceil(batch.operations.length / 2);
      continue;
    }
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

type Sent = Batch & { sent_at: string };

/**
 * The office's answers; null if fewer are to be sent at once. One that is too large by itself is told to the office by
 * its envelope, which is refused, so that its place in this device's order is known; the whole of it stays here.
 */
async function handIn(path: string, sent: Sent): Promise<Answers | null> {
  try {
    return await post<Answers>(path, sent);
  } catch (error) {
    if (!(error instanceof OfficeSays) || error.status !== 413) throw error;
    if (sent.operations.length > 1) return null;
    const answered = await post<Answers>(path, { ...sent, operations: sent.operations.map(envelopeOf) });
    const answers = answered.answers.map((answer) =>
      answer.outcome === "refused" ? { ...answer, problem: TOO_LARGE } : answer,
    );
    return { ...answered, answers };
  }
}

const TOO_LARGE: Problem = {
  code: "too_large",
  title: "This is too large",
  detail: "The office does not take this much at once.",
  hint: "Make it shorter, or say it in parts. All of it is still on this device.",
};

function envelopeOf({ operation_id, kind, made_at, made_by, device_id, device_seq }: Operation) {
  return { operation_id, kind, made_at, made_by, device_id, device_seq } as Operation;
}
