"""Every way the office says no: what is so, and what to do next.

There are two branches. After a `Refusal` sending the same thing again will not help and a person decides;
after a `TryAgain` the device keeps what it holds and comes back later. Shape on the wire: RFC 9457.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from http import HTTPStatus

from intake.in_words import some_of


class CommandError(Exception):
    """A command cannot do what it was asked to; the words say what is so and what to do. Nobody hears it over HTTP."""

    def __init__(self, detail: str, *, hint: str) -> None:
        super().__init__(f"{detail}\n{hint}")
        self.detail = detail
        self.hint = hint


class IntakeError(Exception):
    """What went wrong, in words for the person who must act on it. `code` never changes once shipped."""

    status = HTTPStatus.INTERNAL_SERVER_ERROR
    code = "office_fault"
    title = "The office could not do this"

    def __init__(self, detail: str, *, hint: str, headers: Mapping[str, str] | None = None) -> None:
        super().__init__(detail)
        self.detail = detail
        self.hint = hint
        self.headers = dict(headers or {})

    def problem(self) -> dict[str, object]:
        """The members of an `application/problem+json` body, with our `code` and `hint` as extensions."""
        return {
            "type": f"/problems/{self.code}",
            "title": self.title,
            "status": int(self.status),
            "detail": self.detail,
            "code": self.code,
            "hint": self.hint,
        }


class Refusal(IntakeError):
    """Sending it again will not help; a person decides.

    `may_be_on_its_way`: what is missing may be in an earlier operation of the same device that is not here yet.
    `nothing_lifts_it`: no operation that another device may bring would have this one taken, so that it is final even
    while the office hears phones out. Every other refusal waits then: what stood when it was kept may be on its way.
    `may_be_contested`: two people claim one thing, so that it may stand on record for a person to settle.
    """

    status = HTTPStatus.UNPROCESSABLE_ENTITY
    code = "refused"
    title = "The office refused this"
    may_be_on_its_way = False
    nothing_lifts_it = False
    may_be_contested = False


class TryAgain(IntakeError):
    """The device keeps what it holds and tries later."""

    status = HTTPStatus.SERVICE_UNAVAILABLE
    code = "try_again"
    title = "The office cannot take this now"


class Unreadable(Refusal):
    """The operation does not fit any kind this office knows: a field is missing, unknown or of a wrong type."""

    status = HTTPStatus.BAD_REQUEST
    code = "unreadable"
    title = "The office cannot read this"
    nothing_lifts_it = True

    def __init__(self, detail: str) -> None:
        super().__init__(
            detail,
            hint="It stays on the device. If the app is newer than the office, bring the office up to date "
            "and send it again; else correct what is named here.",
        )


class NoSuchPath(Refusal):
    status = HTTPStatus.NOT_FOUND
    code = "no_such_path"
    title = "There is no such address"

    def __init__(self, detail: str) -> None:
        super().__init__(detail, hint="Open the app at its start page; /openapi.json lists every address.")


class WrongRequest(Refusal):
    status = HTTPStatus.METHOD_NOT_ALLOWED
    code = "wrong_request"
    title = "The address does not take this"

    def __init__(self, detail: str) -> None:
        super().__init__(detail, hint="/openapi.json lists what every address takes.")


def shown_id(identifier: str) -> str:
    """What a person is told of what was named: the name, but neither id nor digest."""
    return (
        "of that number"
        if re.fullmatch(r"[0-9a-f]{8}-[0-9a-f-]{27}|[0-9a-f]{12,64}", identifier)
        else identifier
    )


class NotFound(Refusal):
    status = HTTPStatus.NOT_FOUND
    code = "not_found"
    title = "The office does not know this"
    may_be_on_its_way = True

    def __init__(self, what: str, identifier: str) -> None:
        super().__init__(
            f"There is no {what} {shown_id(identifier)} at the office.",
            hint=f"Send the {what} itself first, or open it again from the list.",
        )


class AlreadyThere(Refusal):
    status = HTTPStatus.CONFLICT
    code = "already_there"
    title = "This exists already"

    def __init__(self, what: str, identifier: str) -> None:
        super().__init__(
            f"The {what} {shown_id(identifier)} is at the office already.",
            hint="Open the one that is there and change it; make a new one for another thing.",
        )


class ChangedSince(Refusal):
    status = HTTPStatus.CONFLICT
    code = "changed_since"
    title = "This was changed since"

    def __init__(self, field: str, made_by: str) -> None:
        super().__init__(
            f"Since you read the two values, somebody else has changed the field “{field}”: what stands there now was "
            f"said by {made_by or 'somebody who is not named'}.",
            hint="Open the record again: it shows the values as they are now. Say there which of them holds.",
        )


class ClosingChanged(Refusal):
    status = HTTPStatus.CONFLICT
    code = "closing_changed"
    title = "The closing is another by now"

    def __init__(self) -> None:
        super().__init__(
            "Something of the day has changed since this closing was told, and its lines are not what they were.",
            hint="Read the closing again from its beginning.",
        )


class OperationIdReused(Refusal):
    status = HTTPStatus.CONFLICT
    code = "operation_id_reused"
    title = "Another operation had this id"

    def __init__(self) -> None:
        super().__init__(
            "The office has another operation under this id, with other words in it.",
            hint="Look at what the record says now. If this is missing there, send it again: it gets an id of its own.",
        )


class OperationFault(Refusal):
    code = "operation_fault"
    title = "The office made a mistake with this one"

    def __init__(self) -> None:
        super().__init__(
            "The office could not work this one out, which is the office's mistake; all others went on.",
            hint="It is kept here and at the office. Tell whoever looks after the office, then send it again.",
        )


class PersonNotOnDay(Refusal):
    code = "person_not_on_day"
    title = "This person is not on the day's list"
    may_be_on_its_way = True

    def __init__(self) -> None:
        super().__init__(
            "Whoever made this is not among the people of that day.",
            hint="Have the manager add the person on the Day screen and send this again; or whoever is at this device "
            "now says it in their own name.",
        )


class HatDoesNotFit(Refusal):
    status = HTTPStatus.FORBIDDEN
    code = "hat_does_not_fit"
    title = "This is another person's work"

    def __init__(self, name: str, hats: str, what: str) -> None:
        super().__init__(
            f"{name} is on the day's list as {hats}, and as such may not {what}.",
            hint="Have the manager add the work to the person on the Day screen and send this again; or whoever is at "
            "this device now says it in their own name.",
        )


class SecondNotThere(Refusal):
    status = HTTPStatus.CONFLICT
    code = "second_not_there"
    title = "The second person was not there"

    def __init__(self, second: str) -> None:
        super().__init__(
            f"The code of {second} was not read off another device of this office, so the day is not closed.",
            hint=f"{second} opens Today on their own device, under Change, and gives the code that stands there; or, "
            "at a manager's device other than the first person's, opens Closing under their own name.",
        )


class FirstNotSigned(Refusal):
    status = HTTPStatus.CONFLICT
    code = "first_not_signed"
    title = "What the first person signed was taken back"

    def __init__(self, first: str) -> None:
        super().__init__(
            f"The day stays open: what {first} had signed was taken back, or is another list by now.",
            hint=f"Open Closing on a manager's device: it says who has signed. {first} reads the list and signs it "
            "again, or whoever has signed by now goes first.",
        )


class SecondIsFirst(Refusal):
    status = HTTPStatus.CONFLICT
    code = "second_is_first"
    title = "Two people close a day"

    def __init__(self, first: str) -> None:
        super().__init__(
            f"{first} signed first and cannot be the second person too, so the day is not closed.",
            hint="Choose somebody else as the second person: they read the list and give their code.",
        )


class DayClosed(Refusal):
    status = HTTPStatus.CONFLICT
    code = "day_closed"
    title = "The day was closed before"
    may_be_contested = True

    def __init__(self, closed_by: str, second_by: str) -> None:
        super().__init__(
            f"{closed_by} and {second_by} closed the day before, and their closing stands.",
            hint="Nothing is lost: what was named here is on record beside it. Compare the two on the Closing screen.",
        )


class DayStays(Refusal):
    status = HTTPStatus.CONFLICT
    code = "day_stays"
    title = "This day is not let go"

    def __init__(self, why: str) -> None:
        super().__init__(
            f"This day is not let go: {why}.",
            hint="Look at the Day screen again: of days set up twice only one on which nothing was entered is let go.",
        )


class DifferenceUnexplained(Refusal):
    """The office finds what the closing says nothing of: something that came up, or that its device had not heard."""

    status = HTTPStatus.CONFLICT
    code = "difference_unexplained"
    title = "Something came up that nobody has explained"

    def __init__(self, words: Sequence[str]) -> None:
        named = "; ".join(words[:3]) + (f"; and {len(words) - 3} more" if len(words) > 3 else "")
        super().__init__(
            f"The day stays open: the closing gives no reason for {named}.",
            hint="Nothing that was said is lost. Open Closing on a manager's device: it counts what is still unsaid "
            "and leads to it. Say a reason for each, and close the day again.",
        )


class ListDiffers(Refusal):
    status = HTTPStatus.CONFLICT
    code = "list_differs"
    title = "What was signed is not what is on record"

    def __init__(self) -> None:
        super().__init__(
            "The day stays open: the reasons that two people signed are not those that the office has.",
            hint="Open Closing on a manager's device: every reason stands there as the office has it. Read them, and "
            "close the day again.",
        )


class ItemStopped(Refusal):
    code = "item_stopped"
    title = "This item is stopped"

    def __init__(self, hazard: str, inside: str = "") -> None:
        what = f"“{inside}”, which is inside" if inside else "this item"
        super().__init__(
            f"A red caution ({hazard}) stands on {what}, so nobody goes on with it.",
            hint="Keep away from it and ask who decides. When they have cleared it, send this again.",
        )


class TakenAway(Refusal):
    code = "taken_away"
    title = "An authority took this away"

    def __init__(self, decided_by: str) -> None:
        by = f", as {decided_by} decided" if decided_by else ""
        super().__init__(
            f"This thing was taken away by an authority{by}, so it is with the house no more.",
            hint="If it is here all the same, set it aside and tell the manager: who decides records what is so now, "
            "then send this again.",
        )


class NotHome(Refusal):
    status = HTTPStatus.CONFLICT
    code = "not_home"
    title = "This does not go home with its owner"

    def __init__(self, hazard: str) -> None:
        super().__init__(
            f"The caution {hazard} does not let it go home with its owner, or nobody has decided so.",
            hint="Leave it where it is, ask who decides, and record what they say; it may be handed to them.",
        )


class NameNotOnDay(Refusal):
    code = "name_not_on_day"
    title = "This name is not on the day's list"
    may_be_on_its_way = True

    def __init__(self, name: str) -> None:
        super().__init__(
            f"“{name}” is not among the people of that day, so nobody of the house answers for it.",
            hint="Name somebody of the day's list who says so; who else was there has a place of its own.",
        )


class FindingsOnZone(Refusal):
    status = HTTPStatus.CONFLICT
    code = "findings_on_zone"
    title = "A zone with findings is not clear"

    def __init__(self, zone: str, count: int) -> None:
        super().__init__(
            f"The zone {zone} has {count} finding{'s' if count > 1 else ''}, so it cannot be clear.",
            hint="Withdraw the findings one by one and say why, or leave the zone as it is.",
        )


class OfAnotherDay(Refusal):
    status = HTTPStatus.CONFLICT
    code = "of_another_day"
    title = "The two items are of two days"

    def __init__(self) -> None:
        super().__init__(
            "The other item came in on another valuation day, so it is not this one recorded twice.",
            hint="Look for the item of this day. If it is one thing that was brought twice, leave both records: "
            "each has its own receipt.",
        )


class CrateOfAnotherDay(Refusal):
    status = HTTPStatus.CONFLICT
    code = "crate_of_another_day"
    title = "This container is of another day"

    def __init__(self, number: str) -> None:
        super().__init__(
            f"The container {number} was opened on another valuation day; this thing came in on a day of its own.",
            hint="Scan a container of this day, or open one: a number and a label are enough.",
        )


class SignedByNobody(Refusal):
    status = HTTPStatus.CONFLICT
    code = "signed_by_nobody"
    title = "Nobody is named who signed"

    def __init__(self, number: str) -> None:
        super().__init__(
            f"The owner of this visit had left, and receipt {number} does not say who signed it.",
            hint="Ask who signed, type the name, and send it again.",
        )


class TagCheckFailed(Refusal):
    code = "tag_check_failed"
    title = "This is not a tag number"
    nothing_lifts_it = True

    def __init__(self, words: str) -> None:
        super().__init__(words, hint="Read the tag once more, or scan its QR code.")


class RefusedBefore(Refusal):
    """An office that forgot its refusal would take it now, beside what was made in its place."""

    status = HTTPStatus.CONFLICT
    code = "refused_before"
    title = "This was refused before"
    nothing_lifts_it = True

    def __init__(self) -> None:
        super().__init__(
            "This was refused before the office lost it, and has been dealt with on its device since.",
            hint="There is nothing to do: what was made in its place counts.",
        )


class TagTaken(Refusal):
    status = HTTPStatus.CONFLICT
    code = "tag_taken"
    title = "This tag is on another item"
    may_be_contested = True

    def __init__(self, tag: str, other: str) -> None:
        super().__init__(
            f"The tag {tag} was tied to {other} before.",
            hint="Look at both items. Tie a fresh tag to this one and send that; a number is never used twice.",
        )


class TagSpoiled(Refusal):
    status = HTTPStatus.CONFLICT
    code = "tag_spoiled"
    title = "This number does not come back"

    def __init__(self, tag: str, why: str = "was struck through as spoiled") -> None:
        super().__init__(
            f"{tag} {why}, so nothing can be tied to it.",
            hint="Take the next number of the roll, and keep the old tag.",
        )


class TagGone(Refusal):
    status = HTTPStatus.CONFLICT
    code = "tag_gone"
    title = "This tag is gone already"

    def __init__(self, tag: str, why: str) -> None:
        super().__init__(
            f"{tag} is noted as {why.replace('-', ' ')} already.",
            hint="Open the item to see who said so. If the number is on another item after all, note that.",
        )


class RollOverlaps(Refusal):
    status = HTTPStatus.CONFLICT
    code = "roll_overlaps"
    title = "These numbers were given out before"

    def __init__(self, first: str, free: str) -> None:
        super().__init__(
            f"A roll from {first} on would have numbers that another roll has.",
            hint=f"Begin at {free}, which is free, or later.",
        )


class NumbersNotLeft(Refusal):
    status = HTTPStatus.CONFLICT
    code = "numbers_not_left"
    title = "Some of these numbers are used, or with another day already"

    def __init__(self, first: str, count: int) -> None:
        super().__init__(
            f"Of the {count} from {first} on, some are on things, struck through, or gone on to another day.",
            hint="Open Numbers anew: it offers those that are left.",
        )


class LabelsPrinted(Refusal):
    status = HTTPStatus.CONFLICT
    code = "labels_printed"
    title = "Some of these numbers are used or on labels already"

    def __init__(self, first: str, count: int) -> None:
        super().__init__(
            f"Of the {count} from {first} on, some are on things or on labels that were made before.",
            hint="Make the labels anew under Numbers: it takes those that are free. Use no file that was opened.",
        )


class TicketsOverlap(Refusal):
    status = HTTPStatus.CONFLICT
    code = "tickets_overlap"
    title = "These tickets were given out before"

    def __init__(self, first: str, last: str, holder: str, *, stays: bool) -> None:
        """`stays`: the other run is a device's, which keeps it for good."""
        super().__init__(
            f"{first} to {last} has tickets that {holder or 'another device'} has.",
            hint="Begin behind its last ticket.",
        )
        self.nothing_lifts_it = stays


