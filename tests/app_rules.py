"""What the app's own rules make of what the office has on record, for tests that hold one beside the other."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path
from typing import Any

from intake.setup.bootstrap import ROOT
from tests.checks import checks_node


def said_by_app(script: str, given: object, file: Path) -> Any:
    """What a script beside the app's tests prints as JSON of what it is given in a file; None if it prints nothing."""
    file.write_text(json.dumps(given), "utf-8")
    done = subprocess.run(
        [str(checks_node().program), str(ROOT / "tests" / "web" / script), str(file)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "TZ": "UTC"},
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return json.loads(done.stdout) if done.stdout.strip() else None
