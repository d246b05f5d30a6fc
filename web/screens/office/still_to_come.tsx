/** The office lacks something: which devices it still waits for, what waits meanwhile, and the manager's word. */
import { AskedOnce } from "../../parts/asked_once.tsx";
import { momentWords } from "../../parts/moments.ts";

/** How many operations wait on a device, and what they are of; empty if that is not at the office. */
type WaitingOn = { device: string; of: string; count: number };
/** Since when the office waits, after how many losses; `left` are the devices it knows that are still to come. */
export type Hearing = {
  since: string;
  loss: number;
  left: string[];
  shown_by: string | null;
  waits: WaitingOn[];
};

export function StillToCome({ hearing, end }: { hearing: Hearing; end: () => void }) {
  const { left, waits } = hearing;
  return (
    <section>
      <h2>This office is being made whole again</h2>
      <p>
        {hearing.shown_by
          ? `${hearing.shown_by} was told of more than the office has now. `
          : "It was put back from a copy or begun anew. "}
        Since {momentWords(hearing.since)} nothing is refused that another device may still explain: it waits
        on its device.
      </p>
      <h3>
        Still to come <span class="count">{left.length}</span>
      </h3>
      <p>
        {left.length
          ? `${left.join(", ")}. Bring each into reach with the app open; take off a device that is lost.`
          : "Every device that this office knows has come."}
      </p>
      <p class="bar">
        A device that was paired after the copy was made is not on this list, since the office cannot know it:
        it must be paired again. Ask at every table, at the door and among the porters.
      </p>
      <h3>
        What waits <span class="count">{sum(waits)}</span>
      </h3>
      {waits.length === 0 && <p class="none">Nothing that came so far.</p>}
      <ul class="rows">
        {waits.map(({ device, of, count }) => (
          <li key={`${device} ${of}`} class="row">
            <span class="what">
              {device} <small>on {of || "something that is not here: another device may have it"}</small>
            </span>
            <span class="left">{count}</span>
          </li>
        ))}
      </ul>
      <p>
        <AskedOnce words="No other device will come" asks={followsWords(left, sum(waits))} act={end} />
      </p>
    </section>
  );
}

/** What comes of the manager's word, before it is given. */
function followsWords(left: string[], waiting: number) {
  const missing = left.length
    ? `${left.join(", ")} ${left.length === 1 ? "has" : "have"} not come yet. `
    : "";
  return (
    `${missing}What waits (${waiting}) is then judged as it is, and may be refused; it stays on its device, and goes ` +
    "again by itself once what it is of is here. What a device brings later is judged as well, and devices say that " +
    "what is lacking is to be entered anew."
  );
}

function sum(waits: WaitingOn[]) {
  return waits.reduce((all, { count }) => all + count, 0);
}
