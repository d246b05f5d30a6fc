"""The key of sealed copies goes onto paper once: shown, and read off the paper before it counts.

A key that nobody wrote down closes copies for ever.
"""

from __future__ import annotations

import sys
from collections.abc import Callable

from intake.copies.places import CopyKey
from intake.copies.seal import make_key, on_paper, signs_of
from intake.errors import CommandError

LAST_SIGNS = 6


class KeyNotTaken(CommandError):
    """The person did not read the key off the paper."""


def key_on_paper() -> CopyKey:
    """A new key, shown, and where a person sits at the terminal read off the paper again. Raises KeyNotTaken."""
    key = CopyKey(*make_key())
    print_key(key)
    if sys.stdin.isatty() and not is_on_paper(key.secret, input):
        raise KeyNotTaken(
            "The key was not taken. All stays as it was.",
            hint="Type the same command again: it makes another.",
        )
    return key


def print_key(key: CopyKey) -> None:
    print(
        f"\nThe key that opens sealed copies which are begun from now on:\n\n{on_paper(key.secret, key.recipient)}\n\n"
        "It is shown this once and is kept nowhere in the office. Write it down, and keep the paper neither with the "
        "office nor\nwith the stick: without it a sealed copy cannot be opened by anybody.\n",
        flush=True,
    )


def is_on_paper(secret: str, ask: Callable[[str], str]) -> bool:
    """Whether the person reads the last signs off the paper: a key that nobody has closes a copy for ever.

    Asked until they fit; an empty line gives up.
    """
    last = signs_of(secret)[-LAST_SIGNS:]
    while typed := ask(f"Its last {LAST_SIGNS} signs, from the paper (an empty line gives up): ").strip():
        if signs_of(typed) == last:
            return True
        print("These are not its last signs. Compare the paper with what stands above.")
    return False
