"""Python runs this file before anything else where its folder is on PYTHONPATH."""

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[2]))
from tests.without_posix import hide

hide()
