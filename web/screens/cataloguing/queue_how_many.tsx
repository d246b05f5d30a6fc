/** How many things the list has, as it was asked. */

import type { Asked, QueuePage } from "../../job/desk.ts";

/** `asked`: what the list is asked for; null where it is another one, as it was asked before. */
export function HowMany({
  list,
  asked,
  isRead,
}: {
  list: QueuePage | null;
  asked: Asked | null;
  isRead: boolean;
}) {
  const isBefore = list !== null && !asked;
  return (
    <p class="hint how-many" role="status">
      <span>
        {list && asked && countWordsOf(list, asked)}
        {(!list || isBefore) && isRead && "Reading … "}
        {isBefore && "These are as asked before."}
      </span>
      <span>oldest first; a notch in a row’s edge is damage found</span>
    </p>
  );
}

function countWordsOf({ count, count_capped }: QueuePage, asked: Asked) {
  const some = Object.values(asked).some(Boolean) ? " as asked" : "";
  return `${count}${count_capped ? " or more" : ""} in the queue${some}`;
}
