"""Nobody reads an id, a code or a name of the program: every screen of the invented day, read as a person reads it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

from intake.examination.plans import shipped_plans
from intake.sync.kinds import READ_OPERATION
from tests.builders import a_consignor, a_visit
from tests.conftest import Office
from tests.pictures.screens import BY_ROLE
from tests.pictures.states import an_office, of_the_day, records_of
from tests.presses import at_a_persons_pace

#: What a person reads of a page, with all that is folded away, and what is said of pictures and fields.
READ = """() => {
    for (const folded of document.querySelectorAll("details")) folded.open = true;
    const said = [...document.querySelectorAll("[aria-label], [placeholder], img[alt]")]
        .flatMap((one) => ["aria-label", "placeholder", "alt"].map((name) => one.getAttribute(name)));
    const chosen = [...document.querySelectorAll("option")].map((one) => one.textContent);
    const quoted = [...document.querySelectorAll("q")].map((one) => `<q>${one.textContent}</q>`);
    return [document.body.innerText, ...said, ...chosen, ...quoted].filter(Boolean).join("\\n");
}"""
#: Ends when what is on record has been read in.
READ_IN = """() => {
    const main = document.querySelector("main");
    return main && main.innerText.trim() && !/^(Reading|Opening) /m.test(main.innerText);
}"""
RAW = {
    "an id": r"[0-9a-f]{8}-[0-9a-f]{4}-",
    "a digest": r"\b(?=[0-9a-f]*[a-f])(?=[0-9a-f]*[0-9])[0-9a-f]{12,}\b",
    "a name of the program": r"\b[a-z]+_[a-z_]+\b",
    "a nothing": r"\b(?:undefined|null|NaN)\b|\[object ",
    "a caution's number": r"\bH\d\d\b",
    "one of several": r"\b1 (?:visits|items|things|zones|views|photos|pieces|crates|containers|numbers|tickets"
    r"|devices|people|tables|rolls|changes|faults|pictures|tests|owners|days|places|entries)\b",
}
#: What a person types as it stands: names of commands and options, and a picture's file.
AS_TYPED = re.compile(r"--[a-z-]+|\S+\.(?:jpg|png|pdf|csv|example\S*)")
SURNAME = "Tumblewick-Marker"
HYPHENED = r"[a-z]+(?:-[a-z]+)+"


def strings(value: Any) -> Iterator[str]:
    """Every text in a value, however deep."""
    left = [value]
    while left:
        inner = left.pop()
        if isinstance(inner, str):
            yield inner
        elif isinstance(inner, dict):
            left += inner.values()
        elif isinstance(inner, (list, tuple)):
            left += inner


@cache
def codes() -> re.Pattern[str]:
    """The words with a hyphen by which lists are kept, such as `at-table`, that no sentence of the plans has so."""
    texts = set(strings([shipped_plans().body(), READ_OPERATION.json_schema()]))
    written = {word for text in texts if " " in text for word in re.findall(HYPHENED, text.casefold())}
    called = {words for plan in shipped_plans().plans.values() for words in plan.called}  # read as they stand
    kept = {text for text in texts if re.fullmatch(HYPHENED, text)} - written - called
    kept -= {"check-in", "shoulder-plate"}  # which people say as well
    kept.add("at-table")  # a visit's stage, which the model keeps as words
    assert {"works-in-part", "no-response"} <= kept
    assert len(kept) > 100
    quoted = {text for text in texts if re.fullmatch("[a-z]+", text)}  # what was entered, by itself
    assert {"opened", "intact"} <= quoted
    return re.compile(
        rf"(?<![\w-])(?:{'|'.join(sorted(kept, key=len, reverse=True))})(?![\w-])|<q>(?:{'|'.join(quoted)})</q>"
    )


def raw_on(text: str, kept_by: re.Pattern[str]) -> list[str]:
    """What stands there that is nobody's word, each with what it is and with what stands round it."""
    text = AS_TYPED.sub("", text)
    found = [
        f"{what}: {text[max(0, one.start() - 30) : one.end() + 20]!r}"
        for what, pattern in [*RAW.items(), ("a code", kept_by.pattern)]
        for one in re.finditer(pattern, text)
    ]
    return list(dict.fromkeys(found))


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Office]:
    """The office of the invented day; of its photos only the words beside them are read."""
    with an_office(tmp_path / "demo", empty=False, across=60) as office:
        yield office


