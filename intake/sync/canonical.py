"""The one way in which the log, its answers and its chain are written: RFC 8785 canonical JSON."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import rfc8785
from pydantic_core import to_json

SAFE_INTEGER = 2**53 - 1
PLAIN = frozenset({str, bool, type(None)})  # what has one way to be written, whatever it says


class NotPlain(Exception):
    """A value holds something that has more than one way to be written."""


def canonical(value: Any) -> str:
    """RFC 8785 canonical JSON.

    Operations hold almost nothing but texts, safe whole numbers, truths and nulls under ASCII names. Of those the
    very same text comes from an ordinary writer once the names are in order, ten times faster; a test holds the
    two together. Everything else goes to the library made for it.
    """
    try:
        return to_json(in_order(value)).decode()
    except NotPlain:
        return rfc8785.dumps(value).decode()


def in_order(value: Any) -> Any:
    """The value with the names of every object in order. Raises NotPlain."""
    kind = type(value)
    if kind in PLAIN:
        return value
    if kind is int and -SAFE_INTEGER <= value <= SAFE_INTEGER:
        return value
    if kind is list:
        return [in_order(member) for member in value]
    if kind is dict:
        return {
            name: member if type(member := value[name]) in PLAIN else in_order(member)
            for name in names_in_order(tuple(value))
        }
    raise NotPlain


@lru_cache(maxsize=1000)  # the operations of a kind come with the same names, and so do answers
def names_in_order(names: tuple[str, ...]) -> list[str]:
    """The names of an object in order. Raises NotPlain unless they are ASCII, of which there is one order."""
    if not "".join(names).isascii():
        raise NotPlain
    return sorted(names)
