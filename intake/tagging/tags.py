"""The tag code: five symbols and a check character, shown and spoken as two groups, `7K3-QW5`.

ISO/IEC 7064 MOD 37-2 over Crockford's 32 symbols. Candidates whose check character would be I, L, O, U or `*`
are never issued, so that every tag can be read aloud and keyed.
"""

from __future__ import annotations

from collections.abc import Iterator

SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's base 32: no I, L, O, U
STANDARD = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"  # the alphabet of ISO/IEC 7064 MOD 37-2, value by place
DATA_LENGTH = 5
SEPARATORS = " -/."
LOOKALIKES = str.maketrans("OIL", "011")


class TagError(ValueError):
    """What was read or typed is no tag of ours. `code` says which way, the words what to do."""

    def __init__(self, code: str, words: str) -> None:
        super().__init__(words)
        self.code = code


def check_character(data: str) -> str | None:
    """The check character of data symbols, or None if this number is never issued."""
    remainder = 0
    for sign in data:
        remainder = (remainder + STANDARD.index(sign)) * 2 % 37
    check = STANDARD[(38 - remainder) % 37]
    return check if check in SYMBOLS else None


def normalise(typed: str) -> str:
    """What was typed, in upper case, without separators, with O as 0 and I and L as 1. Idempotent."""
    bare = "".join(sign for sign in typed.upper() if sign not in SEPARATORS)
    return bare.translate(LOOKALIKES)


def parse_tag(typed: str) -> str:
    """A tag's six characters. Raises TagError; a code that fails is never corrected."""
    tag = normalise(typed)
    for sign in tag:
        if sign not in SYMBOLS:
            raise TagError("tag_unreadable", f'No tag has the character "{sign}". Read it once more.')
    if len(tag) != DATA_LENGTH + 1:
        raise TagError("tag_unreadable", f"A tag has six characters; this has {len(tag)}. Read it once more.")
    if check_character(tag[:-1]) != tag[-1]:
        raise TagError(
            "tag_check_failed", f"{shown(tag)} is no tag: a character is wrong. Read it once more."
        )
    return tag


def shown(tag: str) -> str:
    """A tag as printed and shown: two groups of three."""
    return f"{tag[:3]}-{tag[3:]}"


def codes(start: int) -> Iterator[str]:
    """The tags that may be issued, in order from a serial number on."""
    for serial in range(start, len(SYMBOLS) ** DATA_LENGTH):
        data = "".join(SYMBOLS[serial >> shift & 31] for shift in (20, 15, 10, 5, 0))
        check = check_character(data)
        if check is not None:
            yield data + check


def serial_of(tag: str) -> int:
    """The serial number that a tag's five data symbols write."""
    serial = 0
    for sign in tag[:DATA_LENGTH]:
        serial = serial * 32 + SYMBOLS.index(sign)
    return serial


def qr_text(tag: str, address: str) -> str:
    """What a tag's QR says: an upper-case address, so that it stays in the QR's short alphanumeric mode."""
    return f"{address.rstrip('/').upper()}/T/{tag}"
