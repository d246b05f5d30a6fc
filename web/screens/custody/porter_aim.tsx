/** What is done with the things that are scanned. Another aim begins another count. */

import { PLACES, thingName, toWords } from "../../job/custody.ts";
import type { Place } from "../../job/fields.ts";
import type { OpenContainer, Person } from "../../job/operations.ts";
import type { ContainerRecord } from "../../job/types.ts";
import { firstUpper } from "../../job/words.ts";
import { Choice, type Option, Select } from "../../parts/choices.tsx";
import { Typed } from "../../parts/controls.tsx";
import { keepsPack } from "../../parts/packs.ts";
import { arrivals, type LoadOf } from "./arrivals.ts";

export type Aim = {
  work: "move" | "inside" | "open";
  to: Place;
  at: string;
  given: string;
  /** Who said that nobody else had it before, and brought it alone: of what comes to the store, or to a shelf. */
  alone?: string;
  container: string;
  kind_of: OpenContainer["kind_of"];
  /** The load that what arrives had left with; "" if nobody said, NO_LOAD if none of those that left. */
  of_load: string;
  /** The load that is counted again. */
  again?: string;
};

const WORK: readonly (readonly [Aim["work"], string])[] = [
  ["move", "Move to a place"],
  ["inside", "Put into a container"],
  ["open", "New bag, box or crate"],
];
const KINDS: readonly (readonly [Aim["kind_of"], string])[] = [
  ["bag", "Bag"],
  ["box", "Box"],
  ["crate", "Crate"],
];

/** What has still to be said before anything can be scanned; "" if nothing. */
export function whatIsMissing(aim: Aim, me: string) {
  if (aim.work === "open") return "";
  if (aim.work === "inside") return ""; // without a container the first scan says which
  if (!me) return "Choose your name on the Today screen";
  return aim.given ? "" : "Say who gives";
}

/**
 * A count outlives a change of name: whoever takes the things now has given them as well only if they said so, and what
 * somebody else said they did alone is nobody's word now.
 */
export function withGiver(aim: Aim, others: Person[], me: string): Aim {
  const isGood = aim.alone ? isAlone(aim, me) : others.some(({ name }) => name === aim.given);
  return isGood ? aim : { ...aim, given: "", alone: "" };
}

function isAlone(aim: Aim, me: string) {
  return isArrival(aim) && me !== "" && aim.alone === me && aim.given === me;
}

/** What is counted now, in one line. */
export function aimWords(aim: Aim, containers: ContainerRecord[]) {
  if (aim.work === "open") return `New: ${aim.kind_of}`;
  const into = containers.find(({ record_id }) => record_id === aim.container);
  if (aim.work === "inside") return into ? `Into ${thingName(into)}` : "Scan the container first";
  const by = aim.alone ? `by ${aim.given} alone` : `given by ${aim.given}`;
  return firstUpper(`${toWords(aim.to, aim.at)}${aim.given && `, ${by}`}`);
}

/** Whether what is moved comes out of the van there. */
export function isArrival({ work, to }: Aim) {
  return work === "move" && (to === "store" || to === "shelf");
}

type AimFieldsOf = {
  aim: Aim;
  /** For what begins another count. */
  change: (patch: Partial<Aim>) => void;
  setAim: (patch: Partial<Aim>) => void;
  /** Whoever may have given it. */
  others: Person[];
  me: string;
  containers: ContainerRecord[];
  of: LoadOf;
};

export function AimFields({ aim, change, setAim, others, me, containers, of }: AimFieldsOf) {
  return (
    <div class="aim">
      <Choice
        label="What is done"
        options={WORK}
        value={aim.work}
        choose={(work) => change({ work, at: "", kind_of: "box", container: "" })}
      />
      {aim.work === "move" && (
        <ToAPlace aim={aim} change={change} setAim={setAim} others={others} me={me} of={of} />
      )}
      {aim.work === "inside" && <IntoAContainer aim={aim} change={change} containers={containers} />}
      {aim.work === "open" && (
        <Choice label="Which" options={KINDS} value={aim.kind_of} choose={(kind_of) => change({ kind_of })} />
      )}
    </div>
  );
}

function ToAPlace({ aim, change, setAim, others, me, of }: Omit<AimFieldsOf, "containers">) {
  return (
    <>
      <Choice
        label="To"
        options={PLACES.filter(([place]) => place !== "returned")}
        value={aim.to}
        choose={(to) =>
          // a trip is no shelf, and who gave in the hall does not give at the store
          change(to === aim.to ? { of_load: aim.of_load } : { to, at: "", given: "", alone: "" })
        }
      />
      <div class="pair">
        <Typed
          label="Where exactly"
          hint="Shelf, trip, table"
          value={aim.at}
          save={async (at) => setAim({ at })}
        />
        <GivenBy {...{ aim, others, me }} choose={(giver) => change({ ...giver, of_load: aim.of_load })} />
      </div>
      {isArrival(aim) && <LeftWith {...of} choose={(of_load) => setAim({ of_load })} />}
      <p class="hint">Taken by {me || "nobody yet: choose your name on the Today screen"}.</p>
    </>
  );
}

/** The load that what arrives had left with, or why it is not chosen here. */
export function LeftWith(of: LoadOf & { choose: (of_load: string) => unknown }) {
  const LoadChoice = arrivals.value?.LoadChoice;
  return LoadChoice ? <LoadChoice {...of} /> : <p class="hint">{whyNoLoads()}</p>;
}

/** Why what arrives is not held against the loads that left: a porter's device has that in a moment, a table never. */
export function whyNoLoads() {
  return keepsPack("custody") ? LOADS_COMING : LOADS_ELSEWHERE;
}

/** Said as well while the office was not heard to the end. */
export const LOADS_COMING =
  "The loads that left are still coming: wait for them, to choose the one that arrives.";
const LOADS_ELSEWHERE =
  "Which load arrives is chosen on a porter's or the manager's device. What is scanned here counts there as come.";

type Giver = Required<Pick<Aim, "given" | "alone">>;
type GivenByOf = Pick<AimFieldsOf, "aim" | "others" | "me"> & { choose: (giver: Giver) => unknown };

/** In the hall two hand over; whoever drove may stand at the store alone, and says so instead of another's name. */
export function GivenBy({ aim, others, me, choose }: GivenByOf) {
  const alone: Option<string>[] =
    isArrival(aim) && me
      ? [[me, aim.to === "store" ? "Nobody else: I drove it" : "Nobody else: I bring it myself"]]
      : [];
  return (
    <Select
      label="Given by"
      options={[...others.map(({ name }) => [name, name] as const), ...alone]}
      value={aim.given}
      choose={(given) => choose({ given, alone: given === me ? me : "" })}
    />
  );
}

function IntoAContainer({ aim, change, containers }: Pick<AimFieldsOf, "aim" | "change" | "containers">) {
  return (
    <>
      <Select
        label="Into"
        options={containers.map((into) => [into.record_id, thingName(into)] as const)}
        value={aim.container}
        choose={(container) => change({ container })}
        empty="The one that is scanned first"
      />
      {aim.container && keepsPack("custody") && (
        <p>
          <a href={`#/container/${aim.container}`}>See what is in it, and its seal</a>
        </p>
      )}
    </>
  );
}
