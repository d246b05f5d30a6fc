"""The `node` check: the app's tests, with what all of them begin with made once: the plans are asked of the office's
own reader, which costs Python's start and the reading of two dozen files.

What tries the words and the rules of the job alone runs in one process, which reads them once: starting one for each
such file took a quarter of the processor's time for all. What puts something in place of the browser's own (storage,
clock, line) has a process for each file, so that nothing of it stays for the next.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path

from intake.setup.bootstrap import ROOT

#: What `tests/web/plan_book.js` reads the plans from, where it is named.
PLANS_IN = "INTAKE_PLANS_JSON"
IN_ONE_PROCESS = "--test-isolation=none"
READ_PLANS = (sys.executable, "-m", "intake.examination.plans", "--json")

JOB = ROOT / "web" / "job"
IMPORTED = re.compile(r'(?:^import|^\} from|\bfrom|\bimport\()\s*"([^"]+)"', re.MULTILINE)
#: By these a test puts something in place of what a process has once, or waits.
SHARED = re.compile(r"\b(globalThis|mock|setTimeout|setInterval)\b|\bprocess\.(?!env\b)")


@cache
def tries_the_job_alone(file: Path) -> bool:
    """Whether this file, and all that it imports from beside it, reads Node, data and `web/job` and changes nothing."""
    text = file.read_text("utf-8")
    if SHARED.search(text):
        return False
    for name in IMPORTED.findall(text):
        read = (file.parent / name).resolve()
        if not (name.startswith("node:") or read.is_relative_to(JOB)) and not (
            name.startswith("./") and tries_the_job_alone(read)
        ):
            return False
    return True


def main(node: str) -> int:
    with tempfile.TemporaryDirectory() as folder:
        plans = Path(folder, "plans.json")
        with plans.open("wb") as out:
            if subprocess.run(READ_PLANS, cwd=ROOT, stdout=out, check=False).returncode:
                print(plans.read_text("utf-8"))
                return 1
        shared = {PLANS_IN: str(plans), "PYTHON": sys.executable}  # it seeds the invented day
        tests = sorted(ROOT.glob("tests/web/*.test.js"))
        alone = [file for file in tests if tries_the_job_alone(file)]
        others = [file for file in tests if file not in alone]
        ended = [
            subprocess.run(
                [node, "--test", *how, *map(str, files)], cwd=ROOT, env={**os.environ, **shared}, check=False
            )
            for how, files in (([IN_ONE_PROCESS], alone), ([], others))
        ]
        return int(any(one.returncode for one in ended))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
