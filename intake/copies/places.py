"""The second places of an office: where copies are kept, and what stood in each when it was last seen."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

import pyrage
from pyrage import x25519

from intake.copies.folder import Folder
from intake.copies.head import read_head
from intake.copies.seal import make_key
from intake.copies.source import owners_erased_after
from intake.copies.states import CopyTrouble, another_office
from intake.copies.whereabouts import Whereabouts, as_named
from intake.database import Reading, Writing
from intake.errors import Refusal


class PlaceRefused(Refusal):
    """A copy cannot be kept there."""

    code = "copy_place_refused"
    title = "A copy cannot be kept there"


class CopyKey(NamedTuple):
    """A key for sealed copies: the secret half, to be put on paper and forgotten, and what copies are sealed to."""

    secret: str
    recipient: str


@dataclass(frozen=True)
class Reached:
    """What stands in a copy. `complete_at` is when it last had everything, by the office's clock."""

    office_seq: int = 0
    erased_seq: int = 0
    photos: int = 0
    photo_bytes: int = 0
    complete_at: str | None = None


@dataclass(frozen=True)
class Place:
    """A folder for a copy. `begun` says that a copy stood there once; once it was met `copy_id` says which, and
    `sealed_to` the public half of the key whose paper opens it."""

    folder: str
    sealed: bool
    begun: bool
    reached: Reached
    copy_id: str | None = None
    sealed_to: str | None = None


@dataclass(frozen=True)
class FormerCopy:
    """A copy that was made once and is kept up to date no longer: it lies where it was left, for all that is known.

    `erasures` is of how many owners words were erased since it was written last: it may still hold them.
    `copy_id` tells it from others that were in the same folder, null if it was never met under one.
    """

    folder: str
    copy_id: str | None
    sealed: bool
    sealed_to: str | None
    complete_at: str | None
    erasures: int


def former_copies(tx: Reading) -> list[FormerCopy]:
    """Every copy that was ever made, but those that are kept up to date."""
    rows = tx.all(
        """
        SELECT folder, copy_id, sealed, sealed_to, complete_at, erased_seq
        FROM copy_place WHERE kept = 0 ORDER BY added_at, folder, place_id
        """
    )
    return [
        FormerCopy(
            folder=row["folder"],
            copy_id=row["copy_id"],
            sealed=bool(row["sealed"]),
            sealed_to=row["sealed_to"],
            complete_at=row["complete_at"],
            erasures=owners_erased_after(tx, row["erased_seq"]),
        )
        for row in rows
    ]


def places(tx: Reading) -> list[Place]:
    """Every second place, in the order in which they were set up."""
    return [
        Place(
            row["folder"],
            bool(row["sealed"]),
            bool(row["begun"]),
            Reached(
                row["office_seq"], row["erased_seq"], row["photos"], row["photo_bytes"], row["complete_at"]
            ),
            row["copy_id"],
            row["sealed_to"],
        )
        for row in tx.all("SELECT * FROM copy_place WHERE kept = 1 ORDER BY added_at, folder")
    ]


def no_answer(folder: str) -> PlaceRefused:
    return PlaceRefused(
        f"{folder} does not answer.", hint="Look at the stick or the network, then name it again."
    )


#: By its name where a folder lies (`asking.where_they_are`), if it answered. Nothing here looks for itself: it may be
#: called with the tables in hand, and a folder may hang.
Looked = Mapping[str, Whereabouts]
NOT_LOOKED: Looked = MappingProxyType({})


def where_is(folder: str, looked: Looked) -> Whereabouts:
    return looked.get(folder) or as_named(folder)


