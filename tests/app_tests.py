"""The `node` check: the app's tests, each file in a process of its own, with what all of them begin with made once:
the plans are asked of the office's own reader, which costs Python's start and the reading of two dozen files.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from intake.setup.bootstrap import ROOT

#: What `tests/web/plan_book.js` reads the plans from, where it is named.
PLANS_IN = "INTAKE_PLANS_JSON"
READ_PLANS = (sys.executable, "-m", "intake.examination.plans", "--json")


def main(node: str) -> int:
    with tempfile.TemporaryDirectory() as folder:
        plans = Path(folder, "plans.json")
        with plans.open("wb") as out:
            if subprocess.run(READ_PLANS, cwd=ROOT, stdout=out, check=False).returncode:
                print(plans.read_text("utf-8"))
                return 1
        shared = {PLANS_IN: str(plans), "PYTHON": sys.executable}  # it seeds the invented day
        tests = sorted(map(str, ROOT.glob("tests/web/*.test.js")))
        return subprocess.run(
            [node, "--test", *tests], cwd=ROOT, env={**os.environ, **shared}, check=False
        ).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
