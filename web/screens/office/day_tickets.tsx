/** Runs of tickets, one for each door, as tables have rolls of tags. */
import { peopleHere } from "../../job/day_facts.ts";
import { newId } from "../../job/ids.ts";
import { nextRun } from "../../job/next_run.ts";
import { HIGHEST_TICKET, isPromised, type TicketRun, ticketOf, ticketRuns } from "../../job/tickets.ts";
import type { DayRecord, VisitRecord } from "../../job/types.ts";
import { countWords } from "../../job/words.ts";
import { refused, waiting } from "../../local/memory.ts";
import { keep, setAside } from "../../local/outbox.ts";
import { Counted } from "../../parts/controls.tsx";
import { attempt, sayDone } from "../../parts/notices.tsx";
import { DeviceChoice, type PairedDevice, usePairedDevices } from "../../parts/paired_devices.tsx";
import { useRecords } from "../../parts/use.ts";
import { useHeld } from "../../parts/use_held.ts";
import { GoesOn, useTicketsLeft } from "./day_tickets_left.tsx";

/**
 * Who gives tickets: the door. A manager's device does where somebody wears both hats, and a table where no door is
 * paired, since owners then come to it first.
 */
function givesTickets(day: DayRecord, devices: PairedDevice[] | null): string[] {
  const isDoor = peopleHere(day).some(({ roles }) => roles.includes("door") && roles.includes("manager"));
  const hasDoor = !devices || devices.some(({ role }) => role === "door");
  return ["door", ...(hasDoor ? [] : ["table"]), ...(isDoor ? ["manager"] : [])];
}

/** So many tickets a run has, unless the manager says otherwise. */
const USUAL = 100;

export function Tickets({ day }: { day: DayRecord }) {
  const visits = useRecords("visit", day.record_id);
  const devices = usePairedDevices();
  const left = useTicketsLeft(day.record_id);
  if (!visits) return null;
  const runs = ticketRuns(day, visits);
  const roles = givesTickets(day, devices);
  return (
    <section>
      <h3>Tickets</h3>
      <p class="hint">
        A run for each device at the door, so that two of them with no network never give one ticket twice. A
        device without one goes on with letters of its own.
      </p>
      {runs.some(({ for_device_id }) => for_device_id) && (
        <p class="hint">
          A run stays with its device, also when that is broken or away: what it has given with no network is
          not known here, and another one would give it a second time. Give the other one a run of its own.
        </p>
      )}
      {runs.length > 0 && (
        <ul class="rows">
          {runs.map((run) => (
            <li key={run.run_id}>
              <OneRun run={run} roles={roles} day_id={day.record_id} devices={devices} />
            </li>
          ))}
        </ul>
      )}
      <NotGiven day_id={day.record_id} runs={runs} visits={visits} />
      {left.runs.map((run) => (
        <GoesOn key={run.first} run={run} day_id={day.record_id} runs={runs} />
      ))}
      <NewRun {...{ runs, visits, roles, devices }} day_id={day.record_id} before={left.last} />
    </section>
  );
}

/**
 * Runs given here that the office refused, since another manager had given their numbers: nobody has them. Each is
 * given anew behind the last, or put away.
 */
function NotGiven({ day_id, runs, visits }: { day_id: string; runs: TicketRun[]; visits: VisitRecord[] }) {
  const fallen = refused.value.flatMap((refusal) =>
    refusal.operation.kind === "give_tickets" && refusal.operation.day_id === day_id
      ? [{ refusal, run: refusal.operation, problem: refusal.problem }]
      : [],
  );
  return fallen.map(({ refusal, run, problem }) => {
    const { operation_id, given_to, for_device_id } = run;
    const { first, last } = nextRun(runs, visits, run.last - run.first + 1);
    const give = () =>
      attempt(async () => {
        await keep("give_tickets", { day_id, run_id: newId(), first, last, given_to, for_device_id });
        await setAside(refusal);
        sayDone(
          `${ticketOf(first)} to ${ticketOf(last)} are for ${given_to}, once the office has kept that.`,
        );
      });
    return (
      <div class="bar wrong" key={operation_id}>
        <p>
          {given_to} did not get {ticketOf(run.first)} to {ticketOf(run.last)}: {problem.detail}{" "}
          <a href="#/outbox">See what was refused</a>
        </p>
        <p class="buttons">
          {first <= HIGHEST_TICKET && for_device_id && (
            <button type="button" onClick={give}>
              Give it {ticketOf(first)} to {ticketOf(last)} instead
            </button>
          )}
          <button type="button" class="quiet" onClick={() => attempt(() => setAside(refusal))}>
            Drop it: {given_to || "nobody"} gets none in its place
          </button>
        </p>
      </div>
    );
  });
}