def checked_folder(folder: str, own: Sequence[str], looked: Looked = NOT_LOOKED) -> str:
    """The folder as it is kept; `own` are the folders that are copied, the office's data folder first. Raises
    PlaceRefused if a copy in it would be none, or would copy itself."""
    path, place = Path(folder), where_is(folder, looked)
    if not path.is_absolute():
        raise PlaceRefused(
            f"{folder} is not a whole path.", hint="Name the folder from the root, such as /media/stick/copy."
        )
    hint = "Name a folder on a stick, on a second disk or on the network, with nothing else in it."
    data, *others = own
    if place.lies_in(where_is(data, looked)):
        raise PlaceRefused(f"{folder} is in the office's own folder, and would be lost with it.", hint=hint)
    for other in others:
        if place.lies_in(where_is(other, looked)):
            raise PlaceRefused(
                f"{folder} is in {other}, which is copied: the copy would copy itself.", hint=hint
            )
    for other in own:
        if where_is(other, looked).lies_in(place):
            raise PlaceRefused(
                f"{other}, which is copied, lies in {folder}: one is lost with the other.", hint=hint
            )
    return str(path)


def check_fit(folder: str) -> None:
    """Whether a copy can be begun in a folder now, or gone on with. Raises PlaceRefused.

    Asked where a person names a new place and can put it right at once; a stick that is known may be pulled out.
    """
    path, parent = Path(folder), Path(folder).parent
    try:
        check_there(folder)
        if path.exists() and (others := Folder(path).other_names()):
            raise PlaceRefused(
                f"{folder} has other things in it ({others[0]}), and a copy needs a folder of its own.",
                hint=f"Name a new folder, such as {path / 'copy'}.",
            )
        if not os.access(path if path.exists() else parent, os.W_OK | os.X_OK):
            raise PlaceRefused(
                f"The office may not write in {path if path.exists() else parent}.",
                hint="Let the account that the office runs under write there, or name another folder.",
            )
        try_writing(path)
    except OSError as error:
        raise PlaceRefused(
            f"No copy can be written in {folder} ({error.strerror or error}).",
            hint="Look at the stick or the network, or name another folder.",
        ) from error


def office_there(folder: str) -> str | None:
    """Of which office the copy is that lies in a folder; None if there is none, or none that can be read."""
    try:
        head = read_head(Folder(Path(folder)))
    except (CopyTrouble, OSError):
        return None
    return None if head is None else head.office_id


def check_ours(folder: str, there: str | None, ours: str) -> None:
    """Raises PlaceRefused where a copy of another office lies: nothing would ever be written to it."""
    if there not in (None, ours):
        trouble = another_office(folder)
        raise PlaceRefused(trouble.detail, hint=trouble.hint)


def check_there(folder: str) -> None:
    """Whether it is a folder, or one can be made. Raises PlaceRefused, OSError."""
    path, parent = Path(folder), Path(folder).parent
    if path.exists() and not path.is_dir():
        raise PlaceRefused(f"{folder} is a file.", hint="Name a folder.")
    if not path.exists() and not parent.is_dir():
        raise PlaceRefused(
            f"There is no folder {parent}, so none can be made in it.",
            hint="Look at how the stick is called, and whether it is plugged in.",
        )


def try_writing(path: Path) -> None:
    """Make the folder if it is not there, write a file in it and take that away: rights alone do not tell, since some
    folders take no files from anybody. Raises OSError."""
    if not path.exists():
        path.mkdir()
    trial = path / ".trial"
    trial.write_bytes(b"0")
    trial.unlink()


def same_place(tx: Reading, folder: str, looked: Looked) -> Place | None:
    """The place that is known and lies in the same folder, by whatever way it is named."""
    place = where_is(folder, looked)
    return next(
        (
            one
            for one in places(tx)
            if folder == one.folder or (one.folder in looked and place.is_same(looked[one.folder]))
        ),
        None,
    )


def add_place(tx: Writing, folder: str, *, sealed: bool, now: str, looked: Looked = NOT_LOOKED) -> None:
    """Keep a copy there from now on. A place where one is kept stays as it is, also under another name:
    it is one copy. A former one may be an empty folder by now.

    Raises PlaceRefused if an open copy is kept there and this one is to be sealed: what lies there can be read.
    """
    known = same_place(tx, folder, looked)
    if known is not None and sealed and not known.sealed:
        raise PlaceRefused(
            f"The copy in {known.folder} is kept open, and anybody who finds it can read it. It was not sealed.",
            hint="Name another folder for the sealed copy; or take this one off the list, empty the folder, and begin "
            "a sealed copy in it.",
        )
    if known is not None:
        return
    insert_place(tx, folder, sealed=sealed, kept=True, now=now)


