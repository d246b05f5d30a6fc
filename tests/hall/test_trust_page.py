"""The page over plain HTTP: it brings the certificate, and nothing else can be reached there."""

from __future__ import annotations

import plistlib
import re
import uuid
from datetime import UTC, datetime
from pathlib import Path
from xml.etree import ElementTree

import httpx
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization

from intake.hall.certificates import HallCertificates, hall_certificates
from intake.hall.trust_page import build_trust_app
from intake.hall.trust_page import profile as make_profile

NOW = datetime(2026, 3, 14, 8, 0, tzinfo=UTC)
ADDRESS = "https://thimblewick.local:8765"
# Shapes of what browsers say of themselves, shortened; common practice.
AGENTS = {
    "apple": "Mozilla/5.0 (iPhone; CPU iPhone OS 27_0 like Mac OS X) Version/27.0 Mobile Safari/604.1",
    "android": "Mozilla/5.0 (Linux; Android 17; K) Chrome/156.0.0.0 Mobile Safari/537.36",
    "desktop": "Mozilla/5.0 (X11; Linux x86_64) Chrome/156.0.0.0 Safari/537.36",
}


@pytest.fixture
def hall(tmp_path: Path) -> HallCertificates:
    return hall_certificates(tmp_path, name="thimblewick", addresses=[], now=NOW)


@pytest.fixture
def page(hall: HallCertificates) -> httpx.AsyncClient:
    transport = httpx.ASGITransport(build_trust_app(hall, ADDRESS))
    return httpx.AsyncClient(transport=transport, base_url="http://192.168.1.7:8766")


@pytest.mark.parametrize("system", AGENTS)
async def test_the_steps_for_this_phone_are_open_and_the_others_are_there(
    page: httpx.AsyncClient, system: str
) -> None:
    text = (await page.get("/", headers={"User-Agent": AGENTS[system]})).text
    summaries = re.findall(r"<details (open)?>\s*<summary>(.*?)</summary>", text)
    assert [bool(opened) for opened, _ in summaries] == [
        one == system for one in ("apple", "android", "desktop")
    ]


async def test_the_page_says_what_people_miss(page: httpx.AsyncClient, hall: HallCertificates) -> None:
    """The second switch of Apple's systems and the local network of Android 17, second-hand; and how to take it off."""
    text = (await page.get("/")).text
    assert "Certificate Trust Settings" in text
    assert "Nearby devices" in text
    assert "To take it off again" in text
    for group in hall.groups:
        assert f"<li>{group}</li>" in text
    assert hall.fingerprint in text
    assert f'href="{ADDRESS}/#/check"' in text
    assert "$" not in text  # every blank is filled


async def test_a_phone_that_trusts_it_already_is_led_on_before_all_steps(page: httpx.AsyncClient) -> None:
    text = (await page.get("/")).text
    assert text.index(f'href="{ADDRESS}/#/check"') < text.index("<section>")
    assert "QR code" not in text  # a phone cannot scan its own screen


async def test_every_drawing_that_is_used_is_drawn(page: httpx.AsyncClient) -> None:
    text = (await page.get("/")).text
    drawn = set(re.findall(r'<symbol id="(\w+)"', text))
    assert set(re.findall(r'<use href="#(\w+)"', text)) == drawn


async def test_the_profile_carries_the_authority_and_nothing_secret(
    page: httpx.AsyncClient, hall: HallCertificates
) -> None:
    """Keys and media type as Apple's documentation of configuration profiles has them, second-hand."""
    reply = await page.get("/thimblewick.mobileconfig")
    assert reply.headers["content-type"] == "application/x-apple-aspen-config"
    ElementTree.fromstring(reply.content)  # a property list in XML
    profile = plistlib.loads(reply.content)
    (payload,) = profile["PayloadContent"]
    assert (profile["PayloadType"], payload["PayloadType"]) == ("Configuration", "com.apple.security.root")
    assert x509.load_der_x509_certificate(payload["PayloadContent"]) == hall.authority
    assert len({uuid.UUID(profile["PayloadUUID"]), uuid.UUID(payload["PayloadUUID"])}) == 2
    assert profile["PayloadRemovalDisallowed"] is False
    assert make_profile(hall) == reply.content  # made once more it is the same one on the phone


async def test_the_file_is_the_authority(page: httpx.AsyncClient, hall: HallCertificates) -> None:
    reply = await page.get("/thimblewick.crt")
    assert reply.headers["content-type"] == "application/x-x509-ca-cert"
    assert 'filename="thimblewick.crt"' in reply.headers["content-disposition"]
    assert x509.load_der_x509_certificate(reply.content) == hall.authority


@pytest.mark.parametrize(
    "path", ["/health", "/pairing/me", "/sync/feed", "/sw.js", "/hall/server-key.pem", "/../x"]
)
@pytest.mark.parametrize("method", ["GET", "POST", "PUT", "DELETE", "OPTIONS", "PROPFIND"])
async def test_every_other_path_leads_to_the_page(page: httpx.AsyncClient, path: str, method: str) -> None:
    """303 (RFC 9110 15.4.4): what was sent in the clear is not sent on."""
    reply = await page.request(method, path)
    assert (reply.status_code, reply.headers["location"], reply.content) == (303, "/", b"")


@pytest.mark.parametrize("path", ["/", "/thimblewick.crt", "/thimblewick.mobileconfig"])
async def test_the_page_and_its_files_are_only_read(page: httpx.AsyncClient, path: str) -> None:
    reply = await page.post(path, json={"code": "0000-0000"})
    assert (reply.status_code, reply.headers["location"]) == (303, "/")


async def test_nothing_secret_is_in_what_is_served(page: httpx.AsyncClient, hall: HallCertificates) -> None:
    key = serialization.load_pem_private_key(hall.key_file.read_bytes(), None)
    secret = key.private_numbers().private_value.to_bytes(32, "big")  # type: ignore[union-attr]
    for path in ("/", "/thimblewick.crt", "/thimblewick.mobileconfig"):
        content = (await page.get(path)).content
        assert b"PRIVATE" not in content
        assert secret not in content


async def test_the_page_loads_nothing_but_itself(page: httpx.AsyncClient) -> None:
    reply = await page.get("/")
    policy = reply.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    assert "script" not in policy
    assert re.findall(r"<(?:script|link|img|iframe)\b", reply.text) == []
