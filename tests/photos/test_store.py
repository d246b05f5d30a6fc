"""Originals and parts on the disk, without a line: what is taken, from where it goes on, and what is thrown away."""

from __future__ import annotations

import os
from collections.abc import AsyncIterator, Iterable
from pathlib import Path

import pytest

from intake.database import opened
from intake.errors import (
    NotAPicture,
    NotFound,
    PhotoMissing,
    TooLarge,
    WrongDigest,
    WrongLength,
    WrongOffset,
)
from intake.photos.parts import WRITTEN_AT_ONCE, Parts, Standing, gathered
from intake.photos.picture import PHOTO_LIMIT
from intake.photos.store import PhotoStore, record_file, remove
from tests.builders import digest, picture
from tests.conftest import Clock
from tests.photos.test_parts import parts_in, put_part

AT = "2026-03-14T18:00:00.000Z"
CONTENT = picture(1)
NAME = digest(CONTENT)


async def pieces_of(*pieces: bytes) -> AsyncIterator[bytes]:
    for piece in pieces:
        yield piece


async def sent(
    parts: Parts, *pieces: bytes, offset: int = 0, length: int = len(CONTENT), name: str = NAME
) -> Standing:
    return await parts.append(
        "phone", name, offset=offset, length=length, content=pieces_of(*pieces), received_at=AT
    )


async def noted(store: PhotoStore, content: bytes) -> None:
    """Put an original and its row, as a bundle does."""
    found = store.put(digest(content), content)
    await store._database.write(lambda tx: record_file(tx, found, AT))


async def test_a_part_goes_on_from_where_it_is_and_from_nowhere_else(tmp_path: Path) -> None:
    async with parts_in(tmp_path) as (parts, store):
        with pytest.raises(NotFound):
            await parts.standing("phone", NAME)
        half = len(CONTENT) // 2
        assert await sent(parts, CONTENT[:100], CONTENT[100:half]) == Standing(half, len(CONTENT), False)
        assert await parts.standing("phone", NAME) == Standing(half, len(CONTENT), False)
        with pytest.raises(NotFound):
            await parts.standing("another phone", NAME)
        for offset in (0, half - 1, half + 1):
            with pytest.raises(WrongOffset) as refused:
                await sent(parts, CONTENT[offset:], offset=offset)
            assert f"has {half} bytes" in refused.value.detail
        whole = Standing(len(CONTENT), len(CONTENT), True)
        assert await sent(parts, CONTENT[half:], offset=half) == whole
        assert await parts.standing("another phone", NAME) == whole
        assert await sent(parts, offset=len(CONTENT)) == whole, "it is there already"
        assert store.file_of(NAME).read_bytes() == CONTENT


async def test_an_empty_request_finishes_what_has_all_its_bytes(tmp_path: Path) -> None:
    """A crash came between the last byte and the check of all of them."""
    async with parts_in(tmp_path) as (parts, store):
        put_part(tmp_path / "photos" / "incoming" / "phone", f"{NAME}.{len(CONTENT)}", CONTENT)
        assert (await parts.standing("phone", NAME)).complete is False
        assert (await sent(parts, offset=len(CONTENT))).complete is True
        assert store.is_true(NAME)


async def test_more_than_was_said_is_refused_and_what_came_before_stays(tmp_path: Path) -> None:
    async with parts_in(tmp_path) as (parts, _):
        with pytest.raises(TooLarge):
            await sent(parts, CONTENT, b"?")
        assert (await sent(parts, CONTENT[: len(CONTENT) - 1])).offset == len(CONTENT) - 1
        with pytest.raises(TooLarge):
            await sent(parts, CONTENT[-1:] + b"?", offset=len(CONTENT) - 1)
        assert (await sent(parts, CONTENT[-1:], offset=len(CONTENT) - 1)).complete


