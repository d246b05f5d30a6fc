/** What a view that is still to be taken shows, as a drawing: the thing, its back, what it stands on, a mark, a detail. */
import { planBook } from "../local/plan_book.ts";
import { ClassDrawing, Drawn } from "./class_drawing.tsx";

const FINDING = { body: "M8 17h32v16H8z", lines: "M19 17l5 9 5-9" };
const BACK = /\b(back|reverse|verso)\b/;

/** `words` are the view's own; null of a finding. */
export function ViewDrawing({ class_id, words }: { class_id: string; words: string | null }) {
  if (words === null) return <Drawn {...FINDING} />;
  const alike = planBook()?.views.find(({ said }) => new RegExp(`\\b(${said.join("|")})\\b`).test(words));
  return alike ? (
    <Drawn {...alike.drawing} />
  ) : (
    <ClassDrawing class_id={class_id} isBack={BACK.test(words)} />
  );
}
