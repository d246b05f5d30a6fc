"""Whole photos that come behind a record's operations in one request."""

from __future__ import annotations

import asyncio
from concurrent.futures import Future as Job
from itertools import count
from mmap import mmap
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field

from intake.errors import Refusal, TooLarge, Unreadable
from intake.operation import Digest
from intake.photos.picture import Picture
from intake.photos.store import PhotoStore
from intake.wire import BodyReader

T = TypeVar("T")
BUNDLE_LIMIT = 8 * 1024 * 1024


class BundledPhoto(BaseModel):
    """A photo in a bundle: its digest, and how many bytes of the body are its."""

    model_config = ConfigDict(extra="forbid")
    sha256: Digest
    bytes: Annotated[int, Field(ge=1, le=BUNDLE_LIMIT)]


Told = tuple[dict[str, Any], Picture | None]  # what is said of a photo, and the picture if it is on disk now


async def put_bundled(store: PhotoStore, body: BodyReader, photos: list[BundledPhoto]) -> list[Told]:
    """Put the photos that are the rest of the body; each is checked and written while the next is still on its way.

    Rows are the caller's to add. Raises Unreadable if the body is not as long as its head says, OfficeFull.
    """
    jobs = []
    for photo in photos:
        buffer = store.buffers.borrow(photo.bytes)
        await body.take_into(memoryview(buffer)[: photo.bytes])
        jobs.append(store.threads.submit(put_one, store, photo, buffer))
    if await body.take():
        raise Unreadable("The bundle is longer than its head says.")
    return await all_of(jobs)


def put_one(store: PhotoStore, photo: BundledPhoto, buffer: mmap) -> Told:
    """Check and write one photo, on the calling thread. Gives the buffer back."""
    try:
        picture = store.put(photo.sha256, memoryview(buffer)[: photo.bytes])
    except (Refusal, TooLarge) as error:
        return {"sha256": photo.sha256, "outcome": "refused", "problem": error.problem()}, None
    finally:
        store.buffers.give_back(buffer)
    return {"sha256": photo.sha256, "outcome": "kept", "problem": None}, picture


async def all_of(jobs: list[Job[T]]) -> list[T]:
    """What jobs on threads came to. Only the last one wakes the loop, which costs as much as many a job does."""
    loop, left = asyncio.get_running_loop(), count(len(jobs) - 1, -1)
    done: asyncio.Future[None] = loop.create_future()

    def wake() -> None:
        if not done.done():  # whoever asked may have gone
            done.set_result(None)

    def one_less(_: Job[T]) -> None:
        if next(left) == 0:
            loop.call_soon_threadsafe(wake)

    for job in jobs:
        job.add_done_callback(one_less)
    if jobs:
        await done
    return [job.result() for job in jobs]
