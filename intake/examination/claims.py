"""Words that would promise something of a thing: that it is safe, real or legal. The tool never knows it.

A house's own plans, cautions and printed words are held to the same list as ours (`fixtures/claims.json`). A sentence
may deny or forbid such a word, or ask.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from intake.examination.plan_check import DataFile, Problem, Written
from intake.web_folder import fixtures_folder

#: What is forbidden to staff may name what they must not say; what people say of a thing is understood, never printed.
NOT_SAID = {"may_not", "do_not", "said_as", "synonyms"}


class Claims(NamedTuple):
    """The words, what denies one within so many words before it, and what is none of them though it looks so."""

    promise: re.Pattern[str]
    denial: re.Pattern[str]
    near: int
    allowed: dict[str, str]


@cache
def claims() -> Claims:
    read = json.loads((fixtures_folder() / "claims.json").read_text("utf-8"))

    def one_of(words: list[str]) -> re.Pattern[str]:
        return re.compile(rf"\b({'|'.join(words)})\b", re.IGNORECASE)

    return Claims(one_of(read["words"]), one_of(read["denied_by"]), read["near"], read["allowed"])


def claims_in(text: str) -> list[str]:
    """The sentences that promise something: they have such a word, nothing before it denies it, and they do not ask."""
    known = claims()
    for words in known.allowed:
        text = text.replace(words, "")
    found = []
    for sentence in re.findall(r"[^.;:!?]+[.;:!?]?", text):
        word = known.promise.search(sentence)
        before = sentence[: word.start()].split()[-known.near :] if word else []
        if word and not sentence.endswith("?") and not known.denial.search(" ".join(before)):
            found.append(sentence.strip())
    return found


def claim_problems(read: DataFile[Any]) -> list[Problem]:
    """Every text of a file that promises something of a thing."""
    content: Written = read.content
    problem = 'this promises something of a thing ("{}"): say what was seen, or who decides.'
    return [
        read.problem(place, problem.format(claim))
        for place, text in texts_in(content.model_dump(), [])
        for claim in claims_in(text)
    ]


def texts_in(value: object, place: list[str | int]) -> Iterator[tuple[list[str | int], str]]:
    """Every text that can reach a person, each with where it stands."""
    if isinstance(value, dict):
        for name, inside in value.items():
            if name not in NOT_SAID:
                yield from texts_in(inside, [*place, name])
    elif isinstance(value, list):
        for number, inside in enumerate(value):
            yield from texts_in(inside, [*place, number])
    elif isinstance(value, str):
        yield place, value
