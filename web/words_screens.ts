/**
 * What makes sentences of a record comes as one piece: the item in words, and the words beside the walk. Devices of
 * every role keep it, once they are paired (`parts/packs.ts`). So do what is measured, tried and read off a thing, what
 * is signed with an owner and goes back to one, what two people said otherwise and what gave way, what the office lost,
 * what is moved and packed, the check of the device itself, and the cards of a Stop, which are printed before the doors
 * open.
 */

import type { ScreensOf } from "./addresses.ts";
import "./job/list_sentences.ts";
import "./hall_screens.ts"; // every device keeps them: what these share with them is one file with theirs
import { noteAsTheyLeave, noteOf, whyUsed } from "./local/numbers_gone.ts";
import { afterClosing } from "./parts/after_closing.tsx";
import { ClosedSince } from "./parts/closed_since.tsx";
import { Condition } from "./parts/condition.tsx";
import { TwoSaid } from "./parts/incident_between.tsx";
import { Settling } from "./parts/incident_settled.tsx";
import { LateActs } from "./parts/late_acts.tsx";
import "./parts/opened_in_sight.ts";
import { measuredOf } from "./job/measured_of.ts";
import { awayWords } from "./job/where_words.ts";
import { Overruled } from "./parts/overruled.tsx";
import { addStyles } from "./parts/styles.ts";
import { ToldNote } from "./parts/told_note.tsx";
import {
  classChange,
  closedSince,
  decides,
  goingBack,
  handledLate,
  heldBefore,
  inPieces,
  lackingHere,
  makerAndDate,
  moreOnFinding,
  overall,
  overruledHere,
  rollLeft,
  saidOtherwise,
  settlesIncident,
  sharedTickets,
  toLookAtHere,
  underViews,
  usedBefore,
  whereAway,
  whereTheyAre,
} from "./parts/with_words.ts";
import { DoubledTickets, SharedTicket, TicketTyped } from "./screens/arrival/tickets_shared.tsx";
import { receiptWords } from "./screens/arrival/to_receipt.tsx";
import { AsksManager } from "./screens/arrival/today_closed.tsx";
import { WhereTheyAre } from "./screens/arrival/visit_where.tsx";
import { SameOwner, WasHere } from "./screens/arrival/was_here.tsx";
import Porter from "./screens/custody/porter.tsx";
import Receipt from "./screens/custody/receipt.tsx";
import { toSignWords } from "./screens/custody/to_sign.ts";
import { against } from "./screens/examination/both_ways.tsx";
import {
  findingBack,
  HowSure,
  Meaning,
  OtherSide,
  standsAgain,
} from "./screens/examination/finding_more.tsx";
import { TwoValuesStand } from "./screens/examination/item_between.tsx";
import { Change, loses } from "./screens/examination/item_class_change.tsx";
import { MakerAndDate } from "./screens/examination/item_maker.tsx";
import { KnownSoFar } from "./screens/examination/known_so_far.tsx";
import Marks from "./screens/examination/marks.tsx";
import { Skipped } from "./screens/examination/photos_skipped.tsx";
import { Taken } from "./screens/examination/photos_taken.tsx";
import { HowManyPieces, PiecesCounted } from "./screens/examination/pieces.tsx";
import { RestNotExamined } from "./screens/examination/rest_not_examined.tsx";
import { knownSoFar } from "./screens/examination/so_far.ts";
import StopCards from "./screens/examination/stop_cards.tsx";
import { Decide } from "./screens/examination/stop_decide.tsx";
import { Swept } from "./screens/examination/swept.tsx";
import Tried from "./screens/examination/tried.tsx";
import { WhichPiece } from "./screens/examination/which_piece.tsx";
import Words from "./screens/examination/words.tsx";
import { AnyMark, HasNone, sayNone } from "./screens/examination/zones_none.tsx";
import { sweeps } from "./screens/examination/zones_sweep.tsx";
import { covered, NeverHad, RestClear } from "./screens/examination/zones_sweeps.tsx";
import Check from "./screens/office/check.tsx";
import { LackingHere } from "./screens/sync/lacking_here.tsx";
import { ToLookAtHere } from "./screens/sync/refused.tsx";
import { RollLeft } from "./screens/tagging/roll_left.tsx";
import { NotSentYet, TakeBack } from "./screens/tagging/tag_back.tsx";
import { GoesHome } from "./screens/tagging/tag_home.tsx";
import { Numbers } from "./screens/tagging/tag_numbers.tsx";
import { WhichPart } from "./screens/tagging/tag_part.tsx";
import atAThing from "./styles/at_a_thing.css" with { type: "text" };
import print from "./styles/print.css" with { type: "text" };
import { hearOnFullPhones } from "./sync/full_phone.ts";

addStyles([atAThing]);
addStyles([print], "print");
hearOnFullPhones();
receiptWords.value = toSignWords;
knownSoFar.value = KnownSoFar;
sweeps.value = { NeverHad, RestClear, RestNotExamined, AnyMark, covered, HasNone, sayNone, Swept, against };
afterClosing.value = AsksManager;
overruledHere.value = Overruled;
lackingHere.value = LackingHere;
toLookAtHere.value = ToLookAtHere;
closedSince.value = ClosedSince;
sharedTickets.value = { DoubledTickets, SharedTicket, TicketTyped, WasHere, SameOwner };
whereTheyAre.value = WhereTheyAre;
whereAway.value = awayWords;
decides.value = Decide;
classChange.value = { loses, Change };
handledLate.value = LateActs;
settlesIncident.value = Settling;
saidOtherwise.value = { TwoSaid, TwoValuesStand };
makerAndDate.value = MakerAndDate;
underViews.value = { Skipped, Taken };
overall.value = Condition;
moreOnFinding.value = { Meaning, OtherSide, HowSure, ToldNote, findingBack, standsAgain };
inPieces.value = { HowManyPieces, measuredOf, PiecesCounted, WhichPart, WhichPiece };
rollLeft.value = RollLeft;
goingBack.value = { GoesHome, NotSentYet, Numbers, TakeBack };
usedBefore.value = whyUsed;
heldBefore.value = (tag) => noteOf(tag)?.held_on;
noteAsTheyLeave().catch(() => {}); // a database that cannot be read says so by itself

export const SCREENS: ScreensOf<"words"> = {
  cards: StopCards,
  check: Check,
  "item/marks": Marks,
  "item/measures": Tried,
  "item/words": Words,
  "item/works": Tried,
  porter: Porter,
  "visit/receipt": Receipt,
};
