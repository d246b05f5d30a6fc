/** What a view that is still to be taken shows, as a drawing: the thing, its back, what it stands on, a mark, a detail. */

import { ClassDrawing } from "./class_drawing.tsx";

/** Views whose words say one of these are drawn alike; the first that fits holds. Units as in the class drawings. */
const FAMILIES: readonly (readonly [RegExp, body: string, lines: string])[] = [
  [/scale/, "M8 31h32v9H8z", "M14 31v4M20 31v6M26 31v4M32 31v6M15 11h14l6 6-6 6H15zM20 17v.1"],
  [
    /\b(marks?|signatures?|labels?|numbers?|stamps?|inscriptions?|papers?)\b/,
    "M9 14h30v20H9z",
    "M15 29l4-10 4 10M16.500 26h5M28 19v10M33 19v10",
  ],
  [
    /\b(underside|under the|base|feet|foot|bottom)\b/,
    "M24 9a15 15 0 110 30 15 15 0 010-30z",
    "M24 15a9 9 0 110 18 9 9 0 010-18z",
  ],
  [
    /\b(close|each|joins?|joints?|inside|movement|detail|ultraviolet|rim|mouth|crown)\b/,
    "M20 9a12 12 0 110 24 12 12 0 010-24z",
    "M29 30l10 10",
  ],
];
const FINDING = ["M8 17h32v16H8z", "M19 17l5 9 5-9"] as const;
const BACK = /\b(back|reverse|verso)\b/;

/** `words` are the view's own; null of a finding. */
export function ViewDrawing({ class_id, words }: { class_id: string; words: string | null }) {
  if (words === null) return <Drawn body={FINDING[0]} lines={FINDING[1]} />;
  const family = FAMILIES.find(([said]) => said.test(words));
  if (family) return <Drawn body={family[1]} lines={family[2]} />;
  return <ClassDrawing class_id={class_id} isBack={BACK.test(words)} />;
}

function Drawn({ body, lines }: { body: string; lines: string }) {
  return (
    <svg class="class-drawing" viewBox="0 0 48 48" aria-hidden="true">
      <path class="body" d={body} />
      <path d={lines} />
    </svg>
  );
}
