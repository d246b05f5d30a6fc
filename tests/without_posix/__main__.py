"""`python -m tests.without_posix [WORDS FOR PYTEST]`: the office's tests as on a system that is not POSIX."""

import sys

from tests.without_posix import hide

if __name__ == "__main__":
    hide()
    import pytest

    sys.exit(pytest.main(sys.argv[1:]))