class TicketsGiven(Refusal):
    status = HTTPStatus.CONFLICT
    code = "tickets_given"
    title = "These tickets stay with their device"

    def __init__(self, first: str, last: str, holder: str) -> None:
        super().__init__(
            f"{first} to {last} are on {holder or 'another device'}, which may have given some with no network.",
            hint="Leave it the run, which can only end later, and give the other device a run of its own.",
        )


class NumbersOfAnother(Refusal):
    status = HTTPStatus.CONFLICT
    code = "numbers_of_another"
    title = "These numbers are not this office's"

    def __init__(self, first: str, free: str | None) -> None:
        super().__init__(
            f"From {first} on there would be numbers that another office may give out.",
            hint=f"Begin at {free}, the next of this office's own."
            if free
            else "All of this office's numbers are given out: start it with another share, such as --numbers 2/5.",
        )


class NotIsolation(Refusal):
    status = HTTPStatus.CONFLICT
    code = "not_isolation"
    title = "This item is held apart"

    def __init__(self, place: str, inside: str = "") -> None:
        what = f"In it is “{inside}”, which" if inside else "The item"
        super().__init__(
            f"{what} is held apart, so it cannot go to {place}.",
            hint="Take it out and to isolation, or back to its owner, or record who cleared it first."
            if inside
            else "Take it to isolation or back to its owner, or record who cleared it first.",
        )


