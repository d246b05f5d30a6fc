/** The photos that go on paper: one of each view, small, with what it shows; the screen has all of them, large. */

import type { ItemRecord, Plan } from "../../job/types.ts";
import { Thumb } from "../../parts/thumb.tsx";
import type { Numbered } from "./entry_findings.tsx";
import { chosenToPrint, pictureWords } from "./entry_pictures_named.ts";

type PrintedOf = { item: ItemRecord; plan: Plan | null; findings: Numbered[] };

export function PrintedPictures({ item, plan, findings }: PrintedOf) {
  const { chosen, left } = chosenToPrint(item, plan, findings);
  return (
    <div class="print-only printed-pictures">
      <ul>
        {chosen.map(({ id, value }) => {
          const finding = findings.find(({ id }) => id === value.finding_id);
          return (
            <li key={id}>
              <Thumb sha256={value.thumb_sha256} words="" />
              <small>
                {finding && <strong>{finding.number} </strong>}
                {pictureWords(plan, findings, value)}
              </small>
            </li>
          );
        })}
      </ul>
      {left > 0 && <p class="hint">{left} more on record.</p>}
    </div>
  );
}
