"""A device as somebody holds it: paired, with a name chosen, and what it shows has come."""

from __future__ import annotations

from playwright.sync_api import Browser, Page, Request

from intake.tagging.tags import codes, shown
from tests.builders import a_tie
from tests.conftest import Office
from tests.pictures.screens import TROUBLE
from tests.presses import at_a_persons_pace

#: Drawn: nothing is being read, and every picture in sight has come; those below are fetched when they are scrolled to.
DRAWN = """() => {
    const main = document.querySelector("main");
    const isInSight = (image) => {
        const { top, bottom, width } = image.getBoundingClientRect();
        return width > 0 && bottom > 0 && top < innerHeight;
    };
    return main && !/(Reading|Opening|Asking) …/.test(main.textContent)
        && [...document.images].filter(isInSight).every((image) => image.complete);
}"""
#: So often in a row nothing may be under way before a screen counts as come, a tenth of a second apart.
QUIET_TURNS = 3
#: A page that was left tells of no end of what it had asked for, so that nothing is waited for longer than this.
MOST_TURNS = 100
#: The invented day has tied none of the numbers from here on.
FAR_FROM_THE_ROLLS = 9000


class Traffic:
    """What a page has asked for and not been given yet: a screen that waits is not what people see."""

    #: Stays open for as long as the page does.
    NEVER_ENDS = "/sync/events"

    def __init__(self, page: Page) -> None:
        self.page = page
        self.open: set[Request] = set()
        page.on("request", self.begin)
        for end in ("requestfinished", "requestfailed"):
            page.on(end, self.end)

    def begin(self, request: Request) -> None:
        if self.NEVER_ENDS not in request.url:
            self.open.add(request)

    def end(self, request: Request) -> None:
        self.open.discard(request)

    def settle(self) -> None:
        """Wait until everything asked for has come and is drawn, ten seconds at most."""
        quiet = 0
        for _ in range(MOST_TURNS):
            if quiet == QUIET_TURNS:
                break
            self.page.wait_for_timeout(100)
            quiet = 0 if self.open else quiet + 1
        self.open.clear()  # whose end was not told by now is not waited for again at every screen
        self.page.wait_for_function(DRAWN)


def open_device(browser: Browser, office: Office, role: str, table: str) -> tuple[Page, Traffic]:
    """A paired device, at which somebody has said who they are, and at which table, once the day has come."""
    page = at_a_persons_pace(browser.new_context()).new_page()
    traffic = Traffic(page)
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code(role, role.capitalize()))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.locator("nav.places").wait_for(state="attached")
    page.goto(f"{office.address}/#/today")
    traffic.settle()
    who = page.get_by_label("Who is at this device?")
    if role != "desk" and who.count():
        who.select_option(index=1)
        if role == "table" and table:
            page.get_by_label("Which table?").select_option(label=table)
        page.get_by_role("button", name="Go on as").click()
    traffic.settle()
    return page, traffic


def in_trouble(page: Page, traffic: Traffic, office: Office, role: str, ids: dict[str, str]) -> None:
    """A table whose tag was tied elsewhere meanwhile; then no device reaches the office any more."""
    context = page.context
    for address in TROUBLE[role].values():  # what was looked at once stands there without the office
        page.goto(f"{office.address}/{address.format(**ids)}")
        traffic.settle()
    context.set_offline(True)
    if role != "table":
        return
    tag = next(codes(FAR_FROM_THE_ROLLS))
    page.goto(f"{office.address}/#/item/{ids['bare']}/tag")
    page.get_by_label("Key in the tag's number").fill(shown(tag))
    page.get_by_role("button", name=f"Tie {shown(tag)} to this item").click()
    other = office.pair("table", "The other table")
    other.keep(a_tie(ids["new"], tag))
    other.push()
    context.set_offline(False)
    page.goto(f"{office.address}/#/outbox")
    page.get_by_role("heading", name="Refused: a person must look").wait_for()
    context.set_offline(True)
