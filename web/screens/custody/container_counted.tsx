/** Of a set that is checked in, how many pieces are there: one picture of it does not say so. */

import { useState } from "preact/hooks";
import type { CheckIn } from "../../job/operations.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";

type PiecesThereOf = {
  item_id: string;
  /** How many were counted at the table, or have a number each. */
  of: number;
  compare: (state: CheckIn["state"], here: number) => Promise<unknown>;
};

export function PiecesThere({ item_id, of, compare }: PiecesThereOf) {
  const [here, setHere] = useState<number | null>(null);
  const isAll = here === of;
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
        <button type="button" onClick={() => attempt(() => compare(isAll ? "as-recorded" : "differs", here))}>
          {isAll ? `All ${of} are there: as recorded` : `${here} of ${of}: it differs`}
        </button>
      )}
    </div>
  );
}
