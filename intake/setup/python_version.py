"""Says so at once where this Python is too old: importing this module ends the program then.

It must stay readable to any Python, so it has no annotations and none of the newer words.
"""

# ruff: noqa: UP032

import shutil
import sys

OLDEST = (3, 11)

if sys.version_info < OLDEST:
    which = getattr(shutil, "which", lambda name: None)  # Python 2 has no such function
    newer = [name for name in ["python3.{}".format(minor) for minor in range(20, 10, -1)] if which(name)]
    sys.exit(
        "This needs Python {}.{} or newer, and this is Python {}.{}. ".format(
            *(OLDEST + sys.version_info[:2])
        )
        + (
            "This machine has a newer one: write `{}` in place of `python3`.".format(newer[0])
            if newer
            else "Install a newer Python beside it, then run the same command with that one."
        )
    )