class NotAmongOthers(Refusal):
    status = HTTPStatus.CONFLICT
    code = "not_among_others"
    title = "What is held apart lies by itself"

    def __init__(self, number: str, apart: str, *, is_in_it: bool) -> None:
        """`is_in_it`: what is held apart lies in the container already, and something else is to go in."""
        super().__init__(
            f"In the container {number} is “{apart}”, which is held apart, so nothing else goes in."
            if is_in_it
            else f"“{apart}” is held apart, so it does not go among what is in the container {number}.",
            hint="Take that out and to isolation first, or take another container for the rest."
            if is_in_it
            else "Take it to isolation or into a container of its own, or record who cleared it first.",
        )


class TooLongTogether(Refusal):
    status = HTTPStatus.CONFLICT
    code = "too_long_together"
    title = "Too long beside what was told before"

    def __init__(self, most: int) -> None:
        super().__init__(
            "Somebody else has written down what the owner told of this finding, and with this it is longer than "
            f"{most:,} characters.",
            hint="Say it in fewer words, or correct what stands there.",
        )


class MorePieces(Refusal):
    status = HTTPStatus.CONFLICT
    code = "more_pieces"
    title = "It has not so many pieces"

    def __init__(self, said: int, counted: int) -> None:
        super().__init__(
            f"{counted} pieces of it were counted, so it cannot be on {said} of them, nor on piece {said}.",
            hint="Say on which of them it was found, or count the pieces anew first.",
        )