async def test_the_largest_picture_may_be_begun_and_no_larger_one(tmp_path: Path) -> None:
    async with parts_in(tmp_path) as (parts, _):
        assert (await sent(parts, b"x", length=PHOTO_LIMIT)).offset == 1
        with pytest.raises(TooLarge):
            await sent(parts, b"x", length=PHOTO_LIMIT + 1, name="a" * 64)


async def test_a_part_that_began_with_another_length_is_begun_anew(tmp_path: Path) -> None:
    async with parts_in(tmp_path) as (parts, _):
        await sent(parts, CONTENT[:100])
        with pytest.raises(WrongLength) as refused:
            await sent(parts, CONTENT[:100], length=len(CONTENT) + 1)
        assert f"is {len(CONTENT)} bytes long" in refused.value.detail
        assert f"not {len(CONTENT) + 1}." in refused.value.detail
        with pytest.raises(NotFound):
            await parts.standing("phone", NAME)
        await sent(parts, CONTENT)
        with pytest.raises(WrongLength):
            await sent(parts, CONTENT, length=len(CONTENT) + 1)


@pytest.mark.parametrize(
    ("content", "error"), [(CONTENT[:-1] + b"?", WrongDigest), (b"no picture at all", NotAPicture)]
)
async def test_what_is_refused_at_its_end_leaves_nothing(
    tmp_path: Path, content: bytes, error: type[Exception]
) -> None:
    name = NAME if error is WrongDigest else digest(content)
    async with parts_in(tmp_path) as (parts, store):
        with pytest.raises(error):
            await sent(parts, content, name=name, length=len(content))
        with pytest.raises(NotFound):
            await parts.standing("phone", name)
        with pytest.raises(error):
            store.put(name, content)
        assert not store.file_of(name).exists()


@pytest.mark.parametrize("name", ["0" * 64, "f" * 64])
async def test_bytes_are_put_under_their_own_digest_alone(tmp_path: Path, name: str) -> None:
    async with parts_in(tmp_path) as (_, store):
        with pytest.raises(WrongDigest):
            store.put(name, CONTENT)
        assert not store.file_of(name).exists()


async def test_a_request_that_was_overtaken_hears_where_the_part_is_now(tmp_path: Path) -> None:
    """Thrown away by one that said another length, or brought to its end by a later one."""
    async with parts_in(tmp_path) as (parts, _):

        async def thrown_away() -> AsyncIterator[bytes]:
            yield CONTENT[:100]
            await sent(parts, length=len(CONTENT) + 1)
            with pytest.raises(WrongLength):
                await sent(parts, length=len(CONTENT) + 2)

        async def finished() -> AsyncIterator[bytes]:
            yield CONTENT[:100]
            await sent(parts, CONTENT)

        async def goes_on(content: AsyncIterator[bytes]) -> Standing:
            return await parts.append(
                "phone", NAME, offset=0, length=len(CONTENT), content=content, received_at=AT
            )

        with pytest.raises(WrongOffset) as refused:
            await goes_on(thrown_away())
        assert "has 0 bytes" in refused.value.detail
        assert (await goes_on(finished())).complete is True


async def test_a_phone_s_parts_have_room_for_four_of_the_largest(tmp_path: Path) -> None:
    """The fifth takes the place of the oldest."""
    names = [letter * 64 for letter in "abcde"]
    folder = tmp_path / "photos" / "incoming" / "phone"
    async with parts_in(tmp_path) as (parts, _):
        for age, name in enumerate(names):
            if age == 4:
                assert len([*folder.iterdir()]) == 4
            await sent(parts, b"x", length=PHOTO_LIMIT, name=name)
            os.utime(folder / f"{name}.{PHOTO_LIMIT}", (age, age))
    assert sorted(file.stem for file in folder.iterdir()) == names[1:]


