"""What the list calls what it can be narrowed to, on its filters and on its rows: whoever types one of these words
finds what a press would have shown.

They are asked of the marks as somebody searches, so that a word stands in no entry's index for being said on a screen,
and a class or a table is found by the name that it has now. The app has its words in `web/job/queue_words.ts`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import chain

from intake.cataloguing import search
from intake.cataloguing.search import mark
from intake.custody.differences import table_name
from intake.database import Reading
from intake.examination.plans import Plans
from intake.reading import open_days
from intake.records.record import record_on

STATES = {
    "waiting": ("waiting",),
    "picked-up": ("picked up",),
    "described": ("described",),
    "returned": ("back with owners", "back with its owner"),
    "taken-away": ("taken away",),
}
TROUBLES = {
    "alone": ("stopped, not decided",),
    "stopped": ("stopped, decided or not",),
    "held": ("held apart",),
    "caution": ("any caution",),
    "differs": ("differed at check-in",),
    "apart": ("pieces apart", "its pieces are apart"),
    "absent": ("did not come", "not come", "not there as it was unpacked"),
    "deferred": ("put off to the store",),
    "contested": ("two values",),
    "changed": ("changed since described",),
    "unsigned": ("not signed for",),
    "otherwise": ("changed since signed",),
    "untagged": ("no tag",),
    "unpictured": ("no photo", "no picture"),
    "unnamed": ("no name", "not named yet"),
}
WORST = {
    "4": ("severe",),
    "3": ("serious",),
    "2": ("moderate",),
    "1": ("slight",),
    "0": ("none to speak of",),
    "": ("none on record",),
}
LEVELS = {"red": ("red: stopped",), "amber": ("amber: set apart",), "note": ("note",)}
CALLED = {
    mark(of, value): names
    for of, values in (("state", STATES), ("is", TROUBLES), ("worst", WORST), ("level", LEVELS))
    for value, names in values.items()
}
NO_CLASS, NO_TABLE = ("no class yet",), ("no table",)
LEAST = 2  # letters: one alone begins a word of nearly everything, and finds it all by what is typed next

#: The words by which each mark is called.
Called = Mapping[str, frozenset[str]]


def words_of(called: Mapping[str, Iterable[str]]) -> Called:
    return {of: frozenset(chain.from_iterable(map(search.words_in, names))) for of, names in called.items()}


ALWAYS = words_of(CALLED)


def called_here(tx: Reading, plans: Plans) -> Called:
    """By what each mark is called at this office: its classes by their keys and plans, its tables as the open days name
    them, and by their number where no open day has them."""
    classes: dict[str, tuple[str, ...]] = {key.class_id: (key.words,) for key in plans.classes.classes}
    for class_id, plan in plans.plans.items():
        classes[class_id] = (*classes.get(class_id, ()), plan.name)
    named = {mark("class", class_id): names for class_id, names in {**classes, "": NO_CLASS}.items()}
    tables = {mark("table", table_id): names for table_id, names in {**table_names(tx), "": NO_TABLE}.items()}
    # Whoever pressed Stop took it for one of these: what was typed beside it says that seldom.
    signs = {mark("hazard", row.hazard): (row.name, *row.synonyms) for row in plans.cautions.cautions}
    return {**ALWAYS, **words_of({**named, **tables, **signs})}


def table_names(tx: Reading) -> dict[str, tuple[str, ...]]:
    """The names of the tables at which things were seen, by id."""
    days = [day for day_id in open_days(tx) if (day := record_on(tx, day_id)) is not None]
    found = {}
    for table_id in tables(tx):
        names = {name for day in days if (name := table_name(day, table_id))}
        found[table_id] = tuple(sorted(names)) or (f"table {table_id.removeprefix('t')}",)
    return found


def tables(tx: Reading) -> list[str]:
    """The tables at which things were seen; the next one is one step in the index away."""
    return list(search.steps(tx, "SELECT min(table_id) FROM entry WHERE table_id > :last"))


def marks_called(word: str, called: Called) -> list[str]:
    """The marks of whatever is called by a word that begins so."""
    if len(word) < LEAST:
        return []
    return [of for of, names in called.items() if any(name.startswith(word) for name in names)]
