"""The photos' bytes: unchanged, whole, and resumed where the line was cut."""

from __future__ import annotations

import errno
import io
import random
import struct
import zlib
from pathlib import Path
from typing import Any

import httpx
import pytest
from PIL import Image

from intake.photos.store import set_aside
from tests.builders import a_photo, digest, picture
from tests.conftest import Office
from tests.phone import Phone
from tests.photos.sending import send


def test_a_bundle_keeps_record_and_photos_and_gives_the_same_bytes_back(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    original, thumb = picture(1, size=(1600, 1200)), picture(1, size=(320, 240))
    phone.keep(a_photo(phone.ids, item["item_id"], original, thumb))
    answer = phone.bundle([thumb, original]).json()
    assert [photo["outcome"] for photo in answer["photos"]] == ["kept", "kept"]
    assert answer["answers"][0]["outcome"] == "kept"
    assert phone.client.get(f"/photos/{digest(original)}").content == original
    assert phone.client.get(f"/photos/{digest(original)}/large").headers["content-type"] == "image/jpeg"
    assert office.faults() == []


def test_a_browser_asks_each_time_whether_it_may_show_a_picture(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    """What it has is not sent again, and not shown once its device was signed off. Source: RFC 9111, no-cache."""
    original, thumb = picture(1, size=(1600, 1200)), picture(1, size=(320, 240))
    phone.keep(a_photo(phone.ids, item["item_id"], original, thumb))
    phone.bundle([thumb, original])
    manager = office.pair("manager")
    for address in (f"/photos/{digest(original)}", f"/photos/{digest(original)}/large"):
        shown = phone.client.get(address)
        assert shown.headers["cache-control"] == "private, no-cache"
        again = phone.client.get(address, headers={"if-none-match": shown.headers["etag"]})
        assert (again.status_code, again.content) == (304, b"")
        other = phone.client.get(address, headers={"if-none-match": '"another"'})
        assert other.content == shown.content
    manager.client.post(f"/devices/{phone.device_id}/revoke")
    for address in (f"/photos/{digest(original)}", f"/photos/{digest(original)}/large"):
        told = phone.client.get(address, headers={"if-none-match": f'"{digest(original)}"'})
        assert told.status_code == 403


#: Of 10,000 bytes: what is asked for, and from where to where it is answered.
RANGES = {
    "bytes=0-499": (0, 500),
    "bytes=500-999": (500, 1000),
    "bytes=-500": (9500, 10_000),
    "bytes=9500-": (9500, 10_000),
    "bytes=9000-20000": (9000, 10_000),
    "bytes=-20000": (0, 10_000),
}


def test_a_part_of_a_picture_is_what_was_asked_for(phone: Phone) -> None:
    """Source: RFC 9110 sections 14.1.2, 14.4, 13.1.5 and 8.8.3.2, its examples for 10,000 octets."""
    content = picture(1, size=(80, 60))
    content += bytes(10_000 - len(content))
    send(phone, content)

    def asked(**headers: str) -> httpx.Response:
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return phone.client.get(f"/photos/{digest(content)}", headers=named)

    for header, (begin, end) in RANGES.items():
        part = asked(range=header)
        assert (part.status_code, part.content) == (206, content[begin:end]), header
        assert part.headers["content-range"] == f"bytes {begin}-{end - 1}/10000"
    beyond = asked(range="bytes=10000-")
    assert (beyond.status_code, beyond.headers["content-range"]) == (416, "bytes */10000")
    tag = asked().headers["etag"]
    assert asked(range="bytes=0-499", if_range=tag).content == content[:500]
    assert asked(range="bytes=0-499", if_range='"another"').content == content, (
        "of another file no part helps"
    )
    for same in (tag, f"W/{tag}", f'"another", {tag}'):
        assert asked(if_none_match=same).status_code == 304, "compared weakly"


@pytest.mark.parametrize("cut", [1, 7_000, 60_000])
def test_a_photo_cut_in_the_middle_goes_on_where_it_stopped(phone: Phone, cut: int) -> None:
    content = picture(2, size=(2400, 1800))
    assert len(content) > cut
    assert send(phone, content, upto=cut).headers["Upload-Complete"] == "?0"
    head = phone.client.head(f"/photos/{digest(content)}")
    assert head.headers["Upload-Offset"] == str(cut)
    wrong = send(phone, content, offset=0)
    assert (wrong.status_code, wrong.headers["Upload-Offset"]) == (409, str(cut))
    assert send(phone, content, offset=cut).headers["Upload-Complete"] == "?1"
    assert phone.client.get(f"/photos/{digest(content)}").content == content


def test_a_picture_that_is_on_its_way_is_no_fault_to_a_page_that_would_show_it(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    """To whoever else asks, and to a device that may not read it, there is none."""
    content = picture(8)
    phone.keep(a_photo(phone.ids, item["item_id"], content, content))
    phone.push()
    address, shown = f"/photos/{digest(content)}", {"Sec-Fetch-Dest": "image"}
    assert phone.client.get(address, headers=shown).status_code == 204
    assert phone.client.get(address).status_code == 404
    unnamed = f"/photos/{digest(picture(9))}"
    assert office.pair("porter").client.get(unnamed, headers=shown).status_code == 404
    send(phone, content)
    assert phone.client.get(address, headers=shown).content == content


def test_a_photo_that_is_there_is_not_sent_again(phone: Phone) -> None:
    content = picture(3)
    send(phone, content)
    assert phone.client.head(f"/photos/{digest(content)}").headers["Upload-Complete"] == "?1"
    assert send(phone, content).status_code == 204


def test_bytes_with_another_digest_are_thrown_away(phone: Phone) -> None:
    content = picture(4)
    answer = send(phone, content, name=digest(b"something else"))
    assert answer.json()["code"] == "wrong_digest"
    assert phone.client.head(f"/photos/{digest(b'something else')}").status_code == 404


def test_a_photo_that_changed_on_its_way_in_a_bundle_is_refused_and_not_there(phone: Phone) -> None:
    good, changed, thumb = picture(4), bytearray(picture(5)), picture(6)
    changed[len(changed) // 2] ^= 1
    told = phone.bundle([good, bytes(changed), thumb], named=[good, picture(5), thumb]).json()["photos"]
    assert [one["outcome"] for one in told] == ["kept", "refused", "kept"]
    assert told[1]["problem"]["code"] == "wrong_digest"
    assert phone.client.get(f"/photos/{digest(picture(5))}").status_code == 404
    assert phone.client.head(f"/photos/{digest(picture(5))}").status_code == 404


@pytest.mark.parametrize("harm", ["gone", "cut short"])
def test_a_photo_whose_file_was_lost_says_so_and_is_taken_again(
    office: Office, phone: Phone, harm: str
) -> None:
    """A phone that still holds it must not hear that the office has it."""
    content = picture(7, size=(1600, 1200))
    send(phone, content)
    file = office.settings.photos_folder / digest(content)[:2] / digest(content)
    if harm == "gone":
        file.unlink()
    else:
        file.write_bytes(content[:5000])
    for path in ("", "/large"):
        told = phone.client.get(f"/photos/{digest(content)}{path}")
        assert (told.status_code, told.json()["code"]) == (404, "photo_missing")
    assert phone.client.head(f"/photos/{digest(content)}").status_code == 404
    assert send(phone, content).headers["Upload-Complete"] == "?1"
    assert phone.client.get(f"/photos/{digest(content)}").content == content
    assert office.faults() == []


@pytest.mark.parametrize("how", ["another byte", "too long", "too short"])
@pytest.mark.parametrize("again", ["pieces", "bundle"])
def test_an_original_with_other_bytes_is_written_again_when_they_come(
    office: Office, phone: Phone, how: str, again: str
) -> None:
    """The office's disk changed it; the phone that still has it brings it, and kept is said of the right bytes only."""
    content = picture(31)
    phone.bundle([content])
    file = office.settings.photos_folder / digest(content)[:2] / digest(content)
    rotten = {
        "another byte": content[:90] + bytes([content[90] ^ 1]) + content[91:],
        "too long": content + b"and more",
        "too short": content[:90],
    }
    file.write_bytes(rotten[how])
    if again == "pieces":
        assert send(phone, content).headers["Upload-Complete"] == "?1"
    else:
        assert phone.bundle([content]).json()["photos"][0]["outcome"] == "kept"
    assert file.read_bytes() == content
    assert office.faults() == []


def test_what_verify_finds_changed_is_here_no_longer_and_comes_again(office: Office, phone: Phone) -> None:
    content = picture(32)
    phone.bundle([content])
    file = office.settings.photos_folder / digest(content)[:2] / digest(content)
    file.write_bytes(content[:-1] + b"?")
    asked = {"sha256": [digest(content)]}
    assert phone.client.post("/sync/photos", json=asked).json()["here"] == [digest(content)]
    (fault,) = office.faults(aside_too=True)
    assert "changed" in fault
    assert "set aside" in fault
    assert file.with_name(f"{file.name}.damaged").read_bytes() == content[:-1] + b"?"
    assert phone.client.post("/sync/photos", json=asked).json()["here"] == []
    phone.bundle([content])
    assert phone.client.post("/sync/photos", json=asked).json()["here"] == [digest(content)]
    assert office.faults() == []


def test_an_original_that_is_written_again_while_it_is_looked_at_stays(tmp_path: Path) -> None:
    content = picture(33)
    file = tmp_path / digest(content)
    file.write_bytes(content)
    assert set_aside(file) is None
    assert file.read_bytes() == content


@pytest.mark.parametrize("tail", ["%0A", "%0a", "%00", "0", "%20"])
def test_the_address_of_a_photo_is_its_digest_and_nothing_more(phone: Phone, tail: str) -> None:
    content = picture(8)
    address = f"/photos/{digest(content)}{tail}"
    headers = {"Upload-Offset": "0", "Upload-Length": str(len(content))}
    for told in (
        phone.client.get(address),
        phone.client.get(f"{address}/large"),
        phone.client.patch(address, content=content, headers=headers),
    ):
        assert (told.status_code, told.json()["code"]) == (400, "unreadable")


def test_what_is_no_picture_is_refused_by_name(phone: Phone) -> None:
    for content in (
        b"%PDF-1.7 not a picture",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        picture(5, kind="GIF"),
    ):
        answer = send(phone, content)
        assert (answer.status_code, answer.json()["code"]) == (422, "not_a_picture")


@pytest.mark.parametrize(
    ("kind", "media_type"),
    [
        ("JPEG", "image/jpeg"),
        ("PNG", "image/png"),
        ("WEBP", "image/webp"),
        ("HEIF", "image/heic"),
        # A phone's JPEG with a second picture behind it. Source: CIPA DC-007, Multi-Picture Format.
        ("MPO", "image/jpeg"),
    ],
)
def test_every_kind_of_picture_that_phones_make_is_kept(phone: Phone, kind: str, media_type: str) -> None:
    content = picture(8, size=(2400, 1800), kind=kind)
    if kind == "MPO":
        assert b"MPF\0" in content
    assert phone.bundle([content]).json()["photos"][0]["outcome"] == "kept"
    given = phone.client.get(f"/photos/{digest(content)}")
    assert (given.headers["content-type"], given.content) == (media_type, content)
    large = Image.open(io.BytesIO(phone.client.get(f"/photos/{digest(content)}/large").content))
    assert (large.format, large.size) == ("JPEG", (2016, 1512))


def test_a_mangled_header_is_refused_and_never_breaks_the_office(phone: Phone) -> None:
    """Bytes of a picture changed at random: kept as some picture, or refused by name, and nothing else."""
    chance = random.Random(20)
    for kind in ("JPEG", "PNG", "WEBP", "HEIF"):
        whole = picture(9, size=(200, 150), kind=kind)
        mangled = []
        for _ in range(25):
            content = bytearray(whole[: chance.randrange(20, len(whole))])
            for _ in range(4):
                content[chance.randrange(min(len(content), 600))] = chance.randrange(256)
            mangled.append(bytes(content))
        told = phone.bundle(mangled).json()["photos"]
        assert {one["problem"]["code"] for one in told if one["problem"]} <= {
            "not_a_picture",
            "picture_too_large",
        }


def png_of(width: int, height: int) -> bytes:
    """A PNG that says it is this large and holds next to nothing. Source: PNG, ISO/IEC 15948, IHDR."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0"))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("width", "height", "status"), [(7500, 8000, 204), (7501, 8000, 422), (60_000, 60_000, 422)]
)
def test_a_picture_of_too_many_pixels_is_refused_unopened(
    phone: Phone, width: int, height: int, status: int
) -> None:
    answer = send(phone, png_of(width, height))
    assert answer.status_code == status
    if status == 422:
        assert answer.json()["code"] == "picture_too_large"
        assert "60 million" in answer.json()["detail"]


def test_too_many_bytes_are_refused_with_the_limit(phone: Phone) -> None:
    headers = {"Upload-Offset": "0", "Upload-Length": str(41 * 1024 * 1024)}
    answer = phone.client.patch(f"/photos/{digest(b'x')}", content=b"x", headers=headers)
    assert answer.status_code == 413
    assert str(40 * 1024 * 1024) in answer.json()["detail"]
    whole = phone.client.post("/sync/bundle", content=b"\0" * (8 * 1024 * 1024 + 1))
    assert whole.status_code == 413


def test_a_full_disk_keeps_nothing_and_says_so(
    phone: Phone, item: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk's own error is raised where the disk would raise it; all else is real."""
    content = picture(6)
    phone.keep(a_photo(phone.ids, item["item_id"], content, content))

    def no_room(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("intake.disk.os.fsync", no_room)
        answer = phone.bundle([content])
        assert (answer.status_code, answer.json()["code"]) == (507, "office_full")
        assert send(phone, content).status_code == 507
    assert phone.outbox != []
    assert phone.bundle([content]).json()["answers"][0]["outcome"] == "kept"


def test_a_bundle_whose_lengths_do_not_add_up_is_refused_whole(phone: Phone) -> None:
    for body in (b"", b"\0\0\0\x10{}", b"\0\0\0\x02{}", b"\xff\xff\xff\xff"):
        assert phone.client.post("/sync/bundle", content=body).json()["code"] == "unreadable"


def test_a_photo_refused_in_a_bundle_does_not_hold_up_the_rest(phone: Phone, item: dict[str, Any]) -> None:
    good = picture(7)
    phone.keep(a_photo(phone.ids, item["item_id"], good, good))
    answer = phone.bundle([b"no picture at all", good]).json()
    assert [photo["outcome"] for photo in answer["photos"]] == ["refused", "kept"]
    assert answer["answers"][0]["outcome"] == "kept"
