"""Several pictures chosen together: they fill the open views in the order in which they were taken, and say so."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import picture
from tests.conftest import Office
from tests.journeys.conftest import Open, turn_to
from tests.journeys.test_one_item import phone_at_a_table


def files_of(folder: Path, *numbers: int) -> list[str | Path]:
    """Pictures whose names say another order than the times at which they were taken."""
    taken: list[str | Path] = []
    for number in numbers:
        file = folder / f"picture-{9 - number}.png"
        file.write_bytes(picture(number))
        os.utime(file, (1_700_000_000 + number, 1_700_000_000 + number))
        taken.append(file)
    return taken


def views_shown(page: Page) -> list[str]:
    shows: list[str] = page.locator(".photo-rows select").evaluate_all(
        "all => all.map(one => one.selectedOptions[0].textContent)"
    )
    return shows


def at_the_photos_of_a_pot(open_browser: Open, office: Office) -> Page:
    _, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Ceramics").click()
    turn_to(page, "Photos")
    return page


def test_pictures_chosen_together_fill_the_open_views_as_they_were_taken(
    office: Office, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    page = at_the_photos_of_a_pot(open_browser, office)
    missing = page.locator(".view-tile.missing, .view-tile.in-hand")
    first, second, third = (missing.nth(at).locator("span").first.inner_text() for at in range(3))
    (tmp_path / "torn.png").write_bytes(b"no picture")
    os.utime(tmp_path / "torn.png", (1_700_000_001, 1_700_000_001))
    pictures = files_of(tmp_path, 3, 1, 2)
    page.get_by_label("Files").set_input_files([*pictures, tmp_path / "torn.png"])
    rows = page.locator(".photo-rows li")
    expect(rows).to_have_count(3)
    # What cannot be read as a picture takes no view from those that follow.
    expect(page.get_by_role("alert")).to_contain_text("torn.png: This file cannot be opened")
    for shows, view in zip(views_shown(page), (first, second, third), strict=True):
        assert shows.startswith(view)
    said = page.locator(".bar", has_text="3 pictures chosen together")
    expect(said).to_contain_text(
        "the open views in this order, by the time of their files. Change what is not so."
    )
    expect(said).to_be_in_viewport()
    expect(page.locator(".view-tile.taken")).to_have_count(3)
    rows.nth(1).get_by_role("button", name="No view", exact=True).click()
    expect(rows.nth(1).locator("select option:checked")).to_have_text("No named view")
    expect(page.locator(".view-tile.taken")).to_have_count(2)
    expect(page.locator(".view-tile.in-hand")).to_contain_text(second)


def test_pictures_chosen_together_begin_with_the_view_in_hand(
    office: Office, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    page = at_the_photos_of_a_pot(open_browser, office)
    tiles = page.locator(".view-tiles.views .view-tile.missing")
    third, fourth = (
        tiles.nth(1).locator("span").first.inner_text(),
        tiles.nth(2).locator("span").first.inner_text(),
    )
    tiles.nth(1).click()
    page.get_by_label("Files").set_input_files(files_of(tmp_path, 1, 2))
    expect(page.locator(".photo-rows li")).to_have_count(2)
    for shows, view in zip(views_shown(page), (third, fourth), strict=True):
        assert shows.startswith(view)


def test_the_first_picture_asks_for_the_tag_that_belongs_in_it(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = at_the_photos_of_a_pot(open_browser, office)
    asks = page.locator(".bar", has_text="Its tag belongs in this picture, and none is tied yet.")
    expect(asks).to_be_visible()
    page.locator(".view-tiles.views .view-tile.missing").nth(1).click()
    expect(asks).to_have_count(0)
    page.locator(".view-tiles.views .view-tile.missing").first.click()
    asks.get_by_role("link", name="Tie it first").click()
    expect(page.get_by_label("Key in the tag's number")).to_be_visible()