def device(browser: Browser, office: Office, role: str) -> Page:
    """A newly paired device; nobody has said who is at it."""
    page = at_a_persons_pace(browser.new_context()).new_page()
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code(role, role.capitalize()))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.wait_for_url(re.compile("#/(today|queue|day)$"))
    return page


def screen_of(address: str) -> str:
    """An address without what it is about: of two things the same screen has the same, and the desk's list stays
    beside its entries."""
    return re.sub(r"\{\w+\}", "", address).removeprefix("#").replace("/entry/", "/queue")


def read(page: Page, office: Office, address: str, *, screen_stays: bool) -> str:
    """What stands on a screen; nothing of the one before is taken for it, which was marked.

    `screen_stays`: it is the screen that is open, and keeps its place in the page unless that is read anew.
    """
    page.evaluate(
        "() => document.querySelectorAll('main').forEach((main) => { main.dataset.before = 'yes'; })"
    )
    page.goto(f"{office.address}/{address}")
    if screen_stays:
        page.reload()
    page.wait_for_function("() => !document.querySelector('main')?.dataset.before")
    page.wait_for_function(READ_IN)
    text: str = page.evaluate(READ)
    return text


@pytest.mark.parametrize(
    "planted",
    [
        "set plan to “f3332a0c1b2d4e5f”",
        "opened 019cebae-65a8-716b-aab7-7385aedd7d65",
        "Class: soft_toy",
        "1 visits, 3 items",
        "Owner: undefined",
        "Not to be tried: caution H26 stands",
        "They are at-table",
        "Result: works-in-part",
        "seal <q>Rolf Dean</q><q>opened</q>",
    ],
)
def test_what_is_nobody_s_word_is_found(planted: str) -> None:
    kept_by = codes()
    assert raw_on(f"Table 1. {planted}, 14:02", kept_by)
    assert raw_on("Q42, 1 visit, 11 items, tag 032-QBX, a well-known maker, half-past two", kept_by) == []


#: Where an owner's name is written down, read back or signed, by whoever opened that visit or its entry.
WRITTEN_DOWN = {"visit", "receipt", "entry"}


def test_no_screen_shows_an_id_or_a_code_and_none_the_hall_can_read_a_private_name(
    demo: Office, browser: Browser
) -> None:
    """Table, porter, door, manager and desk, each at their own screens; every visit of the day is private."""
    ids, kept_by = of_the_day(demo), codes()
    phone = demo.pair("manager", "Setting up")
    records = records_of(phone)
    day = next(record for record in records if record["kind"] == "day")
    visit = phone.keep(a_visit(phone.ids, day["record_id"], ticket="Q88"))
    phone.keep(a_consignor(visit["visit_id"], "name", f"Ada {SURNAME}"))
    before = [record for record in records if record["kind"] == "visit"]
    for visit_id in [visit["visit_id"], *(record["record_id"] for record in before)]:
        flag = {"visit_id": visit_id, "field": "private", "value": "yes", "seen": None}
        phone.keep(("set_visit", flag))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    names = {record["fields"]["consignor/name"]["value"] for record in before}
    assert len(names) > 3
    found, lists = [], []
    for role, screens in BY_ROLE.items():
        page = device(browser, demo, role)
        open_screen = urlsplit(page.url).fragment
        for name, address in screens.items():
            stays = screen_of(address) == open_screen
            text = read(page, demo, address.format(**ids), screen_stays=stays)
            open_screen = screen_of(address)
            found += [f"{role} {name}: {one}" for one in raw_on(text, kept_by)]
            if name not in WRITTEN_DOWN:
                assert name != "today" or "Q88" in text
                lists += [f"{role} {name}: {word}" for word in {"Ada", SURNAME, *names} if word in text]
        page.context.close()
    assert not found, "\n".join(found)
    assert lists == []
