"""`python -m tests [NAME ...]`: get ready, then run every check, or those named. See checks.py."""

import intake.setup.python_version  # noqa: F401 - first, so that an old Python ends with a sentence
from tests.checks import main

if __name__ == "__main__":
    raise SystemExit(main())
