"""`python -m intake COMMAND`. In a fresh clone it gets the machine ready first, with nothing but Python."""

import signal

import intake.setup.python_version  # noqa: F401 - before the rest, so that an old Python ends with a sentence

if __name__ == "__main__":
    signal.signal(
        signal.SIGINT, signal.SIG_DFL
    )  # Ctrl-C ends it without a traceback until it can say something
    from intake.setup.bootstrap import main

    raise SystemExit(main())