class PartsLost(Refusal):
    status = HTTPStatus.CONFLICT
    code = "parts_lost"
    title = "Not all of it is accounted for"

    def __init__(self, each: list[str]) -> None:
        super().__init__(
            f"Not all of it is in the house's keeping, so it cannot be described: {'; '.join(each)}.",
            hint="Find it and record the move, or take the tag off the part that it does not have.",
        )


class NotCleared(Refusal):
    status = HTTPStatus.CONFLICT
    code = "not_cleared"
    title = "Nobody has cleared this"

    def __init__(self) -> None:
        super().__init__(
            "A caution stands on it that holds it apart, so it is not described for sale.",
            hint="Ask the safety lead or the valuer how it goes on; record who cleared it and for what first.",
        )


class BackWithOwner(Refusal):
    status = HTTPStatus.CONFLICT
    code = "back_with_owner"
    title = "It is back with its owner"

    def __init__(self) -> None:
        super().__init__(
            "It went back to its owner, and what went back is not described for sale.",
            hint="Leave it as it is. If it was brought again, record that move first.",
        )


class BehindWhatWentBack(Refusal):
    status = HTTPStatus.CONFLICT
    code = "behind_what_went_back"
    title = "The other went back to its owner"

    def __init__(self) -> None:
        super().__init__(
            "The other record's thing went back to its owner, and this one is here: they are two things.",
            hint="If they are one after all, put the record of what went back behind this one.",
        )


