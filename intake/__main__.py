"""`python -m intake COMMAND`. In a fresh clone it gets the machine ready first, with nothing but Python."""

import intake.setup.python_version  # noqa: F401 - first, so that an old Python ends with a sentence
from intake.setup.bootstrap import main

if __name__ == "__main__":
    raise SystemExit(main())
