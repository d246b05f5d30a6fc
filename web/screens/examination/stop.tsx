/**
 * Stop, on an item: a sign of hazard or restriction was noticed. Which sign it is, what to do in the first minute, who
 * decides; and later what they decided. The tool never says what a thing is, nor that it is safe.
 */

import { useLayoutEffect, useState } from "preact/hooks";
import { cautionsNamed } from "../../job/called_for.ts";
import { standingCautions } from "../../job/cautions.ts";
import { mayBeReturned } from "../../job/stopped.ts";
import type { Caution, ItemRecord, PlanBook } from "../../job/types.ts";
import { fieldValue, listed } from "../../job/values.ts";
import { isBackWithOwner } from "../../job/with_owner.ts";
import { Signs } from "../../parts/caution_signs.tsx";
import { Frame } from "../../parts/frame.tsx";
import { KeysOfPart } from "../../parts/in_dock.tsx";
import { attempt, sayNothing } from "../../parts/notices.tsx";
import { TieOn } from "../../parts/tie_on.tsx";
import { usePlan, usePlanBook, useRecord } from "../../parts/use.ts";
import { handledLate } from "../../parts/with_words.ts";
import { isAtOnce, putOn, Raise } from "./stop_raise.tsx";
import { Raised } from "./stop_raised.tsx";

/** `zone_key` is the line of one of its pieces, if that is what the sign was seen on. */
export default function Stop({ item_id, zone_key = "" }: { item_id: string; zone_key?: string }) {
  const item = useRecord("item", item_id);
  const plan = usePlan(item);
  const book = usePlanBook();
  const [chosen, setChosen] = useState<Caution | null>(null);
  const [deciding, setDeciding] = useState("");
  const HandledLate = handledLate.value;
  // What to do first stands on top, also where the page had moved under the hand that wrote what was seen.
  useLayoutEffect(() => scrollTo(0, 0), [chosen]);
  const back = `#/item/${item_id}`;
  if (!item || plan === undefined || !book?.cautions)
    return (
      <Frame title="Stop" back={back}>
        <p>Reading …</p>
      </Frame>
    );
  const name = fieldValue(item, "short_description") ?? "";
  const sign = fieldValue(item, `listed/${zone_key}`)?.words ?? "";
  if (chosen)
    return <Raise item={item} sign={sign} book={book} caution={chosen} close={() => setChosen(null)} />;
  const raised = lastFirst(
    listed(item, "cautions/"),
    ({ id }) => !fieldValue(item, `caution-decisions/${id}`),
  );
  const choose = (caution: Caution) => {
    scrollTo(0, 0);
    if (!isAtOnce(caution)) return setChosen(caution);
    attempt(async () => {
      // Who presses a sign again, having seen nothing happen, means the caution that stands.
      const stands = standingCautions(item).some(({ value }) => value.hazard === caution.hazard);
      if (!stands) await putOn(item_id, caution, { sign, called: "", place: "" });
      sayNothing(); // that it is stopped stands above, in red, and below what to do now
    });
  };
  return (
    <Frame
      title="Stop"
      back={back}
      item_id={item.record_id}
      stoppedToo={true}
      action={<AfterStop item={item} book={book} isDeciding={Boolean(deciding)} decide={setDeciding} />}
    >
      {raised.map(({ id, value }) => (
        <Raised
          key={id}
          {...{ id, value, item, book }}
          isOpen={deciding === id}
          setOpen={(open) => setDeciding(open ? id : "")}
        />
      ))}
      {HandledLate && <HandledLate item={item} />}
      <section>
        <h2>{raised.length ? "Another sign" : "Hands off. What was noticed?"}</h2>
        <Signs
          pack={book.cautions}
          plan={plan}
          named={cautionsNamed(book.cautions, item, name).map(({ row }) => row)}
          choose={choose}
        />
      </section>
      <p class="hint">
        {book.cautions.country}. {book.cautions.notice}
      </p>
      <p>
        <a class="button" href="#/cards">
          Cards to print
        </a>
      </p>
    </Frame>
  );
}

/** What was raised last stands first, before all that is decided: its first minute is now. Ids go by the clock. */
function lastFirst<Raised extends { id: string }>(
  raised: readonly Raised[],
  isOpen: (raised: Raised) => boolean,
) {
  const byTime = [...raised].sort((a, b) => (a.id > b.id ? -1 : 1));
  return [...byTime.filter(isOpen), ...byTime.filter((one) => !isOpen(one))];
}

type AfterStopOf = {
  item: ItemRecord;
  book: PlanBook;
  isDeciding: boolean;
  decide: (caution_id: string) => void;
};

/** The rows that send people away, or out, before anybody calls: no telephone close to it. */
const AWAY = /\b(away|out)\b/i;

/** What is next under a stop is the word of whoever decides, then what was decided; nobody goes on with the thing. */
function AfterStop({ item, book, isDeciding, decide }: AfterStopOf) {
  const address = `#/item/${item.record_id}`;
  const isOpen = ({ id, on }: ReturnType<typeof standingCautions>[number]) =>
    !fieldValue(on, `caution-decisions/${id}`);
  const reds = lastFirst(
    standingCautions(item).filter(({ value }) => value.level === "red"),
    isOpen,
  );
  if (isDeciding) return <KeysOfPart />;
  if (!reds.length)
    return (
      <a class="button" href={address}>
        Back to the item
      </a>
    );
  const open = reds.find(isOpen);
  if (!open)
    return mayBeReturned(item) && !isBackWithOwner(item) ? (
      <TieOn href={`${address}/tag`} left="it was decided so">
        Next: back to its owner
      </TieOn>
    ) : (
      <TieOn href={`#/visit/${item.visit_id}`} left="it stays as it was decided">
        Back to the visit
      </TieOn>
    );
  const row = book.cautions.cautions.find(({ hazard }) => hazard === open.value.hazard);
  const who = row?.who;
  return (
    <TieOn
      {...(open.on === item
        ? { press: () => decide(open.id) }
        : { href: `#/item/${open.on.record_id}/stop` })}
      left={who && `decides: ${who}`}
    >
      {AWAY.test(row?.caution ?? "") && "Go away first. "}Call, then the decision
    </TieOn>
  );
}
