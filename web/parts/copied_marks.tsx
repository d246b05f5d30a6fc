/** The marks that were copied from a zone: that nothing is the matter with it says nothing of what stands on it. */

import type { MarkValue } from "../job/fields.ts";
import { markText } from "../job/marks.ts";
import { spaced } from "../job/words.ts";

export function CopiedMarks({ marks }: { marks: readonly MarkValue[] }) {
  return marks.map((mark, index) => (
    <p key={index}>
      Mark copied{mark.place && `, ${mark.place}`}:{" "}
      {markText(mark) ? `“${markText(mark)}”` : spaced(mark.completeness)}
    </p>
  ));
}
