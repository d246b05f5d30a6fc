"""Options and environment, read once and checked at the start."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from platformdirs import user_data_path

from intake.web_folder import web_folder


def utc_now() -> datetime:
    return datetime.now(UTC)


def default_data_folder() -> Path:
    """`INTAKE_DATA`, else the platform's folder for a user's data."""
    named = os.environ.get("INTAKE_DATA")
    return Path(named) if named else user_data_path("intake-desk", appauthor=False)


@dataclass(frozen=True)
class Settings:
    """Everything the service needs to know before it starts.

    `data_folder` holds the database, the photos and the keys: copying it moves the house.
    `withdraw_app` makes phones forget the copy of the app that they keep, and nothing else.
    `page_port` is where the page that brings the hall's certificate is served; None outside hall mode.
    `secure_cookie` is set when the office is reached over TLS (also behind a proxy that ends it).
    """

    data_folder: Path
    web: Path = field(default_factory=web_folder)
    plans_folder: Path | None = None
    secure_cookie: bool = False
    withdraw_app: bool = False
    page_port: int | None = None
    readers: int = 3
    picture_workers: int = 1
    clock: Callable[[], datetime] = utc_now

    @property
    def database_file(self) -> Path:
        return self.data_folder / "intake.sqlite3"

    @property
    def photos_folder(self) -> Path:
        return self.data_folder / "photos"
