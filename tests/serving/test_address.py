"""The office's own name, once it has one, decides everywhere; what a request calls the office counts for nothing."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from ipaddress import IPv4Address
from typing import Any

import pypdfium2
import pytest
import zxingcpp

from intake.access.routes import address_for_phones
from intake.address import is_loopback, reach_warning, read_address
from intake.hall.network import Reachable
from intake.settings import Settings
from intake.tagging.routes import TRIAL
from tests.builders import Ids
from tests.conftest import Clock, Office, running

NAME = "https://intake.example.org"
FOREIGN = {"Host": "evil.example.net"}


@pytest.fixture
def named(settings: Settings, clock: Clock, ids: Ids) -> Iterator[Office]:
    """An office whose people reach it by a name, over a proxy that ends TLS."""
    with running(replace(settings, address=NAME), clock, ids) as office:
        yield office


def manager_of(office: Office) -> Any:
    """A manager's client that sends its cookie as a browser on the office's own page does."""
    client = office.client()
    client.headers["Origin"] = office.settings.address or office.address
    said = client.post("/pairing", json={"code": office.code("manager", "Manager")})
    said.raise_for_status()
    client.headers["Cookie"] = said.headers["set-cookie"].split(";")[0]
    return client


def codes_on(pdf: bytes) -> list[str]:
    image = pypdfium2.PdfDocument(pdf)[0].render(scale=300 / 72).to_pil().convert("L")
    formats = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCodeModel2)
    return [found.text for found in zxingcpp.read_barcodes(image, formats=formats)]


ASKED: dict[str, str | int] = {"sheet": "tag-85x45", "first": "7K3QW5", "count": 1}


def test_a_label_says_the_office_s_name_whatever_the_request_says(named: Office) -> None:
    pdf = manager_of(named).get("/labels.pdf", params=ASKED, headers=FOREIGN).content
    assert codes_on(pdf) == [f"{NAME.upper()}/T/7K3QW5"]
    assert TRIAL not in words_on(pdf)


def words_on(pdf: bytes) -> str:
    return str(pypdfium2.PdfDocument(io.BytesIO(pdf))[0].get_textpage().get_text_range())


def test_a_pairing_code_says_the_office_s_name(named: Office) -> None:
    asked = {"role": "table", "name": "Table 1"}
    said = manager_of(named).post("/pairing/codes", json=asked, headers=FOREIGN).json()
    assert said["address"] == f"{NAME}/#/pair/{said['code'].replace('-', '')}"
    assert said["warning"] == ""


def test_only_a_page_of_that_name_may_write(named: Office) -> None:
    manager = manager_of(named)
    for origin in (named.address, "http://intake.example.org", f"{NAME}:8443", "https://evil.example.net"):
        host = {"Host": origin.split("//")[1]}
        refused = manager.post(
            "/sync/operations", json={"operations": []}, headers={"Origin": origin, **host}
        )
        assert refused.json()["code"] == "foreign_origin", origin
        assert NAME in refused.json()["hint"]
    good = manager.post("/sync/operations", json={"operations": []}, headers=FOREIGN)
    assert good.status_code == 200


def test_the_cookie_of_an_office_reached_over_tls_is_kept_to_it(named: Office) -> None:
    """Source: RFC 6265bis, section 4.1.3.2: a __Host- name needs Secure, Path=/ and no Domain."""
    client = named.client()
    client.headers["Origin"] = NAME
    cookie = client.post("/pairing", json={"code": named.code("door", "Door")}).headers["set-cookie"]
    assert cookie.startswith("__Host-intake=")
    assert "Secure" in cookie
    assert "Path=/" in cookie
    assert "Domain" not in cookie


def test_with_no_name_labels_and_codes_warn_that_no_phone_gets_there(office: Office) -> None:
    manager = manager_of(office)
    sheets = manager.get("/labels/sheets").json()
    assert sheets["address"] == office.address
    assert "no phone can reach it" in sheets["warning"]
    assert "--address" in sheets["warning"]
    pdf = manager.get("/labels.pdf", params=ASKED).content
    assert TRIAL in words_on(pdf), "the paper says so, too"
    code = manager.post("/pairing/codes", json={"role": "table", "name": "Table 1"}).json()
    assert "no phone can reach it" in code["warning"]


@pytest.mark.parametrize(
    ("typed", "origin"),
    [
        ("https://intake.example.org/", "https://intake.example.org"),
        ("HTTPS://Intake.Example.Org:443", "https://intake.example.org"),
        ("http://intake.example.org:80", "http://intake.example.org"),
        ("https://intake.example.org:8443", "https://intake.example.org:8443"),
        ("https://[2001:DB8::1]:8443", "https://[2001:db8::1]:8443"),
        ("https://b\u00fccher.example", "https://xn--bcher-kva.example"),
    ],
)
def test_an_address_is_kept_as_a_browser_writes_an_origin(typed: str, origin: str) -> None:
    """Sources: RFC 6454 section 6.1 and 6.2; b\u00fccher is the example of RFC 3492's authors, A-label by IDNA."""
    assert read_address(typed) == origin


@pytest.mark.parametrize(
    "typed",
    ["intake.example.org", "ftp://x.example", "https://", "https://a@b.example", "https://x.example:99999"],
)
def test_what_is_no_address_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        read_address(typed)


def test_which_addresses_phones_cannot_reach() -> None:
    """Sources: RFC 1122 section 3.2.1.3, RFC 4291 section 2.5.3, RFC 6761 section 6.3."""
    assert all(
        is_loopback(host) for host in ("127.0.0.1", "127.9.9.9", "::1", "localhost", "a.localhost", "0.0.0.0")
    )
    assert not any(is_loopback(host) for host in ("192.0.2.1", "intake.example.org", "2001:db8::1"))
    assert "not https" in reach_warning("http://192.0.2.1:8765")
    assert reach_warning(NAME) == ""


@pytest.mark.parametrize(
    ("host", "base", "expected"),
    [
        ("0.0.0.0", "http://127.0.0.1:8765", "http://192.0.2.20:8765"),
        ("::", "http://localhost:8765", "http://192.0.2.20:8765"),
        ("127.0.0.1", "http://127.0.0.1:8765", "http://127.0.0.1:8765"),
        ("0.0.0.0", "http://192.0.2.30:8765", "http://192.0.2.30:8765"),
    ],
)
def test_a_code_made_on_the_office_s_machine_leads_phones_to_it(
    settings: Settings, host: str, base: str, expected: str
) -> None:
    """A manager who sits at the office itself opens it by a name that no phone can use. Source of the addresses: RFC
    5737, which keeps them for examples."""
    found = [Reachable(IPv4Address(address), "wlan0") for address in ("192.0.2.20", "198.51.100.4")]
    listening = replace(settings, host=host)
    assert address_for_phones(base, listening, lambda: found) == expected
    assert address_for_phones(base, listening, list) == base, "with no network it is as it was"
    assert address_for_phones(base, replace(listening, address=NAME), lambda: found) == base
