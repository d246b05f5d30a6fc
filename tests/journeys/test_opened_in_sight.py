"""What a key or a fold opens is in sight: it opened under the dock, where nobody saw that it did."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.builders import Ids, a_finding
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to
from tests.journeys.test_in_reach import a_clock, at_a_table
from tests.phone import Phone

#: How far the lower edge of something is above the dock; below nought it is hidden.
ABOVE_THE_DOCK = """(shown) =>
  document.querySelector(".dock").getBoundingClientRect().top - shown.getBoundingClientRect().bottom"""


def is_in_sight(shown: Locator) -> None:
    expect(shown).to_be_visible()
    expect(shown).to_be_in_viewport(ratio=1)
    assert shown.evaluate(ABOVE_THE_DOCK) >= 0


#: So that what was pressed last stands right above the dock, as it does after a walk through a long zone.
DOWN_TO_THE_DOCK = """(key) => {
  const dock = document.querySelector(".dock").getBoundingClientRect().top;
  scrollBy({ top: key.getBoundingClientRect().bottom + 4 - dock, behavior: "instant" });
}"""


def drawn(page: Page) -> None:
    """Two frames on: what was pressed has moved by then."""
    page.evaluate("() => new Promise((on) => requestAnimationFrame(() => requestAnimationFrame(() => on())))")


def test_the_size_of_a_finding_opens_above_the_dock(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_clock(manager, ids, day, "bracket clock")
    manager.keep(a_finding(ids, item, "case", term="split", extent_mm=None))
    page = at_a_table(open_browser, office, manager)
    page.set_viewport_size({"width": 390, "height": 640})
    go_to(page, f"{office.address}/#/item/{item}/zone/case")
    shown = page.locator("article.finding").first
    for name, opened in (("Size", "Length"), ("Where", "Where on it"), ("More", "Note")):
        key = shown.get_by_role("button", name=name, exact=True)
        key.evaluate(DOWN_TO_THE_DOCK)
        key.click()
        drawn(page)
        is_in_sight(shown.get_by_label(opened, exact=True))
        expect(key).to_be_in_viewport(ratio=1)
        key.click()
    assert office.faults() == []
