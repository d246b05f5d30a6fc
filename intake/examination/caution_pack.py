"""The country pack of cautions: what a person may notice, and what is then said, allowed and forbidden.

The pack says which country it is for and that it is no legal advice. It never says what a thing is.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from intake.examination.cautions import Hazard
from intake.examination.plan_check import DataFile, Problem, Text, Written


class Caution(Written):
    """One subject: the sign that a person may notice, what staff may and may not do, and who decides.

    `basis` names the published source with its date, or says common practice or memory.
    """

    hazard: Hazard
    subject: Text
    sign: Text
    level: Literal["red", "amber", "note"]
    caution: Text
    may: Text
    may_not: Text
    who: Text
    basis: Text


class CautionPack(Written):
    """One country's cautions. `card` is what everybody at a table does first, in order."""

    country: Text
    notice: Text
    card: Annotated[list[Text], Field(min_length=1)]
    cautions: Annotated[list[Caution], Field(min_length=1)]


def pack_problems(read: DataFile[CautionPack]) -> list[Problem]:
    return read.doubled(["cautions"], [one.hazard for one in read.content.cautions], "caution")
