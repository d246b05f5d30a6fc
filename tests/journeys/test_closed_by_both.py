"""Two managers close the day at once, each as the first: the same closing asks nobody which of the two holds."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair
from tests.phone import Phone


def test_the_same_closing_by_both_is_no_question_and_another_one_is(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    other = office.pair("manager", "Otto's")

    def close(phone: Phone, first: str, second: str, named: list[str]) -> str:
        body = {"day_id": day["day_id"], "closed_by": first, "second_by": second, "named": named}
        phone.keep(("close_day", body))
        return str(phone.push()[-1]["outcome"])

    assert close(manager, "Vera Thorn", "Otto Glave", ["Q01: open", "Q02: open"]) == "kept"
    assert close(other, "Otto Glave", "Vera Thorn", ["Q02: open", "Q01: open"]) == "refused"
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Third")
    go_to(page, f"{office.address}/#/closing")
    beside = page.get_by_text("Otto Glave and Vera Thorn closed it as well")
    expect(beside).to_contain_text("the same 2 differences")
    expect(beside).to_contain_text("It is the same closing: nothing is to be decided.")
    expect(beside).not_to_contain_text("which holds")
    go_to(page, f"{office.address}/#/day")
    expect(page.get_by_role("heading", name="People")).to_be_visible()
    two_values = page.get_by_role("heading", name="Two values")
    expect(two_values).to_have_count(0)

    assert close(office.pair("manager", "Ana's"), "Ana Reed", "Vera Thorn", ["Q01: open"]) == "refused"
    expect(two_values).to_contain_text("1")
    go_to(page, f"{office.address}/#/closing")
    expect(page.get_by_text("Ana Reed and Vera Thorn closed it as well")).to_contain_text("which holds")
    assert office.faults() == []