async def test_the_folder_of_originals_may_be_anywhere_and_be_opened_again(tmp_path: Path) -> None:
    async with opened(tmp_path / "file.sqlite3") as database:
        for _ in range(2):
            store = PhotoStore(tmp_path / "another disk" / "photos", database)
            store.put(NAME, CONTENT)
            assert store.is_true(NAME)
            assert len([*store.folder.iterdir()]) == 256, "one for each beginning of a digest, in two digits"
            store.close()


async def test_an_original_is_here_with_its_row_and_all_its_bytes(tmp_path: Path) -> None:
    async with parts_in(tmp_path) as (_, store):
        with pytest.raises(NotFound):
            await store.require(NAME)
        assert (await store.stat(NAME), store.is_true(NAME)) == (None, False)
        await noted(store, CONTENT)
        await noted(store, CONTENT)
        others = [picture(seed) for seed in (2, 3)]
        await noted(store, others[0])
        asked = [digest(others[0]), digest(others[1]), NAME]
        assert await store.standing(asked) == [asked[0], NAME]
        found = await store.require(NAME)
        assert (found.sha256, found.bytes, found.media_type) == (NAME, len(CONTENT), "image/jpeg")
        assert (found.width, found.height) == (640, 480)
        assert await store.stat(NAME) == found
        for harm in (CONTENT[:-1], None):
            store.file_of(NAME).unlink() if harm is None else store.file_of(NAME).write_bytes(harm)
            assert await store.stat(NAME) is None
            assert await store.standing([NAME]) == []
            with pytest.raises(PhotoMissing):
                await store.require(NAME)


async def test_a_start_finishes_what_has_all_its_bytes_and_leaves_the_rest(
    tmp_path: Path, clock: Clock
) -> None:
    folder = tmp_path / "photos" / "incoming" / "phone"
    async with parts_in(tmp_path) as (parts, store):
        put_part(folder, f"{NAME}.{len(CONTENT)}", CONTENT)
        cut = put_part(folder, f"{'a' * 64}.1000", b"x")
        strange = put_part(folder, "notes.txt", b"x")
        wrong = put_part(tmp_path / "photos" / "incoming" / "other", f"{'b' * 64}.4", b"xxxx")
        await parts.sweep(clock(), AT)
        assert (await store.require(NAME)).bytes == len(CONTENT)
        assert sorted(folder.iterdir()) == sorted([cut, strange])
        assert not wrong.parent.exists(), "bytes of another digest go, and an empty folder with them"


@pytest.mark.parametrize(
    ("sizes", "given"),
    [
        ([], [0]),
        ([10, 20], [30]),
        ([WRITTEN_AT_ONCE - 1, 1, 5], [WRITTEN_AT_ONCE, 5]),
        ([WRITTEN_AT_ONCE - 1], [WRITTEN_AT_ONCE - 1]),
        ([WRITTEN_AT_ONCE + 3, 1], [WRITTEN_AT_ONCE + 3, 1]),
    ],
)
async def test_bytes_are_gathered_until_there_is_enough_to_write(
    sizes: Iterable[int], given: list[int]
) -> None:
    pieces = [bytes([number]) * size for number, size in enumerate(sizes)]
    found = [piece async for piece in gathered(pieces_of(*pieces))]
    assert [len(piece) for piece in found] == given
    assert b"".join(found) == b"".join(pieces)


async def test_what_came_before_a_cut_is_given_before_its_error_is() -> None:
    async def cut() -> AsyncIterator[bytes]:
        yield b"some"
        raise ConnectionError("the line is cut")

    coming = gathered(cut())
    assert await anext(coming) == b"some"
    with pytest.raises(ConnectionError):
        await anext(coming)


def test_what_is_removed_is_counted_once(tmp_path: Path) -> None:
    """One that somebody else removed meanwhile is no fault, and is not counted."""
    (tmp_path / "picture").write_bytes(b"of it")
    assert [remove(tmp_path / "picture") for _ in range(2)] == [True, False]
    assert list(tmp_path.iterdir()) == []
