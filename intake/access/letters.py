"""Letters by which a device's own tickets and receipts are told from those of the others, with no network.

No two devices of an office have the same, those that were signed off included: what they made may still be called.
"""

from __future__ import annotations

from itertools import count, product

from intake.database import Reading

#: Letters that are told apart when they are called out in a hall and read off a slip: one of those whose names sound
#: alike (A for H, J and K; B for C, D, E, G, P, T, V and Z; F for S and X; M for N; W for U; Y for I), none that looks
#: like a figure or like the Q of the runs. Source: common practice; what sounds alike is why spelling alphabets exist
#: (ITU Radio Regulations, appendix 14).
LETTERS = "ABFMRWY"


def letters_of(tx: Reading, device_id: str) -> str | None:
    """Those that a device got when it was paired before, or None."""
    found: str | None = tx.value(
        "SELECT letters FROM device WHERE device_id = :device_id", device_id=device_id
    )
    return found


def free_letters(tx: Reading) -> str:
    """The shortest letters that no device has yet."""
    taken = {row["letters"] for row in tx.all("SELECT letters FROM device WHERE letters IS NOT NULL")}
    every = ("".join(letters) for length in count(1) for letters in product(LETTERS, repeat=length))
    return next(letters for letters in every if letters not in taken)
