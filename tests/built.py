"""The web app as its sources are now, for whoever runs tests: built once, by the first that needs it."""

from __future__ import annotations

import sys
import time
from functools import partial

from intake import system
from intake.setup import web_app
from intake.setup.bootstrap import ROOT, Checkout
from intake.setup.steps import Steps
from tests.checks import checks_node


def build_if_changed() -> None:
    """Of several processes that run tests one builds it, and the others wait."""
    if web_app.is_built(ROOT / "web"):
        return
    with system.locked(Checkout(ROOT).turn, wait=partial(time.sleep, 0.2)):
        if not web_app.is_built(ROOT / "web"):
            if web_app.is_bundled(ROOT / "web", for_checks=True):
                web_app.note_models(Steps(), ROOT / "web", sys.executable)
            else:
                web_app.build(Steps(), ROOT / "web", checks_node(), sys.executable, for_checks=True)
