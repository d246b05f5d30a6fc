"""How a copy is doing, in one word for a program and in a sentence for a person."""

from __future__ import annotations

import errno
from enum import StrEnum

from intake.errors import Refusal


class State(StrEnum):
    """What a copy's last look came to."""

    CURRENT = "current"  # everything the office has stands in it
    BEHIND = "behind"  # it answers, and is being brought up to date
    MISSING = "missing"  # pulled out, renamed, not mounted, out of reach
    FULL = "full"
    READ_ONLY = "read_only"
    SLOW = "slow"  # it has not answered for a while
    FOREIGN = "foreign"  # another office's copy, or a folder with other things in it
    FORGOTTEN = "forgotten"  # the copy has what the office's log no longer has
    DAMAGED = "damaged"
    NEWER = "newer"  # written by a version this one cannot read


#: Such a copy can be read now and holds this office's log: what stands in it counts as kept twice.
IN_REACH = frozenset({State.CURRENT, State.BEHIND, State.FULL, State.READ_ONLY})


class CopyTrouble(Refusal):
    """A copy that cannot be written or read as it is; `state` says in which way."""

    code = "copy_trouble"
    title = "The copy cannot be used as it is"

    def __init__(self, state: State, detail: str, *, hint: str) -> None:
        super().__init__(detail, hint=hint)
        self.state = state


GOES_ON = "the copy goes on by itself"
FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
READ_ONLY = (errno.EROFS, errno.EACCES, errno.EPERM)


def trouble_of(error: OSError, folder: str) -> CopyTrouble:
    """What the file system said, as a state and what to do."""
    words = error.strerror or str(error)
    if error.errno in FULL:
        return CopyTrouble(
            State.FULL,
            f"There is no room left for the copy in {folder} ({words}).",
            hint=f"Make room there or name a larger place; {GOES_ON}.",
        )
    if error.errno in READ_ONLY:
        return CopyTrouble(
            State.READ_ONLY,
            f"The copy in {folder} cannot be written ({words}).",
            hint=f"Look for a lock on the stick, or let the office write there; {GOES_ON}.",
        )
    return CopyTrouble(
        State.MISSING,
        f"The copy in {folder} cannot be reached ({words}).",
        hint=f"Plug it in again, or look at the network; {GOES_ON}.",
    )


def by_hand(trouble: CopyTrouble) -> CopyTrouble:
    """The same for whoever copies by hand: nothing goes on by itself."""
    hint = trouble.hint.replace(GOES_ON, "then type the same again")
    return CopyTrouble(trouble.state, trouble.detail, hint=hint)


def missing(folder: str) -> CopyTrouble:
    return CopyTrouble(
        State.MISSING,
        f"The copy is not in {folder}.",
        hint="Plug the stick in again. If it is in, and was emptied or is a new one, begin a copy on it: "
        f"`intake copy {folder}`.",
    )


#: Of a copy that is lost with the office.
NO_SECOND_PLACE = (
    "does not count as a second place: for all the office can tell it is on its own disk, or in its memory, and is "
    "lost with it. Phones let go of nothing for its sake"
)


def not_plugged_in(folder: str) -> CopyTrouble:
    return CopyTrouble(
        State.MISSING,
        f"A copy was kept in {folder}, is not there now, and for all that can be told the folder is on the office's "
        "own disk: the stick is not in. Nothing was written.",
        hint=f"Plug it in, and type the same again. `intake copy {folder} --anew` begins a copy there all the same, "
        "which is lost with the office.",
    )


def not_ours(folder: str, what: str) -> CopyTrouble:
    return CopyTrouble(
        State.FOREIGN,
        f"{folder} {what}. Nothing was written there.",
        hint="Name an empty folder, such as a new one on the same stick.",
    )


def another_office(folder: str) -> CopyTrouble:
    return CopyTrouble(
        State.FOREIGN,
        f"{folder} holds a copy of another office. Nothing was written there.",
        hint="Name an empty folder, such as a new one on the same stick. To see what that copy has: `intake restore "
        f"{folder} --data NEW` makes an office of it.",
    )


def forgotten(folder: str, copied: int, newest: int) -> CopyTrouble:
    how = (
        f"its log goes on to operation {copied}, and this office's ends at {newest}"
        if copied > newest
        else f"up to operation {copied}, where it ends, its log says otherwise than this office's"
    )
    return CopyTrouble(
        State.FORGOTTEN,
        f"The copy in {folder} belongs to another state of this office: {how}. The office's folder was put back, or "
        "its log was cut or rewritten. Nothing is written to the copy.",
        hint=f"Keep the copy. To keep this office: `intake bring-in {folder}`, then `intake copy {folder} --anew`. To "
        f"go back to the copy: stop the office and `intake restore {folder} --data NEW`.",
    )


def damaged(folder: str, what: str) -> CopyTrouble:
    return CopyTrouble(
        State.DAMAGED,
        f"The copy in {folder} is damaged: {what}. Nothing was written there.",
        hint=f"Begin a new one beside it: `intake copy {folder} --anew` keeps the damaged files aside.",
    )


def unreadable(folder: str) -> CopyTrouble:
    return CopyTrouble(
        State.DAMAGED,
        f"The copy in {folder} cannot be read: its disk gives neither of its two heads.",
        hint="Plug it in again, in another socket if there is one. If it stays so, begin a new one beside it: "
        f"`intake copy {folder} --anew` keeps what is there aside.",
    )


def nameless() -> CopyTrouble:
    return CopyTrouble(
        State.DAMAGED,
        "The office's tables do not say which office this is: it was never started, or they were emptied.",
        hint="If there was an office here, restore a copy: `intake restore COPY --data NEW`.",
    )
