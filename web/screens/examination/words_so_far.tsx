/** What could be printed of a thing's condition by now, at the foot of what is known of it. */
import { conditionParagraph } from "../../job/paragraph.ts";
import { asText } from "../../job/sentences.ts";
import type { KnownOf } from "./so_far.ts";

export function WordsSoFar({ item, plan, book }: KnownOf) {
  const paragraph = conditionParagraph(plan, book, item);
  if (!paragraph.length) return null;
  return (
    <section class="card">
      <h2>In words, as far as you are</h2>
      <p class="read">{asText(paragraph)}</p>
    </section>
  );
}