class StandsBehind(Refusal):
    status = HTTPStatus.CONFLICT
    code = "stands_behind"
    title = "It stands behind another record"

    def __init__(self) -> None:
        super().__init__(
            "This thing was recorded twice, and this record stands behind the other one.",
            hint="Go on with the other record, or take back that they are one thing.",
        )


class InsideItself(Refusal):
    status = HTTPStatus.CONFLICT
    code = "inside_itself"
    title = "A container cannot hold itself"

    def __init__(self, number: str) -> None:
        super().__init__(
            f"{number} would be inside itself.",
            hint="Scan the outer container first, then what goes into it.",
        )


class NestedTooDeep(Refusal):
    status = HTTPStatus.CONFLICT
    code = "nested_too_deep"
    title = "Too many containers inside each other"

    def __init__(self, most: int) -> None:
        super().__init__(
            f"More than {most} containers would stand inside each other.",
            hint="Take one of the inner ones out and put it beside the others.",
        )


class RoleMayNot(Refusal):
    status = HTTPStatus.FORBIDDEN
    code = "role_may_not"
    title = "This device may not do this"
    nothing_lifts_it = True

    def __init__(self, role: str, what: str) -> None:
        super().__init__(
            f"A {role} device may not {what}.",
            hint="Do it on a device paired for that work, or ask the manager to pair this one again.",
        )