def insert_place(tx: Writing, folder: str, *, sealed: bool, kept: bool, now: str) -> int:
    """A place of which nothing is known yet; its number."""
    tx.run(
        """
        INSERT INTO copy_place (folder, sealed, added_at, begun, office_seq, erased_seq, photos, photo_bytes, kept)
        VALUES (:folder, :sealed, :now, 0, 0, 0, 0, 0, :kept)
        """,
        folder=folder,
        sealed=int(sealed),
        kept=int(kept),
        now=now,
    )
    return int(tx.value("SELECT max(place_id) FROM copy_place"))


def drop_place(tx: Writing, folder: str) -> bool:
    """Keep no copy there any more; the one that is there stays, and is remembered. Whether it was known."""
    known = tx.run("UPDATE copy_place SET kept = 0 WHERE folder = :folder AND kept = 1", folder=folder) > 0
    tx.run("DELETE FROM copy_place WHERE folder = :folder AND kept = 0 AND begun = 0", folder=folder)
    return known


def forget_copy(tx: Writing, folder: str, copy_id: str | None) -> bool:
    """What lay there is destroyed; of several that came in turn to that folder, the one with this id. Whether such a
    former copy was known."""
    return (
        tx.run(
            """
            DELETE FROM copy_place
            WHERE folder = :folder AND kept = 0 AND (:copy_id IS NULL OR copy_id = :copy_id)
            """,
            folder=folder,
            copy_id=copy_id,
        )
        > 0
    )


def note_copy(tx: Writing, place: Place, now: str) -> None:
    """Remember that a copy lies there and what it reaches, so that its age is known also while it is away: a former
    one, unless a copy is kept in that folder.

    A copy is known by its id. Where another one was kept before, that was taken away and is still owed what is erased.
    """
    kept = tx.one(
        "SELECT place_id, begun, copy_id FROM copy_place WHERE folder = :at AND kept = 1", at=place.folder
    )
    if kept is not None and kept["begun"] and kept["copy_id"] not in (None, place.copy_id):
        tx.run("UPDATE copy_place SET kept = 0 WHERE place_id = :one", one=kept["place_id"])
        number = insert_place(tx, place.folder, sealed=place.sealed, kept=True, now=now)
    elif kept is not None:
        number = kept["place_id"]
    else:
        number = None
    former = former_of(tx, place)
    if number is None:
        number = former or insert_place(tx, place.folder, sealed=place.sealed, kept=False, now=now)
    elif former is not None:
        tx.run("DELETE FROM copy_place WHERE place_id = :one", one=former)
    note_reached(tx, number, place)


def former_of(tx: Reading, place: Place) -> int | None:
    """The former place of this very copy, wherever it was; of one that was never met under its id, in this folder."""
    found = tx.value(
        """
        SELECT place_id FROM copy_place
        WHERE kept = 0 AND (copy_id = :copy_id OR (copy_id IS NULL AND folder = :folder))
        ORDER BY copy_id IS NULL LIMIT 1
        """,
        copy_id=place.copy_id,
        folder=place.folder,
    )
    return None if found is None else int(found)


def note_aside(tx: Writing, folder: str, aside: str, copy_id: str | None, now: str) -> None:
    """The copy in a folder is being set aside in another one, to begin anew: it stays known, with what it is owed.
    `copy_id` is what its head says, null if none can be read."""
    kept = tx.one(
        "SELECT place_id, sealed, begun, copy_id FROM copy_place WHERE folder = :folder AND kept = 1",
        folder=folder,
    )
    number = None
    if (
        kept is not None and kept["begun"]
    ):  # whichever was met last: it is here, or was taken away and is a former one
        tx.run("UPDATE copy_place SET kept = 0 WHERE place_id = :one", one=kept["place_id"])
        insert_place(tx, folder, sealed=bool(kept["sealed"]), kept=True, now=now)
        number = kept["place_id"] if copy_id is None or kept["copy_id"] in (None, copy_id) else None
    number = number or former_in(tx, folder, copy_id)
    number = number or insert_place(tx, aside, sealed=False, kept=False, now=now)
    tx.run("UPDATE copy_place SET folder = :aside, begun = 1 WHERE place_id = :one", aside=aside, one=number)


