/** A drawing for each class of things, of a few lines: its body washed, the rest drawn on it. */
import type { ComponentChildren } from "preact";
import type { Drawing } from "../job/types.ts";
import { className, planBook } from "../local/plan_book.ts";

/** What a class without a drawing is drawn as. */
const PARCEL = { body: "M9 17h30v23H9z", lines: "M24 17v23M9 26h30M24 17c-9-10-15-2 0 0 15-2 9-10 0 0" };

type How = { isBack?: boolean; children?: ComponentChildren };

/** Of its back the body alone is drawn, turned round; children are drawn on it. */
export function ClassDrawing({ class_id, ...how }: How & { class_id: string }) {
  return <Drawn {...(planBook()?.classes[class_id]?.drawing ?? PARCEL)} {...how} />;
}

export function Drawn({ body, lines, isBack = false, children }: Drawing & How) {
  return (
    <svg class="class-drawing" viewBox="0 0 48 48" aria-hidden="true">
      <path class="body" d={body} transform={isBack ? "matrix(-1 0 0 1 48 0)" : undefined} />
      {!isBack && <path d={lines} />}
      {children}
    </svg>
  );
}

/** What a class is called on its key, and a thing that has no name yet; a house's own by its whole name. */
export function shortName({ class_id, name }: { class_id: string; name: string }) {
  return className(class_id) || name;
}
