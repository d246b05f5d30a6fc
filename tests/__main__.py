"""`python -m tests [NAME ...]`: get ready, then run every check, or those named. See checks.py."""

import signal

import intake.setup.python_version  # noqa: F401 - before the rest, so that an old Python ends with a sentence

if __name__ == "__main__":
    signal.signal(
        signal.SIGINT, signal.SIG_DFL
    )  # Ctrl-C ends it without a traceback until it can say something
    from tests.checks import main

    raise SystemExit(main())
