/**
 * Parts of the first screens that are seldom wanted, and never in the first moment: they come with the words' pack,
 * which every device keeps. Null until that is loaded, a moment after the first screen, with no network too.
 */

import { effect, type ReadonlySignal, signal } from "@preact/signals-core";
import type { FunctionComponent } from "preact";
import type { RollCount } from "../job/custody.ts";
import type { CautionDecision, FindingValue } from "../job/fields.ts";
import type { Step } from "../job/progress.ts";
import type {
  DayRecord,
  Disagreement,
  ItemRecord,
  Operation,
  Plan,
  PlanBook,
  Term,
  VisitRecord,
} from "../job/types.ts";
import type { awayWords } from "../job/where_words.ts";
import type { ThisDevice } from "../local/device.ts";
import type { IncidentOf } from "./incidents.tsx";

/** How long a press waits for what comes with the pack: a moment, and no longer where it cannot be loaded. */
const AT_MOST_MS = 5000;

/** What comes with the pack, for a press in the moment before it is here; null if it does not come. */
export function whenHere<Part>(part: ReadonlySignal<Part | null>): Promise<Part | null> {
  return new Promise((resolve) => {
    const timer = setTimeout(() => resolve(null), AT_MOST_MS);
    const end = effect(() => {
      if (part.value === null) return;
      clearTimeout(timer);
      resolve(part.peek());
      queueMicrotask(() => end());
    });
  });
}

/** What somebody said here and gave way. */
export const overruledHere = signal<FunctionComponent | null>(null);
/** What the office lost and this device cannot send again. */
export const lackingHere = signal<FunctionComponent | null>(null);
/** What the office refused of this device, or kept otherwise than it was last entered, with what to do. */
export const toLookAtHere = signal<FunctionComponent | null>(null);
/** Why a number that is on nothing here is not to be used all the same; "" if nothing is known. */
export const usedBefore = signal<((tag: string) => string) | null>(null);
/** The date of a day that this device holds no longer, and whose thing a number is on. */
export const heldBefore = signal<((tag: string) => string | undefined) | null>(null);
/** The numbers of a thing; how it goes back to its owner, with a number or without, and stays after all. */
export const goingBack = signal<{
  Numbers: FunctionComponent<{ item: ItemRecord }>;
  GoesHome: FunctionComponent<{ item: ItemRecord }>;
  NotSentYet: FunctionComponent<{ item: ItemRecord }>;
  TakeBack: FunctionComponent<{ item: ItemRecord; tags: string[]; onOpen: (open: boolean) => void }>;
} | null>(null);
/** By whom and when a thing was made: what reads dates weighs much, and stands below what is asked first. */
export const makerAndDate = signal<FunctionComponent<{ item_id: string; book: PlanBook | null }> | null>(
  null,
);
/** A view of a plan, as its picture is asked for. */
export type ViewShot = {
  words: string;
  about: { view: string | null };
  photo: object | undefined;
  skipped: string;
};
/** Below the views of a thing: why one is not taken, and the pictures, each with what it shows. */
export const underViews = signal<{
  Skipped: FunctionComponent<{
    item_id: string;
    shot: ViewShot;
    /** All that is still to be taken. */
    open: readonly ViewShot[];
    book: PlanBook | null | undefined;
    isAsking: boolean;
    setAsking: (asking: boolean) => void;
    onward: () => void;
  }>;
  Taken: FunctionComponent<{ item: ItemRecord; views: Plan["views"]; together: readonly string[] }>;
} | null>(null);
/** How many pieces a thing has, beside its numbers too, and on which of several something was found. */
export const inPieces = signal<{
  HowManyPieces: FunctionComponent<{ item_id: string }>;
  PiecesCounted: FunctionComponent<{ item: ItemRecord }>;
  measuredOf: (item: ItemRecord) => string[];
  WhichPart: FunctionComponent<{
    item: ItemRecord;
    value: string;
    save: (words: string) => Promise<unknown>;
  }>;
  WhichPiece: FunctionComponent<{
    id: string;
    item: ItemRecord;
    value: FindingValue;
    change: (patch: Partial<FindingValue>) => Promise<unknown>;
  }>;
} | null>(null);
/** What is seldom said of a finding: what its word means, the same on the other side, how sure, what was told. */
export const moreOnFinding = signal<{
  Meaning: FunctionComponent<{ term: Term }>;
  OtherSide: FunctionComponent<{ value: FindingValue; item: ItemRecord; step: Step }>;
  HowSure: FunctionComponent<{
    value: FindingValue;
    book: PlanBook;
    change: (patch: Partial<FindingValue>) => Promise<unknown>;
  }>;
  ToldNote: FunctionComponent<{ id: string; item: ItemRecord; value: FindingValue }>;
  findingBack: (made: readonly Operation[], of: FindingBack) => Promise<unknown>;
  standsAgain: (
    change: (patch: Partial<FindingValue>) => Promise<unknown>,
    item_id: string,
    before: Step,
  ) => Promise<unknown>;
} | null>(null);
/**
 * Tickets that two owners hold: on the day's list, on a visit, and below the box in which one is typed; and an owner
 * who comes again with the ticket that they had.
 */
