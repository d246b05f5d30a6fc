/** Asking the office for what has words of owners in it. */
import { erasures } from "../../local/memory.ts";
import { get } from "../../sync/office.ts";

/** What the office answers, asked anew where an erasure was heard meanwhile: the answer may be of before it. */
export async function getAsErased<Answer>(path: string): Promise<Answer> {
  for (;;) {
    const heard = erasures.peek();
    const answer = await get<Answer>(path);
    if (erasures.peek() === heard) return answer;
  }
}