class NotPaired(Refusal):
    status = HTTPStatus.UNAUTHORIZED
    code = "not_paired"
    title = "This device is not paired"

    def __init__(self) -> None:
        super().__init__(
            "The office does not know this device.",
            hint="Ask the manager for a pairing code. What this device holds stays on it.",
        )


class DeviceRevoked(Refusal):
    status = HTTPStatus.FORBIDDEN
    code = "device_revoked"
    title = "This device has been signed off"

    def __init__(self, name: str) -> None:
        super().__init__(
            f"The manager has signed {name} off, so it can neither read nor send.",
            hint="Nothing on it is lost. Take it to the manager, who can save what it still holds.",
        )


class PairingCodeUnknown(Refusal):
    status = HTTPStatus.NOT_FOUND
    code = "pairing_code_unknown"
    title = "This pairing code does not work"

    def __init__(self) -> None:
        super().__init__(
            "The code is mistyped, was used before, or is older than ten minutes.",
            hint="Ask the manager for a new code and type it within ten minutes.",
        )


class DeviceNeedsWord(Refusal):
    """A device says that it is one which the office knows, and cannot prove it."""

    status = HTTPStatus.FORBIDDEN
    code = "device_needs_word"
    title = "This code is for a new device"

    def __init__(self, name: str, device_id: str) -> None:
        super().__init__(
            f"This device says that it is {name}, and the office cannot see that it is.",
            hint="Ask the manager for a code for this very device: it stands on the Devices screen now, with the "
            f"number that begins with {device_id[:8]}; where no manager's device is left, `intake pair --device "
            f"{device_id}` makes it on the office's own machine. Nothing on this device is lost, and the code was not "
            "used up.",
        )


class CodeForAnother(Refusal):
    """The code was made so that one device is paired again, and another typed it."""

    status = HTTPStatus.FORBIDDEN
    code = "code_for_another"
    title = "This code is for another device"

    def __init__(self, name: str) -> None:
        super().__init__(
            f"The code pairs {name} again, and this is another device.",
            hint="Type it on that device, or ask the manager for a code for a new device.",
        )


class OthersBeganToCome(Refusal):
    status = HTTPStatus.CONFLICT
    code = "others_began_to_come"
    title = "The office waits anew"

    def __init__(self) -> None:
        super().__init__(
            "The office waits anew since this page was opened: a device came back, or showed that more is lost.",
            hint="Open Devices again, see who is still to come, and say it then if nobody else will.",
        )


class WaitsForMore(TryAgain):
    """An operation names something that the office does not know yet and may still hear of."""

    code = "waits_for_more"
    title = "Waits for something else"

    def __init__(self, detail: str) -> None:
        super().__init__(
            detail,
            hint="It stays on this device and is sent again by itself when the rest has come.",
        )


class WordsErased(Refusal):
    """An operation is kept without its personal words, or its picture of a visit. Never raised: it stands in the
    answer, for a person to read."""

    status = HTTPStatus.CONFLICT
    code = "words_erased"
    title = "Kept without its words"

    def __init__(self, *, is_picture: bool = False) -> None:
        if is_picture:
            super().__init__(
                "The owner's words and pictures were erased, and nothing shows that this one was taken after that.",
                hint="If it was taken since then, take it once more. If not, nothing is to be done.",
            )
            return
        super().__init__(
            "The owner's words were erased, and nothing shows that these were said after that.",
            hint="If the owner has said it since then, enter it once more; what was signed is signed anew. If not, "
            "nothing is to be done.",
        )


class TooManyTries(TryAgain):
    status = HTTPStatus.TOO_MANY_REQUESTS
    code = "too_many_tries"
    title = "Too many codes were tried"

    def __init__(self, seconds: int) -> None:
        super().__init__(
            "Too many pairing codes were tried from here.",
            hint=f"A good code works at once: compare it with what the office shows, and wait {seconds} seconds before "
            "the next try.",
            headers={"Retry-After": str(seconds)},
        )


