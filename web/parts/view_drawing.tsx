/**
 * What a view that is still to be taken shows, as a drawing: the zone it is of on the thing's outline, else its kind (a
 * mark, a detail, what it stands on), else the thing with an arrow from where it is taken.
 */
import type { Outline, Shape } from "../job/types.ts";
import { planBook } from "../local/plan_book.ts";
import { ClassDrawing, Drawn } from "./class_drawing.tsx";
import { regionShown } from "./view_region.ts";

const FINDING = { body: "M8 17h32v16H8z", lines: "M19 17l5 9 5-9" };
const BACK = /\b(back|rear|reverse|verso)\b/;

/** From where it is taken: arrows at the rim of the class drawing, in its units. The first that fits holds. */
const FROM: readonly (readonly [RegExp, string])[] = [
  [/\btop\b/, "M24 0v6M21 3.500l3 3 3-3"],
  [/\b(sides|ends)\b/, "M0 26h6M3.500 23l3 3-3 3M48 26h-6M44.500 23l-3 3 3 3"],
  [/proper left side|viewer's right/, "M48 26h-6M44.500 23l-3 3 3 3"],
  [/\bside\b|viewer's left|three-quarter/, "M0 26h6M3.500 23l3 3-3 3"],
];

type ViewOf = {
  class_id: string;
  /** Those that show the thing; one that is of its kind alone stands in place of the drawing of its class. */
  drawings: readonly Outline[];
  /** The view's own; null of a finding. */
  words: string | null;
};

export function ViewDrawing({ class_id, drawings, words }: ViewOf) {
  if (words === null) return <Drawn {...FINDING} />;
  const book = planBook();
  const shown = isFirstFrame(words) ? undefined : regionShown(drawings, words);
  if (shown) return <OnOutline {...shown} />;
  const alike = book?.views.find(({ said }) => new RegExp(`\\b(${said.join("|")})\\b`).test(words));
  if (alike) return <Drawn {...alike.drawing} />;
  const from = FROM.find(([pattern]) => pattern.test(words));
  const ofKind = drawings.filter(({ of }) => of?.length);
  const own = (BACK.test(words) && ofKind[1]) || ofKind[0];
  if (own) return <OnOutline on={own} from={from?.[1]} />;
  return (
    <ClassDrawing class_id={class_id} isBack={BACK.test(words)}>
      {from && <path d={from[1]} />}
    </ClassDrawing>
  );
}

/** It shows the tag, whatever else its words name. */
function isFirstFrame(words: string) {
  return words.includes("scale and tag");
}

/** The thing's own line, or all of its zones where it has none; the zone filled on it, or from where it is taken. */
function OnOutline({ on, zone, from }: { on: Outline; zone?: Shape; from?: string | undefined }) {
  const own = on.shapes.filter((shape) => shape.zone === "outline");
  const body = own.length ? own : on.shapes.filter((shape) => shape.zone);
  return (
    <svg class="class-drawing of-zone" viewBox={`0 0 ${on.width} ${on.height}`} aria-hidden="true">
      {[...body, ...(zone ? [zone] : [])].map((shape, index) => {
        const Element = shape.shape;
        return <Element key={index} {...shape.attributes} class={shape === zone ? "shown" : "body"} />;
      })}
      {from && <path d={from} transform={`scale(${on.width / 48} ${on.height / 48})`} />}
    </svg>
  );
}
