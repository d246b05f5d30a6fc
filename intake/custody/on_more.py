"""What was found on more pieces than are counted now, or are here. The app: `web/job/on_more.ts`."""

from __future__ import annotations

from typing import Any

from intake.custody.day_on_record import listed
from intake.custody.number_parts import pieces_back_in_part
from intake.custody.with_owner import (
    back_before,
    is_back_with_owner,
    is_later,
    is_on_piece_away,
    last_return,
    piece_of_side,
)
from intake.examination.findings import most_counted
from intake.records.record import Record
from intake.records.values import FieldValue


def most_here(item: Record) -> int:
    """How many of the pieces are here, while others are back with their owner."""
    back = pieces_back_in_part(item)
    return max(1, most_counted(item) - back) if back else most_counted(item)


def is_on_more(item: Record, finding: dict[str, Any], here: int) -> bool:
    """Whether a finding is on more pieces than are counted now and `here`, or on one that is not among them: of a pair
    that lost one its numbers may tell which is left."""
    most, piece, count = most_counted(item), finding.get("piece") or "", finding.get("piece_count")
    if piece in ("left", "right"):
        return here == 1 and (most == 1 or not piece_of_side(item, piece))
    return most > 0 and (count > here if count else piece.isdecimal() and int(piece) > most)


def on_counted(item: Record, finding: dict[str, Any], here: int) -> dict[str, Any]:
    """A finding as it can be: on which pieces it is, is not known of what is on more than are counted, or on one
    alone."""
    is_said = finding.get("piece") or finding.get("piece_count")
    most = most_counted(item)
    if not is_said:
        return finding
    if most == 1 or is_on_more(item, finding, here):
        return {**finding, "piece": None, "piece_count": None}
    # Of what is on all of them nobody asks which those are.
    is_on_all = finding.get("piece_words") and finding.get("piece_count") == most
    return {**finding, "piece_words": None} if is_on_all else finding


def may_have_gone(item: Record, said: FieldValue) -> bool:
    """Whether so many of its pieces had a fault before some went back as are here still: nobody can tell whether those
    are among them, until it is said anew."""
    count, severity = said.value.get("piece_count"), said.value["severity"]
    most = most_counted(item)
    if not count or not severity or most_here(item) == most or count == most:
        return False
    if is_on_piece_away(item, said.value):
        return False
    went = last_return(item)
    return went is not None and is_later(went, said)


def back_unheard(item: Record) -> int:
    """How many more were back with their owner as the pieces were counted than their counter had heard of."""
    counted, known = item.fields.get("pieces"), item.fields.get("pieces-back")
    is_told = counted and known and counted.operation_id == known.operation_id
    if counted is None or known is None or not is_told or is_back_with_owner(item):
        return 0
    return max(0, back_before(item, counted) - int(known.value))


def on_more_words(item: Record) -> list[str]:
    """ "a fault is on 5 of its pieces, and 3 were counted", or "and 1 is here", of each that is on more than those, or
    may have gone with what went back; and of a count that may lack what went, that it does."""
    most, here = most_counted(item), most_here(item)
    words: dict[str, None] = {}
    for _, said in listed(item, "findings/"):
        finding = said.value
        if not finding["withdrawn"] and (is_on_more(item, finding, here) or may_have_gone(item, said)):
            piece, count = finding.get("piece") or "", finding.get("piece_count")
            one = f"piece {piece} of it" if piece.isdecimal() else f"the {piece} one"
            on = f"{count} of its pieces" if count else one
            than = f"{most} {'was' if most == 1 else 'were'} counted"
            if here < most and not piece.isdecimal() and (count or 0) <= most:
                stays = f"{here} {'is' if here == 1 else 'are'} here"
                than = stays if count else "nobody noted which one is here"
                if count and count <= here:
                    than = f"nobody noted whether {'it is' if count == 1 else 'those are'} here"
            words[f"a fault is on {on}, and {than}"] = None
    if unheard := back_unheard(item):
        gone = f"{unheard} {'is' if unheard == 1 else 'are'} back with the owner"
        words[f"{item.value('pieces')} pieces were counted where nobody had heard that {gone}"] = None
    return list(words)
