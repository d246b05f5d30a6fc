"""Which version this is, said once in pyproject.toml."""

from __future__ import annotations

import tomllib
from importlib import metadata
from pathlib import Path


def version() -> str:
    """Of the checkout that this file is in, else of the installed package."""
    project = Path(__file__).resolve().parents[1] / "pyproject.toml"
    if project.exists():
        return str(tomllib.loads(project.read_text("utf-8"))["project"]["version"])
    return metadata.version("intake-desk")
