"""Which of a desk's searches by owners' words are noted: each once, and no owner's without one."""

from __future__ import annotations

import random
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

import pytest

from intake.access.searches import SETTLES, Search, Searches

HALF_AN_HOUR = timedelta(minutes=30)
BEGAN = datetime(2026, 3, 14, 18, tzinfo=UTC)
#: Words, the seconds for which they stood, and the owners by whose words the search went.
Typed = tuple[str, float, str]


def noted(typed: Iterable[Typed], *, looks: bool) -> list[Search]:
    """What is noted of a desk's searches, one after another. `looks`: what has stood is looked for before each."""
    searches, now = Searches(HALF_AN_HOUR), BEGAN
    notes: list[Search] = []
    for words, seconds, owners in typed:
        notes += searches.settle(now) if looks else []
        notes += searches.hear(Search("desk", words, now, frozenset(owners), len(owners)))
        now += timedelta(seconds=seconds)
    assert len(searches.standing) <= 1
    return notes + searches.settle(None)


@pytest.mark.parametrize("looks", [True, False])
@pytest.mark.parametrize(
    ("why", "typed", "expected"),
    [
        ("typed on, it is one search", [("G", 1, "abc"), ("Giv", 1, "ab"), ("Given", 9, "a")], ["Given abc"]),
        ("and so with letters taken back", [("Given", 1, "a"), ("Giv", 9, "ab")], ["Giv ab"]),
        ("what has stood is noted by itself", [("Giv", 5, "ab"), ("Given", 5, "a")], ["Giv ab", "Given a"]),
        ("another word begins another", [("Given", 1, "a"), ("Stone", 1, "b")], ["Given a", "Stone b"]),
        ("the same words are noted once", [("Given", 5, "a"), ("Stone", 5, "b"), ("given", 5, "a")],
         ["Given a", "Stone b"]),
        ("again with whom they had not found", [("Given", 5, "a"), ("given", 5, "ab")], ["Given a", "given ab"]),
        ("and whoever was found with either", [("Given", 5, "a"), ("given", 5, "b"), ("Given", 5, "ab")],
         ["Given a", "given b"]),
        ("again after half an hour", [("Given", 5, "a"), ("Stone", 1800, "b"), ("Given", 5, "a")],
         ["Given a", "Stone b", "Given a"]),
        ("the same again as it stands is one", [("Given", 2, "a"), ("Given", 2, "b"), ("Given", 2, "")],
         ["Given ab"]),
        ("no search hides behind words that are noted", [("s", 5, "ab"), ("smith", 1, "a"), ("s", 5, "ab")],
         ["s ab", "smith a"]),
    ],
)  # fmt: skip
def test_a_search_is_noted_once_and_by_what_it_became(
    why: str, typed: list[Typed], expected: list[str], looks: bool
) -> None:
    notes = [f"{note.words} {''.join(sorted(note.visits))}" for note in noted(typed, looks=looks)]
    assert notes == expected, why


def test_what_stands_is_shown_with_since_when_until_it_is_noted() -> None:
    searches = Searches(HALF_AN_HOUR)
    for seconds in (0, 2):
        searches.hear(
            Search("desk", "Given", BEGAN + timedelta(seconds=seconds), frozenset("a"), 4 - seconds)
        )
    [standing] = searches.standing
    assert (standing.at, standing.found) == (BEGAN, 4)
    assert searches.settle(BEGAN + SETTLES - timedelta(milliseconds=1)) == []
    assert searches.settle(BEGAN + SETTLES) == [standing]
    assert searches.standing == []


@pytest.mark.parametrize("seed", range(200))
def test_no_owner_is_found_without_a_note_and_no_note_says_nothing_new(seed: int) -> None:
    chance = random.Random(seed)
    owners = {"smith": "a", "smart": "b", "stone": "c", "given": "d"}

    def typed() -> Typed:
        words = chance.choice(list(owners))[: chance.randint(1, 5)]
        found = [owner for name, owner in owners.items() if name.startswith(words) and chance.random() < 0.8]
        return words, chance.choice([0, 1, 2.9, 3, 10, 600]), "".join(found) or "a"

    searched = [typed() for _ in range(30)]
    notes = noted(searched, looks=chance.random() < 0.5)
    for words, _, found in searched:
        alike = frozenset[str]().union(*(note.visits for note in notes if note.words[0] == words[0]))
        assert alike.issuperset(found), "whoever was found is in a note of words that begin alike"
    assert {note.words for note in notes} <= {words for words, _, _ in searched}
    for number, note in enumerate(notes):
        same = [
            earlier
            for earlier in notes[:number]
            if earlier.words == note.words and note.at - earlier.at < HALF_AN_HOUR
        ]
        assert not note.visits <= frozenset().union(*(earlier.visits for earlier in same)), note
