"""Letters by which a device's own tickets and receipts are told from those of the others, with no network.

No two devices of an office have the same, those that were signed off included: what they made may still be called.
"""

from __future__ import annotations

import secrets
from functools import cache
from itertools import product

from intake.database import Reading

#: Letters that are told apart when they are called out in a hall and read off a slip: one of those whose names sound
#: alike (A for H, J and K; B for C, D, E, G, P, T, V and Z; F for S and X; M for N; W for U; Y for I), none that looks
#: like a figure or like the Q of the runs. Source: common practice; what sounds alike is why spelling alphabets exist
#: (ITU Radio Regulations, appendix 14).
LETTERS = "ABFMRWY"
HOW_MANY = 4  # 2,401 of them: two that know nothing of each other are the same once in as many


def letters_for(tx: Reading, device_id: str, *, brought: str | None = None) -> str:
    """The letters of a device that is being paired: those that the office knows it by; else those that it brings from
    an office before this one, unless another has them by now; else some by chance."""
    known: str | None = tx.value(
        "SELECT letters FROM device WHERE device_id = :device_id", device_id=device_id
    )
    if known:
        return known
    taken = {row["letters"] for row in tx.all("SELECT letters FROM device WHERE letters IS NOT NULL")}
    if brought and brought not in taken:
        return brought
    return chosen_letters(taken)


def chosen_letters(taken: set[str]) -> str:
    """Letters by chance that no device has yet, never the next in some order.

    A device that nobody here has heard may hold tickets with what an order would give out next: it was paired by an
    office before this one, or in an hour that this one lost. No office can know that there is none. An office of before
    gave one to three letters, so that none of those are met again either.
    """
    length = HOW_MANY
    while True:
        free = [letters for letters in all_letters(length) if letters not in taken]
        if free:
            return secrets.choice(free)
        length += 1


@cache
def all_letters(length: int) -> list[str]:
    """All that there are of this length."""
    return ["".join(letters) for letters in product(LETTERS, repeat=length)]
