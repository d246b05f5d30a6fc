"""The app's types are the office's models: whoever changes a kind here is told so there."""

from __future__ import annotations

from intake import app_kinds, field_words
from intake.app_types import FILE, app_types


def test_the_apps_types_are_those_of_the_models() -> None:
    assert FILE.read_text("utf-8") == app_types(), "write them anew: python -m intake.app_types"


def test_the_apps_table_of_kinds_is_what_the_models_say() -> None:
    written = app_kinds.FILE.read_text("utf-8")
    assert written == app_kinds.app_kinds(), "write it anew: python -m intake.app_types"


def test_the_apps_currencies_are_the_offices() -> None:
    written = app_kinds.CURRENCIES_FILE.read_text("utf-8")
    assert written == app_kinds.app_currencies(), "write them anew: python -m intake.app_types"


def test_the_apps_words_for_fields_are_the_offices() -> None:
    written = field_words.FILE.read_text("utf-8")
    assert written == field_words.app_field_words(), "write it anew: python -m intake.app_types"
