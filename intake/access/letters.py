"""Letters by which a device's own tickets and receipts are told from those of the others, with no network.

No two devices of an office have the same, those that were signed off included: what they made may still be called.
"""

from __future__ import annotations

import secrets
from itertools import count, product

from intake.database import Reading

#: Letters that are told apart when they are called out in a hall and read off a slip: one of those whose names sound
#: alike (A for H, J and K; B for C, D, E, G, P, T, V and Z; F for S and X; M for N; W for U; Y for I), none that looks
#: like a figure or like the Q of the runs. Source: common practice; what sounds alike is why spelling alphabets exist
#: (ITU Radio Regulations, appendix 14).
LETTERS = "ABFMRWY"
LONG = 3  # more than a house needs that never lost anything: 7 and 49 devices have fewer


def letters_for(tx: Reading, device_id: str, *, brought: str | None = None) -> str:
    """The letters of a device that is being paired: those that the office knows it by; else those that it brings from
    an office before this one, unless another has them by now; else free ones."""
    known: str | None = tx.value(
        "SELECT letters FROM device WHERE device_id = :device_id", device_id=device_id
    )
    if known:
        return known
    taken = {row["letters"] for row in tx.all("SELECT letters FROM device WHERE letters IS NOT NULL")}
    if brought and brought not in taken:
        return brought
    return chosen_letters(taken) if brought or has_lost(tx) else next_letters(taken)


def has_lost(tx: Reading) -> bool:
    """Whether devices may be about whose letters this office does not know: it lacked something once, or one asks to
    come back to it that it never knew."""
    return bool(
        tx.value("SELECT 1 FROM office WHERE losses > 0 UNION ALL SELECT 1 FROM returning_device LIMIT 1")
    )


def next_letters(taken: set[str]) -> str:
    """The shortest letters that no device has yet."""
    every = ("".join(letters) for length in count(1) for letters in product(LETTERS, repeat=length))
    return next(letters for letters in every if letters not in taken)


def chosen_letters(taken: set[str]) -> str:
    """Longer letters than the office before this one gave in their order, and by chance, should that one have been
    begun anew as well: a device that nobody has heard yet may hold tickets with the shorter ones."""
    length = LONG
    while True:
        free = {"".join(letters) for letters in product(LETTERS, repeat=length)} - taken
        if free:
            return secrets.choice(sorted(free))
        length += 1
