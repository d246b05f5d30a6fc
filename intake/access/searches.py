"""A desk's searches that went by owners' words: which of them are noted, and when.

A word that is being typed is one search. It is noted once it has stood for a while, or as another is begun; what
stood on the way goes with the words that it became. Nothing of that is lost: whatever it found is found by its
beginning, which is in the words that are noted. The same words are noted again after half an hour, or with an owner
whom they had not found.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

#: A search that stood no longer than this was on the way to what was typed next, or back from it.
SETTLES = timedelta(seconds=3)


@dataclass(frozen=True)
class Search:
    """What was looked for at a desk and since when, by the words of which visits' owners it went, and how many things
    the list had."""

    device_id: str
    words: str
    at: datetime
    visits: frozenset[str]
    found: int

    def with_found(self, other: Search) -> Search:
        """It and what another one found."""
        return replace(self, visits=self.visits | other.visits, found=max(self.found, other.found))

    def was_on_the_way_to(self, search: Search) -> bool:
        """Whether the next one has more or fewer letters at its end, and came at once."""
        before, after = self.words.casefold(), search.words.casefold()
        return search.at - self.at < SETTLES and (after.startswith(before) or before.startswith(after))


class Searches:
    """The search that stands at each desk, and those that were noted `once_in` this time."""

    def __init__(self, once_in: timedelta) -> None:
        self._once_in = once_in
        self._standing: dict[str, Search] = {}  # by device
        self._noted: dict[tuple[str, str], Search] = {}  # by device and words

    @property
    def standing(self) -> list[Search]:
        return list(self._standing.values())

    def hear(self, search: Search) -> list[Search]:
        """A desk has searched. What is to be noted now: the one before, unless it goes on in this one."""
        self._forget_old(search.at)
        before = self._standing.pop(search.device_id, None)
        if before is not None and before.words == search.words:
            self._standing[search.device_id] = before.with_found(search)
            return []
        ended: list[Search] = []
        if before is not None and not before.was_on_the_way_to(search):
            ended, before = [self._note(before, search.at)], None
        if not self._is_noted(search):
            self._standing[search.device_id] = search.with_found(before) if before else search
        elif before is not None:  # of these words no note is taken: its owners would go with none
            ended = [self._note(before, search.at)]
        return ended

    def settle(self, now: datetime | None) -> list[Search]:
        """Those that have stood for a while, to be noted now; without a moment all: the office closes."""
        stood = [search for search in self.standing if now is None or now - search.at >= SETTLES]
        return [self._note(self._standing.pop(search.device_id), now or search.at) for search in stood]

    def _is_noted(self, search: Search) -> bool:
        """Whether the same words are noted already, with all owners whom they find now."""
        earlier = self._noted.get(key_of(search))
        return earlier is not None and search.visits <= earlier.visits

    def _note(self, search: Search, now: datetime) -> Search:
        self._forget_old(now)
        earlier = self._noted.get(key_of(search), search)
        self._noted[key_of(search)] = replace(search.with_found(earlier), at=now)
        return search

    def _forget_old(self, now: datetime) -> None:
        self._noted = {key: each for key, each in self._noted.items() if now - each.at < self._once_in}


def key_of(search: Search) -> tuple[str, str]:
    return search.device_id, search.words.casefold()