export const sharedTickets = signal<{
  DoubledTickets: FunctionComponent<{ visits: readonly VisitRecord[] }>;
  SharedTicket: FunctionComponent<{ visit_id: string; device: ThisDevice }>;
  TicketTyped: FunctionComponent<{ visit_id: string }>;
  WasHere: FunctionComponent<{ day: DayRecord; device: ThisDevice; visits: readonly VisitRecord[] }>;
  SameOwner: FunctionComponent<{ visit_id: string; earlier: VisitRecord; device: ThisDevice }>;
} | null>(null);
/** Where an owner is, and what is asked as they leave. */
export const whereTheyAre = signal<FunctionComponent<{ visit_id: string; device: ThisDevice }> | null>(null);
/** What hands did to a stopped thing before they had heard of that. */
export const handledLate = signal<FunctionComponent<{ item: ItemRecord }> | null>(null);
/** What was decided on a caution. */
export const decides = signal<FunctionComponent<{
  id: string;
  item: ItemRecord;
  book: PlanBook;
  decided: CautionDecision | undefined;
  close: () => void;
}> | null>(null);
/** Where a thing is that has left the table, in words; "" of one that has not. */
export const whereAway = signal<typeof awayWords | null>(null);
/** How an incident of the day ended. */
export const settlesIncident = signal<FunctionComponent<IncidentOf> | null>(null);
/** A finding that is taken back, and what was said of its zone before it. */
export type FindingBack = { item_id: string; finding_id: string; zone: string; before: Step["state"] };
/** That the day of an item or a visit is closed, and what becomes of a change now. */
export const closedSince = signal<FunctionComponent<{ kind: "item" | "visit"; id: string }> | null>(null);
/** What two people said otherwise, of an item and of an incident. */
export const saidOtherwise = signal<{
  TwoSaid: FunctionComponent<{ day: DayRecord; between: Disagreement }>;
  TwoValuesStand: FunctionComponent<{ item_id: string }>;
} | null>(null);
/** The overall condition as far as the walk has come: it stands below the zones. */
export const overall = signal<FunctionComponent<{ plan: Plan | null; item: ItemRecord }> | null>(null);
/** `tag` is the number in hand, not tied yet; "" if none is. */
export type RollLeftOf = { rolls: RollCount[]; day: DayRecord; device: ThisDevice; tag: string };
/** What is left of a device's roll, and its labels. */
export const rollLeft = signal<FunctionComponent<RollLeftOf> | null>(null);
/** What a class that is changed on a record with more on it takes out of view: asked first, with one press back. */
export const classChange = signal<{
  loses: (item_id: string, class_id: string) => boolean;
  Change: FunctionComponent<{
    item_id: string;
    plan: Plan;
    class_id: string;
    book: PlanBook;
    leave: () => void;
  }>;
} | null>(null);