class ForeignOrigin(Refusal):
    status = HTTPStatus.FORBIDDEN
    code = "foreign_origin"
    title = "This came from another page"

    def __init__(self, said: str | None, own: str = "") -> None:
        super().__init__(
            f"A write must come from this office's own page, not from {said or 'an unnamed one'}.",
            hint=f"Open the app at {own or 'the address of the office'} and do it there.",
        )


class TooLarge(Refusal):
    status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
    code = "too_large"
    title = "This is too large"

    def __init__(self, what: str, limit_bytes: int) -> None:
        super().__init__(
            f"{what} is larger than {limit_bytes} bytes, which is the most the office takes.",
            hint="Send fewer at once, or take the picture in a smaller size.",
        )


class WrongDigest(Refusal):
    code = "wrong_digest"
    title = "The picture changed on the way"

    def __init__(self, sha256: str) -> None:
        super().__init__(
            f"The bytes that arrived do not have the digest {sha256[:12]}…",
            hint="Send the picture again from its first byte.",
        )


class NotAPicture(Refusal):
    code = "not_a_picture"
    title = "This is no picture"

    def __init__(self, found: str) -> None:
        super().__init__(
            f"The office takes JPEG, PNG, WebP and HEIC; this is {found}.",
            hint="Take the picture again, or save it as JPEG and add it from the library.",
        )


class PictureTooLarge(Refusal):
    code = "picture_too_large"
    title = "This picture has too many pixels"

    def __init__(self, width: int, height: int, limit: int) -> None:
        super().__init__(
            f"The picture says it is {width} by {height}; the most is {limit // 1_000_000} million pixels.",
            hint="Take it again in a smaller size.",
        )


class WrongOffset(TryAgain):
    status = HTTPStatus.CONFLICT
    code = "wrong_offset"
    title = "The upload goes on elsewhere"

    def __init__(self, offset: int) -> None:
        super().__init__(
            f"The office has {offset} bytes of this picture.",
            hint=f"Go on from byte {offset}.",
            headers={"Upload-Offset": str(offset)},
        )


class WrongLength(TryAgain):
    status = HTTPStatus.CONFLICT
    code = "wrong_length"
    title = "The upload began with another length"

    def __init__(self, sha256: str, *, said: int, known: int) -> None:
        super().__init__(
            f"The picture {sha256[:12]}… is {known} bytes long as far as the office knows, not {said}.",
            hint="Ask once more how much the office has, then go on from there.",
        )


class TooSlow(TryAgain):
    status = HTTPStatus.REQUEST_TIMEOUT
    code = "too_slow"
    title = "Nothing more came"

    def __init__(self, seconds: float) -> None:
        super().__init__(
            f"The line was silent for {seconds:g} seconds in the middle of what was sent.",
            hint="Nothing is lost. The device sends the rest when the line is better.",
            headers={"Connection": "close"},  # else the server would wait for the rest
        )


class PhotoMissing(Refusal):
    status = HTTPStatus.NOT_FOUND
    code = "photo_missing"
    title = "The picture's file is gone"

    def __init__(self, sha256: str) -> None:
        super().__init__(
            f"The office had the picture {sha256[:12]}…, and its file is not in the photo folder any more, "
            "or was cut short.",
            hint="Put the photo folder back from a copy. A device that still holds the picture sends it again.",
        )


class CannotBeDrawn(Refusal):
    code = "cannot_be_drawn"
    title = "This picture cannot be drawn"

    def __init__(self, sha256: str) -> None:
        super().__init__(
            "The office has this picture as it came, byte for byte, and cannot draw it: something in it is damaged.",
            hint=f"Download it as it came from /photos/{sha256} and try another program.",
        )


class OfficeFull(TryAgain):
    status = HTTPStatus.INSUFFICIENT_STORAGE
    code = "office_full"
    title = "The office's disk is full"

    def __init__(self) -> None:
        super().__init__(
            "The office's disk is full, so nothing more was kept.",
            hint="Keep this device safe: all is still on it. Make room on the office's disk; it sends again by itself.",
        )


class HallNotReady(Refusal):
    status = HTTPStatus.CONFLICT
    code = "hall_not_ready"
    title = "The hall cannot open"


