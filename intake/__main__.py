"""`python -m intake COMMAND`. In a fresh clone it gets the machine ready first, with nothing but Python."""

from __future__ import annotations

import sys

from intake.setup.bootstrap import get_ready, go_on_in_venv, in_venv, is_checkout
from intake.setup.vendor import SetUpError


def main() -> int:
    """Run a command; the exit code."""
    if is_checkout() and not in_venv():
        try:
            get_ready("requirements.lock")
        except SetUpError as error:
            print(error, file=sys.stderr)
            return 1
        return go_on_in_venv("intake", sys.argv[1:])
    from intake.commands import main as run  # only now is everything it needs installed

    return run()


if __name__ == "__main__":
    sys.exit(main())
