"""What the printed texts need beside the words of the record: names, numbers and articles, and the units of sizes."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from intake.examination.plan_check import Text, Written
from intake.operation import Word


class ZoneCalled(Written):
    """What a zone is on a thing that has one of the words in its name or description: the tine of a fork.

    A `single` one is the only one of its kind there: the handle of a jug. One that is `listed` is so as well where a
    line of a set's list of pieces has such a word.
    """

    of: Annotated[list[Text], Field(min_length=1)]
    one: Text
    many: Text | None = None
    counted: tuple[Text, Text] | None = None
    each: bool = False
    single: bool = False
    listed: bool = False


class ZoneGroup(Written):
    """What all zones of a group are called together: the marks on the body and on the other parts are the marks."""

    group: Word
    one: Text
    many: Text | None = None


class ZoneBeside(Written):
    """What a zone is called on a thing that has none of the zones beside which it has its own name."""

    zones: Annotated[list[Word], Field(min_length=1)]
    one: Text
    many: Text


class ZoneName(Written):
    """A zone in print: `one` of it and `many`, `plural` where its name is that of several; what is `counted` on it.
    What a `part` of it is called; of a tally, what it counts.

    `lacking` is what a thing without it is said not to have. Of zones spoken of `together` a fault is on all, never on
    one. A `tally` is a count and no zone that a thing could lack. What is `within` is in it, never on it; what is
    `upon` is on it, never in it. No `share` can be had of what covers no ground of its own, such as colours. Of two
    without `both` all are meant by the plain name: the ribs. `called` names it on a kind of thing. Zones of one
    `group` bear its name where all of them are meant, or one is all that the thing has; `also` are other words by
    which somebody may type where it is; on a thing without all of some zones it has the name under `beside`: without a
    main stone no stone is a side stone. Of one with `if_any`, such as a watermark, only a look tells whether it is
    there at all. Of `unlike` things under one name, such as seals and stamps, what is missing without a count is some
    of them.
    """

    zone: Word
    one: Text
    many: Text | None = None
    plural: bool = False
    counted: tuple[Text, Text] | None = None
    part: tuple[Text, Text] | None = None
    lacking: Text | None = None
    together: bool = False
    tally: bool = False
    within: bool = False
    upon: bool = False
    share: bool = True
    both: bool = True
    called: Annotated[list[ZoneCalled], Field(default_factory=list)]
    group: ZoneGroup | None = None
    also: Annotated[list[Text], Field(default_factory=list)]
    if_any: bool = False
    unlike: bool = False
    beside: ZoneBeside | None = None


class MemberName(Written):
    """A member in print, before or after the name of its zone, or `alone`; with `of`, a member of that zone only."""

    member: Word
    of: Word | None = None
    before: Text | None = None
    after: Text | None = None
    alone: Text | None = None


class SideName(Written):
    side: Word
    words: Text


class Sizes(Written):
    """The units that stand beside centimetres and grams."""

    inches: bool = True
    troy_ounces: bool = True


class English(Written):
    """What typed names need to be printed with: see `print.yaml`, where each list says what it is for."""

    takes_an: list[Text]
    takes_a: list[Text]
    letters_an: Text
    one_thing: list[Text]
    one_thing_endings: list[Text]
    several: list[Text]
    keep_capital: list[Text]
    keep_capital_endings: list[Text]
    common: list[Text]
    titles: list[Text]
    bare: list[Text]
    measures_out: list[Text]
    units: list[Text]
    stops_a_name: list[Text]
    hedges: list[Text]
    date_words: list[Text]
    nobody: list[Text]
    borne: list[Text]
    by_eye: Annotated[list[Text], Field(default_factory=list)]
    things: Annotated[list[Text], Field(default_factory=list)]
    parts: Annotated[list[Text], Field(default_factory=list)]


class MarkPlaces(Written):
    """What typed places of marks need to be printed with: see `print.yaml`."""

    begin: list[Text]
    corners: list[Text]
    within: list[Text]
    determiners: list[Text]


class Print(Written):
    zones: list[ZoneName]
    members: list[MemberName]
    sides: list[SideName]
    sizes: Sizes
    mark_places: MarkPlaces
    english: English
