"""How getting ready speaks: one line a step, and in place of a traceback what failed and what to do."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

SHOWN_LINES = 6  # so many of a failed program's own lines are shown, its complaints before anything else
COMPLAINTS = ("ERROR", "error", "npm error", "npm ERR!")
TYPE_FAULT = ": error TS"  # behind the file and the line; what stands under it says the same at length

AGAIN = (
    "Look at the lines above. If there is no network, connect and run the same command again: what is done is not "
    "done twice. With `--verbose` everything that the programs print is shown."
)
#: What Node and pip say of a certificate that they do not trust. Sources: the names of X509_verify_cert's errors in
#: Node's documentation of `tls`; Python's `ssl`.
UNTRUSTED = (
    "SELF_SIGNED_CERT_IN_CHAIN",
    "DEPTH_ZERO_SELF_SIGNED_CERT",
    "UNABLE_TO_GET_ISSUER_CERT",
    "UNABLE_TO_VERIFY_LEAF_SIGNATURE",
    "CERTIFICATE_VERIFY_FAILED",
)
TRUST = (
    "The network answers with a certificate that is not trusted here: as a rule a proxy of the house that looks into "
    "https. Ask whoever looks after the network for its certificate as a PEM file, name it in the environment, "
    "NODE_EXTRA_CA_CERTS=FILE for npm and PIP_CERT=FILE for pip, and run the same command again. If this machine "
    "trusts it already, NODE_OPTIONS=--use-system-ca makes npm do so."
)


class SetUpError(Exception):
    """What failed while getting ready, and what to do."""


@dataclass(frozen=True)
class Steps:
    """The steps of one run. With `verbose` the programs that it starts show every line they print."""

    verbose: bool = False

    def say(self, words: str) -> None:
        print(f"[set-up] {words}", file=sys.stderr, flush=True)

    def run(
        self,
        command: Sequence[str | Path],
        *,
        advice: str,
        folder: Path | None = None,
        environment: dict[str, str] | None = None,
    ) -> None:
        """Run a program to its end. Raises SetUpError with its complaints and the advice if it fails."""
        try:
            done = subprocess.run(
                [str(word) for word in command],
                cwd=folder,
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=None if self.verbose else subprocess.PIPE,
                stderr=None if self.verbose else subprocess.STDOUT,
                encoding="utf-8",
                errors="replace",
                check=False,
                close_fds=False,  # it holds the set-up's lock with us, and alone if we are killed
            )
        except OSError as error:
            raise SetUpError(f"{command[0]} does not start: {error.strerror}.\n{advice}") from error
        if done.returncode:
            printed = done.stdout or ""
            untrusted = any(word in printed for word in UNTRUSTED)
            raise SetUpError("\n".join([*complaints(printed), TRUST if untrusted else advice]))


def complaints(printed: str) -> list[str]:
    """The lines that say what went wrong: those marked as errors, else the last ones."""
    lines = [line.rstrip() for line in printed.splitlines() if line.strip()]
    marked = [line for line in lines if line.lstrip().startswith(COMPLAINTS) or TYPE_FAULT in line]
    return [f"  {line}" for line in (marked or lines)[-SHOWN_LINES:]]