class MovesTooOften(TryAgain):
    status = HTTPStatus.TOO_MANY_REQUESTS
    code = "moves_too_often"
    title = "This device changes its table too often"

    def __init__(self) -> None:
        super().__init__(
            "This device has changed its table or its day so often within ten minutes that it is told of no other.",
            hint="Nothing is lost: what is recorded is sent all the same. Go back to the table you were at last, or "
            "wait ten minutes; if it has to be another now, ask the manager to pair the device again.",
            headers={"Retry-After": "60"},
        )


class OfficeBusy(TryAgain):
    code = "office_busy"
    title = "The office is busy"

    def __init__(self) -> None:
        super().__init__(
            "Another program is writing to the office's tables, so this could not be done just now.",
            hint="Nothing is lost: the device keeps it and sends it again by itself. If it stays so, see at the "
            "office whether a second office, a backup or a repair runs on the same data folder.",
            headers={"Retry-After": "2"},
        )


class NewerData(Refusal):
    code = "newer_data"
    title = "This data folder is newer than the program"

    def __init__(self, schema: int, known: int) -> None:
        super().__init__(
            f"This data folder was written by a newer version (schema {schema}, this one knows {known}).",
            hint="Install the newer version, or start with another --data folder. Nothing was changed.",
        )


class DamagedTables(TryAgain):
    code = "damaged_tables"
    title = "The office's tables are damaged"

    def __init__(self) -> None:
        super().__init__(
            "The file with the office's tables is damaged: it was cut short, written over, or its disk is failing.",
            hint="Stop the office and put the data folder back from a copy, on another disk if this one is failing. "
            "Keep the damaged folder, and let no phone be cleared: what they hold is still on them.",
        )


class LogHasGaps(Refusal):
    code = "log_has_gaps"
    title = "Rows are missing from the office's log"
    NEXT = (
        "Restore a copy into a new folder (`intake restore COPY --data NEW`). With none, make one of what is "
        "left (`intake copy FOLDER`) and restore that: the restored office hears the phones out, and `intake "
        "bring-in FOLDER` takes in what waited for what they bring."
    )

    def __init__(self, missing: int, first: int) -> None:
        super().__init__(
            f"{missing} operations are missing from the middle of the office's log, the first of them {first}. "
            "Nothing was changed: the tables may be all that is left of them.",
            hint=self.NEXT,
        )


class LogCutOff(Refusal):
    code = "log_cut_off"
    title = "The end of the office's log was cut off"

    def __init__(self, newest: int, touched: int) -> None:
        super().__init__(
            f"The log ends with operation {newest}, and a record tells of operation {touched}. Nothing was changed: "
            "the tables may be all that is left of what came between.",
            hint=LogHasGaps.NEXT,
        )


class LogChanged(Refusal):
    code = "log_changed"
    title = "The office's log was changed"

    def __init__(self, places: list[int]) -> None:
        super().__init__(
            "Of the office's log these were changed after they were logged: "
            f"{some_of([*map(str, places)], 5)}. Nothing was changed now: the "
            "tables may be all that is left of what they said.",
            hint="Restore a copy into a new folder (`intake restore COPY --data NEW`). With none, `intake rebuild "
            "--all-the-same` makes the tables say what the log says now: look at those records afterwards.",
        )


class TablesNotMade(Refusal):
    """The log has what this version cannot apply. Without a Stop, others would be allowed what they are not."""

    code = "tables_not_made"
    title = "This version cannot make the office's tables"

    def __init__(self, faults: list[str]) -> None:
        super().__init__(
            " ".join([*faults[:3], *([f"So it is with {len(faults) - 3} more."] if len(faults) > 3 else [])])
            + " Nothing was changed: the tables are those that the version before made.",
            hint="Start the version before this one: it goes on as it was. Phones keep what they have meanwhile. Give "
            "these lines to whoever looks after the program; a version that can apply them makes the tables anew when "
            "it starts.",
        )


def every_error() -> dict[str, type[IntakeError]]:
    """Each way to say no by its code, in the order in which they stand above."""
    found: dict[str, type[IntakeError]] = {}
    left: list[type[IntakeError]] = [IntakeError]
    while left:
        kind = left.pop(0)
        found[kind.code] = kind
        left.extend(kind.__subclasses__())
    return found
