/** One table of the day: what it is called, and whether it still stands there. */

import { useState } from "preact/hooks";
import type { VisitRecord } from "../../job/types.ts";
import { fieldValue, ownerWords } from "../../job/values.ts";
import { keep } from "../../local/outbox.ts";
import { Typed } from "../../parts/controls.tsx";
import { attempt } from "../../parts/notices.tsx";

export function sayTable(day_id: string, table_id: string, name: string, gone: boolean) {
  return keep("set_table", { day_id, table_id, name, gone });
}

type TableOf = {
  day_id: string;
  table_id: string;
  name: string;
  words: string;
  gone: boolean;
  here: VisitRecord[];
};

/** One table; `here` are the visits that are at it now: it is not taken from under an owner without a question. */
export function Table({ day_id, table_id, name, words, gone, here }: TableOf) {
  const [asks, setAsks] = useState(false);
  const turn = () => {
    setAsks(false);
    attempt(() => sayTable(day_id, table_id, name, !gone));
  };
  return (
    <>
      <div class="pair">
        <Typed
          of={table_id}
          label={gone ? `${words}, taken away` : `Name of ${words}`}
          value={name}
          save={async (typed: string) => {
            if (typed.trim()) await sayTable(day_id, table_id, typed.trim(), gone);
          }}
        />
        <button type="button" class="quiet" onClick={() => (here.length && !gone ? setAsks(true) : turn())}>
          {gone ? "Put it back" : "Take it away"}
        </button>
      </div>
      {asks && !gone && here.length > 0 && (
        <div class="bar" role="alert">
          <p>
            {`${here.map(atIt).join(", ")}: still at ${words}. The device of their next table says “At the table” on ` +
              "their visit. Taken away now, this one stays in sight until nobody is at it."}
          </p>
          <button type="button" onClick={turn}>
            Take it away now
          </button>
          <button type="button" class="quiet" onClick={() => setAsks(false)}>
            Leave it
          </button>
        </div>
      )}
    </>
  );
}

function atIt(visit: VisitRecord) {
  return [fieldValue(visit, "ticket"), ownerWords(visit)].filter(Boolean).join(" ");
}