type RunOf = { run: TicketRun; roles: string[]; day_id: string; devices: PairedDevice[] | null };

/**
 * A run: how far it is used as far as the office heard, and who has it. One that a device has stays its own: what it
 * gives with no network nobody else knows. One that nobody has can be given.
 */
function OneRun({ run, roles, day_id, devices }: RunOf) {
  const { run_id, first, last, used, given_to, for_device_id } = run;
  const give = (device: PairedDevice | null) =>
    device &&
    keep("give_tickets", {
      day_id,
      run_id,
      first,
      last,
      given_to: device.name,
      for_device_id: device.device_id,
    });
  return (
    <>
      <p>
        <strong>
          {ticketOf(first)} to {ticketOf(last)}
        </strong>
        , {given_to || "nobody has it"}:{" "}
        {isPromised(run, waiting.value)
          ? "the office has not kept it yet, and until then no ticket of it is given"
          : `${used} of ${last - first + 1} used`}
      </p>
      {!for_device_id && devices && (
        <DeviceChoice label="Give it to" roles={roles} devices={devices} chosen={null} choose={give} />
      )}
    </>
  );
}

type NewRunOf = {
  day_id: string;
  runs: TicketRun[];
  visits: VisitRecord[];
  roles: string[];
  devices: PairedDevice[] | null;
  /** The highest ticket of the days before. */
  before: number;
};

function NewRun({ day_id, runs, visits, roles, devices, before }: NewRunOf) {
  const { form, set, drop } = useHeld(`tickets ${day_id}`, { count: USUAL, device_id: "" });
  const behind = nextRun([...runs, { last: before }], visits, form.count);
  // Behind the highest that there is they begin again, as paper ones do.
  const { first, last } = behind.first > HIGHEST_TICKET ? nextRun(runs, visits, form.count) : behind;
  const device = devices?.find(({ device_id }) => device_id === form.device_id);
  if (first > HIGHEST_TICKET)
    return <p class="hint">All tickets up to {ticketOf(HIGHEST_TICKET)} are given out.</p>;
  const give = () =>
    attempt(async () => {
      if (!device) return;
      const { device_id: for_device_id, name: given_to } = device;
      await keep("give_tickets", { day_id, run_id: newId(), first, last, given_to, for_device_id });
      drop();
      sayDone(`${ticketOf(first)} to ${ticketOf(last)} are for ${given_to}, once the office has kept that.`);
    });
  const has = (role: string) => !devices || devices.some((device) => device.role === role);
  const pairFirst = !has("door") && (
    <p class="hint">No door is paired yet. Pair it first, under Devices; then it gets its run here.</p>
  );
  if (!roles.some(has)) return pairFirst;
  return (
    <>
      {pairFirst}
      <div class="pair">
        <DeviceChoice
          label="Give a run to"
          roles={roles}
          empty="Choose a device"
          devices={devices}
          chosen={form.device_id}
          choose={(chosen) => set("device_id")(chosen?.device_id ?? "")}
        />
        <Counted label="How many tickets" value={form.count} save={set("count")} />
      </div>
      <button type="button" disabled={!device} onClick={give}>
        {device
          ? `Give ${countWords(last - first + 1, "ticket")} from ${ticketOf(first)} on`
          : "Choose who gets the run first"}
      </button>
    </>
  );
}
