"""Articles and plurals of the printed words, against a library of English inflections (inflect) and by hand.

Where the library and usage part, the exception stands here with its reason: from memory.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING
from unicodedata import combining, normalize

import pytest
import typeguard

from intake.examination.plans import shipped_plans

if TYPE_CHECKING:
    from inflect import engine

PLANS = shipped_plans()
NAMES = json.loads((Path(__file__).parents[2] / "fixtures" / "names.json").read_text("utf-8"))["names"]
COUNTED = [term for term in PLANS.vocabulary.terms if term.plural]
ZONES = [zone for zone in PLANS.print.zones if zone.many]
#: A noun before "of" or an adverb is what takes the plural; the library looks at the last word.
HEADS = re.compile(r" (?:of|on|for|under|from|that|missing)\b.*$|(?:,| or| and) .*$")

#: The library says the first as one word and the others by their first letter: they are said "ar-ay-ef", "em one",
#: "you-trekt", "wee-ja" and "or".
READ_OTHERWISE = {
    "RAF cap": "an",
    "M1 helmet": "an",
    "Utrecht tile": "a",
    "ouija board": "a",
    "hors d'oeuvre dish": "an",
}


@pytest.fixture(scope="module")
def english() -> engine:
    """The library, loaded by whoever runs these tests: it takes long, and every process reads this file.

    Most of that it spends on having the types of its own arguments checked at each call, which is left out.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(typeguard, "typechecked", lambda function: function)
        from inflect import engine

    return engine()


def noun_of(term: str) -> str:
    (found,) = [one for one in COUNTED if one.term == term]
    return found.noun or found.term.replace("-", " ")


def head(words: str) -> str:
    return HEADS.sub("", words)


@pytest.mark.parametrize("term", [term.term for term in COUNTED])
def test_a_counted_noun_has_its_plural_and_article(english: engine, term: str) -> None:
    (found,) = [one for one in COUNTED if one.term == term]
    noun = noun_of(term)
    assert found.plural is not None
    assert head(found.plural) == english.plural_noun(head(noun))
    assert f"{found.article} {noun}" == english.a(noun)


@pytest.mark.parametrize("zone", [zone.zone for zone in ZONES])
def test_a_zone_has_its_plural(english: engine, zone: str) -> None:
    (found,) = [one for one in ZONES if one.zone == zone]
    assert found.many is not None
    one, many = head(found.one), head(found.many)
    if one == many:
        assert one in {"bellows"}  # the same for one and for several
        return
    assert many == english.plural_noun(one)


def test_every_zone_and_member_of_the_plans_has_a_name_in_print() -> None:
    zones = {zone.zone for plan in PLANS.plans.values() for zone in plan.zones}
    assert zones <= {zone.zone for zone in PLANS.print.zones}
    members = {
        member
        for plan in PLANS.plans.values()
        for zone in plan.zones
        if isinstance(zone.members, list)
        for member in zone.members
    }
    assert members <= {member.member for member in PLANS.print.members}


def test_a_zone_has_one_name_in_print_on_every_kind_of_thing(english: engine) -> None:
    """Never "the tine or blade": what it is called is the name that fits, or a neutral one.

    For a bell and a gong, or a chain and a key, the trade has none, nor for unlike things in one zone.
    """
    for zone in PLANS.print.zones:
        names = [zone.one, zone.many, *(zone.counted or ())]
        names += [name for kind in zone.called for name in (kind.one, kind.many)]
        if zone.zone not in ("bell-gong", "chain-key") and not zone.unlike:
            assert not any(" or " in name for name in names if name), zone.zone
        for kind in zone.called:
            assert kind.many is not None
            assert head(kind.many) == english.plural_noun(head(kind.one))
            if zone.tally and kind.counted:
                assert kind.counted[1] == english.plural_noun(kind.counted[0])
        if zone.part:
            assert zone.part[1] == english.plural_noun(zone.part[0])


@pytest.mark.parametrize(("typed", "printed"), NAMES)
def test_a_typed_name_begins_as_the_library_has_it(english: engine, typed: str, printed: str) -> None:
    """Only where the printed name has an article: whether it takes one is judged by hand."""
    article, _, name = printed.partition(" ")
    if article not in {"A", "An"}:
        assert printed.lower() in {typed.lower(), in_words(english, typed)}
        return
    by_library = english.a(heard(english, name)).split()[0]
    assert article.lower() == READ_OTHERWISE.get(name, by_library)


def in_words(english: engine, typed: str) -> str:
    """A count in words, in place of figures or behind an article that only one thing has."""
    name = re.sub(r"^an? ", "", typed.lower())
    figures = re.match(r"(\d+)(?: x)?\b", name)
    return f"{english.number_to_words(figures.group(1))}{name[figures.end() :]}" if figures else name


def heard(english: engine, name: str) -> str:
    """A name as somebody reads it out: without the marks before it and accents, its first number in words.

    Four figures are read in pairs, as a year is.
    """
    plain = "".join(letter for letter in normalize("NFD", name) if not combining(letter)).lstrip("“'\"(")
    figures = re.match(r"\d+", plain)
    if not figures:
        return plain
    number = figures.group()
    words = english.number_to_words(number, group=2 if len(number) == 4 else 0)
    return f"{words} {plain[len(number) :]}"


def test_numbers_are_spelled_as_the_library_spells_them(english: engine) -> None:
    """The words of `web/job/english.ts`, read from its source, so that both are one list."""
    source = (Path(__file__).parents[2] / "web" / "job" / "english.ts").read_text("utf-8")
    under_ten, teens, tens, places = (words.split() for words in re.findall(r'"((?:\w+ ){7,}\w+)"', source))
    assert under_ten + teens == [english.number_to_words(str(count)) for count in range(20)]
    assert tens == [english.number_to_words(str(count)) for count in range(20, 100, 10)]
    numbers = range(1, len(places) + 1)
    assert places == [english.number_to_words(english.ordinal(str(number))) for number in numbers]


def test_every_test_that_can_be_made_has_words_for_what_came_of_it() -> None:
    for plan in PLANS.plans.values():
        for test in plan.tests:
            if test.never_when != "always":
                assert all((test.said, test.name, test.undone)), (plan.class_id, test.test)


def test_a_zone_with_members_has_a_plural() -> None:
    members = {
        zone.zone
        for plan in PLANS.plans.values()
        for zone in plan.zones
        if zone.members not in ([], "counted")
    }
    assert members <= {zone.zone for zone in ZONES}