def former_in(tx: Reading, folder: str, copy_id: str | None) -> int | None:
    """The former place of the copy that lies in a folder. Of one that does not say which it is, the only one that was
    there: among several another may be meant, which is away and still owed what is erased."""
    if copy_id is not None:
        return former_of(tx, Place(folder, False, True, Reached(), copy_id))
    found = tx.all("SELECT place_id FROM copy_place WHERE folder = :folder AND kept = 0", folder=folder)
    return int(found[0]["place_id"]) if len(found) == 1 else None


def note_erased_aside(tx: Writing, aside: str, copy_id: str | None, erased_seq: int, now: str) -> None:
    """In what was set aside there all is erased up to now; it may have been set aside before this office knew, and be
    known under its id, by its folder, or, as earlier versions noted it, as two."""
    rows = tx.all(
        """
        SELECT place_id FROM copy_place
        WHERE kept = 0 AND (
            copy_id = :copy_id OR (folder = :aside AND (copy_id IS NULL OR :copy_id IS NULL))
        ) ORDER BY copy_id IS NULL, place_id
        """,
        copy_id=copy_id,
        aside=aside,
    )
    known = [int(row["place_id"]) for row in rows]
    number = known[0] if known else insert_place(tx, aside, sealed=False, kept=False, now=now)
    tx.run_many("DELETE FROM copy_place WHERE place_id = ?", [(one,) for one in known[1:]])
    tx.run(
        """
        UPDATE copy_place
        SET begun = 1, folder = :aside, copy_id = coalesce(:copy_id, copy_id), erased_seq = :erased_seq
        WHERE place_id = :one
        """,
        aside=aside,
        copy_id=copy_id,
        erased_seq=erased_seq,
        one=number,
    )


def note_reached(tx: Writing, place_id: int, place: Place) -> None:
    """What stands in a copy that was met, and whether it is sealed."""
    tx.run(
        """
        UPDATE copy_place
        SET begun = 1, folder = :folder, copy_id = :copy_id, sealed = :sealed, sealed_to = :sealed_to,
            office_seq = :office_seq, erased_seq = :erased_seq, photos = :photos, photo_bytes = :photo_bytes,
            complete_at = :complete_at
        WHERE place_id = :place_id
        """,
        place_id=place_id,
        folder=place.folder,
        copy_id=place.copy_id,
        sealed=int(place.sealed),
        sealed_to=place.sealed_to,
        **place.reached.__dict__,
    )


def copy_recipient(tx: Reading) -> str | None:
    """What sealed copies are closed with; None as long as there is no key."""
    recipient = tx.value("SELECT recipient FROM copy_key")
    return None if recipient is None else str(recipient)


def check_no_key(tx: Reading, *, anew: bool = False) -> None:
    """Raises PlaceRefused if there is a key for sealed copies and no other one was asked for."""
    if copy_recipient(tx) is not None and not anew:
        raise PlaceRefused(
            "This office has a key for sealed copies already; its secret half was printed when it was made.",
            hint="If the paper is lost, `intake seal --anew` makes another for copies that are begun from then on. "
            "What was sealed before stays closed.",
        )


def set_copy_key(tx: Writing) -> CopyKey:
    """Make the key for sealed copies; its secret half is kept nowhere. Raises PlaceRefused if there is one."""
    check_no_key(tx)
    key = CopyKey(*make_key())
    take_recipient(tx, key.recipient)
    return key


def take_recipient(tx: Writing, recipient: str) -> None:
    """Seal copies that are begun from now on to this. Raises PlaceRefused if it is none."""
    try:
        x25519.Recipient.from_str(recipient)
    except pyrage.RecipientError as error:
        raise PlaceRefused(
            "This is not the public half of a key.",
            hint="Make a key on the Copies screen, and key its last signs.",
        ) from error
    tx.run("DELETE FROM copy_key")
    tx.run("INSERT INTO copy_key (only_row, recipient) VALUES (1, :recipient)", recipient=recipient)
