"""Sealing: a copy that travels is closed with a key whose secret half is nowhere in the office.

Format: age (https://age-encryption.org/v1), by the library pyrage. The office knows the recipient (the public half)
and can only close; opening takes the secret half, which was printed once.
"""

from __future__ import annotations

import base64
import json
import re
from typing import Any

import pyrage
from pyrage import x25519

from intake.errors import Refusal

SECRET_MARK = "AGE-SECRET-KEY-1"
SECRET_SIGNS = 58  # behind the mark
#: Bech32 leaves out B, I, O and 1, since they look like these. Source: BIP 173, "Bech32".
MISREAD = str.maketrans("BIO1", "8L0L")


class WrongKey(Refusal):
    """The key that was given is none, or not the one this copy was sealed with."""

    code = "wrong_key"
    title = "This key does not open the copy"


def make_key() -> tuple[str, str]:
    """A new key: its secret half, to be printed once and forgotten, and its recipient."""
    identity = x25519.Identity.generate()
    return str(identity), str(identity.to_public())


def on_paper(secret: str, recipient: str) -> str:
    """The secret half as it is printed: groups of four in two lines, and by what its paper is known."""
    signs = secret.removeprefix(SECRET_MARK)
    groups = [signs[start : start + 4] for start in range(0, len(signs), 4)]
    half = -(-len(groups) // 2)
    lines = (SECRET_MARK, " ".join(groups[:half]), " ".join(groups[half:]))
    return (
        "\n".join(f"    {line}" for line in lines) + f"\n\nIt opens copies sealed to {paper_of(recipient)}…"
    )


def paper_of(recipient: str | None) -> str | None:
    """By what the paper of a key is known: how its public half begins."""
    return recipient[:12] if recipient else None


def off_paper(typed: str) -> str:
    """The secret half as it was typed off its paper: with blanks and line breaks, in any case, its mark or none.

    Raises WrongKey if signs are missing or too many.
    """
    signs = signs_of(typed)
    if len(signs) != SECRET_SIGNS:
        raise WrongKey(
            f"A key has {SECRET_SIGNS} signs behind {SECRET_MARK}; this has {len(signs)}.",
            hint="Compare it with the paper, group by group. Blanks, line breaks and small letters do no harm.",
        )
    return SECRET_MARK + signs.translate(MISREAD)


def signs_of(typed: str) -> str:
    """The signs behind the mark, of what was typed so far."""
    return re.sub(r"\s+", "", typed).upper().removeprefix(SECRET_MARK)


class Seal:
    """What closes. Without a recipient everything stays as it is."""

    def __init__(self, recipient: str | None) -> None:
        self.recipient = recipient
        self._to = [x25519.Recipient.from_str(recipient)] if recipient else []

    def close(self, plain: bytes) -> bytes:
        return pyrage.encrypt(plain, self._to) if self._to else plain

    def line(self, public: dict[str, Any], private: dict[str, Any]) -> dict[str, Any]:
        """A line's value: what may be read by anybody, and the rest, closed if the copy is sealed."""
        if self.recipient is None:
            return {**public, **private}
        closed = self.close(json.dumps(private, ensure_ascii=False).encode())
        return {**public, "sealed": base64.b64encode(closed).decode()}


class Opener:
    """What opens. Made with the secret half, or with None for a copy that is not sealed."""

    def __init__(self, recipient: str | None, secret: str | None) -> None:
        """Raises WrongKey."""
        self._identity: x25519.Identity | None = None
        if recipient is None:
            return
        if not secret:
            raise WrongKey(
                "This copy is sealed, and no key was given.",
                hint="Give the key that was printed when sealing was set up: with --key-file, in INTAKE_COPY_KEY, "
                "or when asked.",
            )
        try:
            self._identity = x25519.Identity.from_str(off_paper(secret))
        except pyrage.IdentityError as error:
            raise WrongKey(
                "What was given is no key: at least one sign is another than on the paper.",
                hint="Compare it with the paper, group by group. Blanks, line breaks and small letters do no harm.",
            ) from error
        if str(self._identity.to_public()) != recipient:
            raise WrongKey(
                f"This key is for {str(self._identity.to_public())[:12]}…, the copy is sealed to {recipient[:12]}….",
                hint=f"Look for the paper that says {recipient[:12]}….",
            )

    def open(self, closed: bytes) -> bytes:
        """Raises pyrage.DecryptError if the bytes were changed."""
        return closed if self._identity is None else pyrage.decrypt(closed, [self._identity])

    def line(self, value: dict[str, Any]) -> dict[str, Any]:
        """A line's value with what was closed in it. Raises pyrage.DecryptError or ValueError if it was changed."""
        if "sealed" not in value:
            return value
        public = {name: value[name] for name in value if name != "sealed"}
        return {**public, **json.loads(self.open(base64.b64decode(value["sealed"], validate=True)))}
