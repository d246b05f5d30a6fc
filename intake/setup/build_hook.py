"""Builds the web app into a wheel: whoever installs it needs neither Node nor a checkout."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class WebAppHook(BuildHookInterface):  # type: ignore[misc, type-arg, unused-ignore]
    """Check the app's types, build it if it is not built yet, then put every file of it under intake/_web."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        root = Path(self.root)
        sys.path.insert(0, str(root))
        from intake.setup.steps import Steps
        from intake.setup.web_app import build_if_newer, check_types

        check_types(Steps(), root)
        build_if_newer(Steps(), root)
        built = root / "web" / "built"
        for file in sorted(built.rglob("*")):
            if file.is_file() and file.suffix != ".map":
                build_data["force_include"][str(file)] = f"intake/_web/{file.relative_to(built).as_posix()}"
