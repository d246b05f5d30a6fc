"""Where the built web app and the invented day lie: beside the package in a checkout, inside it when installed."""

from __future__ import annotations

from pathlib import Path

HERE = Path(__file__).resolve().parent


def _beside_or_inside(beside: str, inside: str) -> Path:
    installed = HERE / inside
    return installed if installed.is_dir() else HERE.parent / beside


def web_folder() -> Path:
    return _beside_or_inside("web/built", "_web")


def fixtures_folder() -> Path:
    return _beside_or_inside("fixtures", "_fixtures")
