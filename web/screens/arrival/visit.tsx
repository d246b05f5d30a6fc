/** A visit: one owner's turn. What they brought, who they are, and their items. */

import type { ComponentChildren } from "preact";
import { photosOf } from "../../job/progress.ts";
import { isLeftAlone } from "../../job/stopped.ts";
import { fieldValue } from "../../job/values.ts";
import type { ThisDevice } from "../../local/device.ts";
import { itemsOfVisit, recordOf } from "../../local/memory.ts";
import { Below } from "../../parts/below.tsx";
import { Counted } from "../../parts/controls.tsx";
import { Frame } from "../../parts/frame.tsx";
import { StandingIncidents } from "../../parts/incident_bar.tsx";
import { RecordPhotos } from "../../parts/record_photos.tsx";
import { useDevice, useField, useRecord, useSelected } from "../../parts/use.ts";
import { closedSince, sharedTickets, whereTheyAre } from "../../parts/with_words.ts";
import { ItemRows } from "./item_rows.tsx";
import { ToReceipt } from "./to_receipt.tsx";
import { Action, setVisit, useAllHere } from "./visit_action.tsx";
import { Arrival, Note } from "./visit_arrival.tsx";
import { Owner, OwnerName } from "./visit_owner.tsx";

export default function Visit({ visit_id }: { visit_id: string }) {
  // Drawn anew when it comes or goes, not with every key: each field below reads its own value.
  const day_id = useSelected(() => {
    const visit = recordOf("visit", visit_id);
    return visit === null ? null : visit?.day_id;
  }, [visit_id]);
  const device = useDevice();
  const isAllHere = useAllHere(visit_id) && device?.role !== "door" && device?.role !== "porter";
  if (!day_id || !device)
    return (
      <Frame title="Visit" back="#/today">
        <p>
          {day_id === null
            ? "This visit is not on this device yet. It comes with the next sync."
            : "Reading …"}
        </p>
      </Frame>
    );
  const ids = { visit_id, day_id };
  const [ClosedSince, WhereTheyAre, shared] = [closedSince.value, whereTheyAre.value, sharedTickets.value];
  return (
    <Frame
      title={() => `Visit ${fieldValue(recordOf("visit", visit_id), "ticket")}`}
      back="#/today"
      action={<Action {...ids} device={device} isAllHere={isAllHere} />}
    >
      <StandingIncidents />
      {shared && <shared.SharedTicket visit_id={visit_id} device={device} />}
      {ClosedSince && <ClosedSince kind="visit" id={visit_id} />}
      <AllowedBy visit_id={visit_id} />
      {device.role !== "door" && <Needs visit_id={visit_id} />}
      <WhoAndHowMany visit_id={visit_id} device={device} />
      {WhereTheyAre && <WhereTheyAre visit_id={visit_id} device={device} />}
      <Items visit_id={visit_id} />
      <Below>
        {!isAllHere && <ToReceipt visit_id={visit_id} />}
        <Unpacked visit_id={visit_id} />
        <BroughtAndNeeds visit_id={visit_id} isOpen={device.role === "door"} />
        <Folded words="Owner: where and how to reach them">
          <Owner visit_id={visit_id} />
        </Folded>
        <Folded words="Note">
          <Note visit_id={visit_id} />
        </Folded>
      </Below>
    </Frame>
  );
}

/** The day was closed when this visit was opened. */
function AllowedBy({ visit_id }: { visit_id: string }) {
  const allowed_by = useField(visit_id, "allowed_by");
  return allowed_by ? <p class="bar">Opened after the day was closed: {allowed_by} allowed it.</p> : null;
}

/** The door has it in an open field below; whoever sits with them reads it before anything else is done. */
function Needs({ visit_id }: { visit_id: string }) {
  const needs = useField(visit_id, "needs");
  return needs ? (
    <p class="bar">
      <b>Needs:</b> {needs}
    </p>
  ) : null;
}

/** What is asked of everybody stands first; the rest is folded away until somebody wants it. */
function WhoAndHowMany({ visit_id, device }: { visit_id: string; device: ThisDevice }) {
  const counted = useField(visit_id, "item_count");
  return (
    <section class="pair">
      <OwnerName visit_id={visit_id} />
      {device.role !== "door" && (
        <Counted
          label="Things counted at unpacking"
          value={counted}
          save={(count) => setVisit(visit_id, "item_count", count)}
        />
      )}
    </section>
  );
}

/** The door writes it; a table reads what was written, and unfolds it only to change it. */
function BroughtAndNeeds({ visit_id, isOpen }: { visit_id: string; isOpen: boolean }) {
  const written = useField(visit_id, "kinds") || "";
  return (
    <Folded words="What they brought and need" written={isOpen ? "" : written} isOpen={isOpen}>
      <Arrival visit_id={visit_id} />
    </Folded>
  );
}

function Folded({
  words,
  written = "",
  isOpen = false,
  children,
}: {
  words: string;
  written?: string;
  isOpen?: boolean;
  children: ComponentChildren;
}) {
  return (
    <details class="folded" open={isOpen}>
      <summary>
        {words}
        {written && <small>{written}</small>}
      </summary>
      {children}
    </details>
  );
}

function Unpacked({ visit_id }: { visit_id: string }) {
  const visit = useRecord("visit", visit_id);
  // Nobody is sent to the table with a camera where something on it is left alone.
  const taken = Boolean(visit && photosOf(visit).length);
  if (!taken && (itemsOfVisit(visit_id) ?? []).some(isLeftAlone)) return null;
  return (
    <Folded words={taken ? "Unpacked: pictures taken" : "Unpacked: one picture of everything"}>
      <p class="hint">
        One picture of everything on the table with the ticket in it, before anything is looked at.
      </p>
      {visit && <RecordPhotos record={visit} words="what was unpacked" />}
    </Folded>
  );
}

function Items({ visit_id }: { visit_id: string }) {
  const items = itemsOfVisit(visit_id) ?? [];
  const counted = useField(visit_id, "item_count");
  return (
    <section>
      <h2>
        Items <span class="count">{counted ? `${items.length} of ${counted} counted` : items.length}</span>
      </h2>
      {items.length ? <ItemRows items={items} /> : <p class="none">Nothing is on the table yet.</p>}
    </section>
  );
}
