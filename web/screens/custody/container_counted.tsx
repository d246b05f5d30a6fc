/** Of a set that is checked in, how many pieces are there: one picture of it does not say so. */

import { useState } from "preact/hooks";
import { lineAsTyped, linesListed } from "../../job/listed_pieces.ts";
import type { CheckIn } from "../../job/operations.ts";
import type { ItemRecord } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";

type PiecesThereOf = {
  item_id: string;
  /** How many were counted at the table, or have a number each. */
  of: number;
  /** What was pressed: that it is as recorded, or that it differs, whether or not all of it is there. */
  state: CheckIn["state"];
  compare: (state: CheckIn["state"], here: number) => Promise<unknown>;
};

const RESULTS = { "as-recorded": "as recorded", differs: "it differs", "not-here": "" };

/** Its pieces by name, where somebody listed them: whoever unpacks it looks for each. */
export function PiecesListed({ item }: { item: ItemRecord }) {
  const lines = linesListed(item);
  if (!lines.length) return null;
  return (
    <div class="bar">
      <p>Its pieces, as they were listed:</p>
      <ul>
        {lines.map(({ id, value }) => (
          <li key={id}>{firstUpper(lineAsTyped(value))}</li>
        ))}
      </ul>
    </div>
  );
}

export function PiecesThere({ item_id, of, state, compare }: PiecesThereOf) {
  const [here, setHere] = useState<number | null>(null);
  const isAll = here === of;
  const result = isAll ? state : "differs";
  return (
    <div class="bar">
      <Counted
        of={item_id}
        label="How many pieces are there"
        hint="Take each one out, and count."
        value={here}
        save={async (count) => setHere(count)}
      />
      {here !== null && (
        <button type="button" onClick={() => attempt(() => compare(result, here))}>
          {isAll ? `All ${of} are there: ${RESULTS[state]}` : `${here} of ${of}: it differs`}
        </button>
      )}
    </div>
  );
}
