"""How values and types are written into the app's sources, on lines that a person can read."""

from __future__ import annotations

import json
import textwrap
from typing import Any

WIDTH = 120
STEP = "  "


def assigned(head: str, value: Any, tail: str, indent: str = "") -> str:
    """A value between what stands before and behind it: on one line if it fits there, else a member a line."""
    line = f"{indent}{head}{json.dumps(value)}{tail}"
    if len(line) <= WIDTH or not isinstance(value, dict | list | tuple) or not value:
        return line
    within = indent + STEP
    if isinstance(value, dict):
        members = [assigned(f"{json.dumps(key)}: ", each, ",", within) for key, each in value.items()]
    else:
        members = [assigned("", each, ",", within) for each in value]
    opens, closes = "{}" if isinstance(value, dict) else "[]"
    return "\n".join([f"{indent}{head}{opens}", *members, f"{indent}{closes}{tail}"])


def union(head: str, choices: list[str], tail: str, indent: str = "") -> str:
    """A type of several choices: on one line if it fits there, else a choice a line."""
    line = f"{indent}{head} {' | '.join(choices)}{tail}"
    if len(line) <= WIDTH:
        return line
    return "\n".join([f"{indent}{head}", *(f"{indent}{STEP}| {choice}" for choice in choices)]) + tail


def text(words: str, tail: str, indent: str = STEP) -> str:
    """A long text as several, each but the last ending in a blank."""
    lines = textwrap.wrap(words, WIDTH - len(indent) - len('"" +') - 1, break_on_hyphens=False)
    whole = [*(f"{line} " for line in lines[:-1]), lines[-1]]
    return " +\n".join(f"{indent}{json.dumps(line)}" for line in whole) + tail
