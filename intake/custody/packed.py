"""Lines of JSON in little room: a page of them is unpacked alone, and never all of them at once."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Iterable, Iterator
from typing import Any

from intake.records.values import compact

BLOCK = 100  # lines that are packed together: as many as a page asks for
LEAST_EFFORT = 1  # what more would save is a tenth, for three times the work


class Packed:
    """Lines as JSON, in the order in which they were added; JSON has no line breaks of its own."""

    def __init__(self, lines: Iterable[Any] = ()) -> None:
        self._blocks: list[bytes] = []
        self._last: list[str] = []  # fewer than a block
        self._count = 0
        for line in lines:
            self.add(line)

    def add(self, line: Any) -> None:
        self.add_told(compact(line))

    def add_told(self, line: str) -> None:
        """One that is told as JSON already."""
        self._last.append(line)
        self._count += 1
        if len(self._last) == BLOCK:
            self._blocks.append(zlib.compress("\n".join(self._last).encode(), LEAST_EFFORT))
            self._last = []

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[str]:
        for at in range(len(self._blocks) + 1):
            yield from self._block(at)

    def page(self, after: int, limit: int) -> list[str]:
        """So many lines behind the first `after`."""
        first, skipped = divmod(after, BLOCK)
        last = (after + limit - 1) // BLOCK
        blocks = range(first, min(last, len(self._blocks)) + 1)
        return [line for at in blocks for line in self._block(at)][skipped : skipped + limit]

    @property
    def size(self) -> int:
        """Bytes that it takes."""
        return sum(map(len, self._blocks)) + sum(map(len, self._last))

    @property
    def digest(self) -> str:
        """Another one for other lines, or in another order."""
        digest = hashlib.sha256()
        for line in self:
            digest.update(line.encode() + b"\n")
        return digest.hexdigest()

    def _block(self, at: int) -> list[str]:
        packed = at < len(self._blocks)
        return zlib.decompress(self._blocks[at]).decode().split("\n") if packed else self._last
