"""What a device sent, looked at before it is known to be an operation: it may be any JSON."""

from __future__ import annotations

import re
from typing import Any

from intake.sync.canonical import SAFE_INTEGER
from intake.sync.log import NO_PLACE, UNTOLD
from intake.sync.logged import Logged


def has_id(raw: Any) -> bool:
    return isinstance(raw, dict) and is_text(raw.get("operation_id"))


def is_text(value: Any) -> bool:
    """Whether it is text that can be written: a device may have cut a character in half."""
    return isinstance(value, str) and (
        value.isascii() or not any("\ud800" <= sign <= "\udfff" for sign in value)
    )


#: U+0000 in a JSON text: its escape behind no backslash, or behind pairs of them.
NUL = re.compile(r"(?<!\\)(?:\\\\)*\\u0000")


def has_nul(logged: Logged) -> bool:
    """Whether some text of an operation holds U+0000, at which the engine's functions would end it."""
    text = logged.text if logged.words is None else logged.text + logged.words
    return "\\u0000" in text and NUL.search(text) is not None


def seq_of(raw: Any, device_id: str) -> int:
    """The place of an operation in its device's own order: UNTOLD if it cannot be told, NO_PLACE if it has none."""
    if not isinstance(raw, dict):
        return UNTOLD
    if raw.get("device_id", device_id) != device_id:
        return NO_PLACE
    seq = raw.get("device_seq")
    return seq if type(seq) is int and 1 <= seq <= SAFE_INTEGER else UNTOLD
