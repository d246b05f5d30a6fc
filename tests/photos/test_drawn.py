"""Pictures made from originals: what cannot be drawn is offered as it came, and a killed process is replaced."""

from __future__ import annotations

import io
import multiprocessing
import os
import signal
import struct
import zlib
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

from intake.photos import drawn
from intake.photos.drawn import UNUSED, draw_large, note_used, trim
from intake.settings import Settings
from tests.builders import Ids, digest, picture
from tests.conftest import Clock, Office, running
from tests.phone import Phone
from tests.photos.sending import send


@pytest.fixture(autouse=True)
def started_as_the_office_does(monkeypatch: pytest.MonkeyPatch) -> None:
    """Elsewhere in the tests these processes are forked (`tests/made_once.py`)."""
    monkeypatch.setattr(drawn, "get_context", multiprocessing.get_context)


def broken_animation() -> bytes:
    """A PNG whose animation promises frames and holds none that can be read. Source: PNG, third edition, 11.3.6."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    still = io.BytesIO()
    Image.new("RGB", (60, 40), (90, 60, 30)).save(still, "PNG")
    head, pixels, end = still.getvalue()[:33], still.getvalue()[33:-12], still.getvalue()[-12:]
    control = chunk(b"acTL", struct.pack(">II", 2, 0))
    frame = chunk(b"fcTL", struct.pack(">IIIIIHHBB", 0, 60, 40, 0, 0, 1, 10, 0, 0))
    out_of_order = chunk(b"fdAT", struct.pack(">I", 9) + b"xx")  # the next number would be 1
    return head + control + frame + chunk(b"IDAT", pixels[8:20]) + out_of_order + end


def cut_off() -> bytes:
    """A photo whose last part never reached the card it was taken on."""
    whole = picture(1, size=(1600, 1200))
    return whole[: len(whole) // 3]


#: How six fields are stored, by the orientation that stands beside them: shown, they read 123 above 456.
STORED = {
    1: ("123", "456"),
    2: ("321", "654"),
    3: ("654", "321"),
    4: ("456", "123"),
    5: ("14", "25", "36"),
    6: ("36", "25", "14"),
    7: ("63", "52", "41"),
    8: ("41", "52", "63"),
}


@pytest.mark.parametrize("orientation", STORED)
def test_a_picture_is_drawn_upright_whichever_way_the_camera_was_held(
    tmp_path: Path, orientation: int
) -> None:
    """Source: EXIF 2.3, tag 0x0112, Orientation. Nothing of the tag is left, or a browser would turn it again."""
    fields, rows = 16, STORED[orientation]
    stored = Image.new("L", (fields * len(rows[0]), fields * len(rows)))
    for down, row in enumerate(rows):
        for along, number in enumerate(row):
            grey = Image.new("L", (fields, fields), 40 * int(number))
            stored.paste(grey, (fields * along, fields * down))
    exif = Image.Exif()
    exif[0x0112] = orientation
    stored.save(tmp_path / "stored", "PNG", exif=exif)
    drawn = draw_large(tmp_path / "stored")
    assert drawn is not None
    with Image.open(io.BytesIO(drawn)) as shown:
        assert not shown.getexif()
        assert shown.size == (3 * fields, 2 * fields)
        greys = shown.convert("L").tobytes()
    middles = [greys[(fields * down + 8) * 3 * fields + 8 :: fields][:3] for down in range(2)]
    assert [[round(grey / 40) for grey in row] for row in middles] == [[1, 2, 3], [4, 5, 6]]


@pytest.mark.parametrize("made", [broken_animation, cut_off])
def test_what_cannot_be_drawn_is_offered_as_it_came(phone: Phone, made: object) -> None:
    content: bytes = made()  # type: ignore[operator]
    assert phone.bundle([content]).json()["photos"][0]["outcome"] == "kept"
    told = phone.client.get(f"/photos/{digest(content)}/large")
    assert (told.status_code, told.json()["code"]) == (422, "cannot_be_drawn")
    assert f"/photos/{digest(content)}" in told.json()["hint"]
    page = phone.client.get(f"/photos/{digest(content)}/large", headers={"Accept": "text/html,*/*"})
    assert (page.status_code, page.headers["content-type"]) == (422, "text/html; charset=utf-8")
    assert f"href='/photos/{digest(content)}' download" in page.text
    assert phone.client.get(f"/photos/{digest(content)}").content == content


def test_a_killed_drawing_process_is_replaced(phone: Phone) -> None:
    for number in range(2):
        content = picture(number)
        send(phone, content)
        assert phone.client.get(f"/photos/{digest(content)}/large").status_code == 200
        for process in multiprocessing.active_children():
            assert process.pid is not None
            os.kill(process.pid, signal.SIGKILL)
            process.join(10)


def ends_its_process(source: Path) -> bytes | None:
    """What a decoder does that the system ends, for the memory it takes or a fault in it."""
    os._exit(1)


def test_a_picture_that_ends_every_process_harms_no_other(
    phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    content, other = picture(1), picture(2)
    for one in (content, other):
        send(phone, one)
    with monkeypatch.context() as patch:
        patch.setattr("intake.photos.drawn.draw_large", ends_its_process)
        told = phone.client.get(f"/photos/{digest(content)}/large")
        assert (told.status_code, told.json()["code"]) == (422, "cannot_be_drawn")
    assert phone.client.get(f"/photos/{digest(other)}/large").status_code == 200
    assert phone.client.get(f"/photos/{digest(content)}/large").status_code == 200


def standing(office: Office) -> set[str]:
    """The drawn pictures that there are, by where they lie."""
    folder = office.settings.photos_folder / "large"
    return {file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file()}


def drawn_by(phone: Phone, *seeds: int) -> list[str]:
    """Pictures of which a large one was asked for: where those lie, by the beginning of their names."""
    places = []
    for seed in seeds:
        content = picture(seed)
        send(phone, content)
        assert phone.client.get(f"/photos/{digest(content)}/large").status_code == 200
        places.append(f"{digest(content)[:2]}/{digest(content)}.jpg")
    return places


def test_what_nobody_opened_for_long_goes_and_is_drawn_again(
    office: Office, phone: Phone, clock: Clock
) -> None:
    one, other = drawn_by(phone, 1, 2)
    assert standing(office) == {one, other}
    clock.now = datetime.now(UTC) + UNUSED - timedelta(days=1)
    assert phone.client.get(f"/photos/{digest(picture(1))}/large").status_code == 200
    clock.pass_by(days=2)
    trim(office.settings.photos_folder / "large", clock.now)
    assert standing(office) == {one}
    assert drawn_by(phone, 2) == [other]
    assert standing(office) == {one, other}


def test_what_is_let_go_of_while_it_is_asked_for_is_told_all_the_same(
    office: Office, phone: Phone, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sweep runs beside whoever opens a picture: what was found a moment ago may be gone."""
    content = picture(1)
    drawn_by(phone, 1)
    first = phone.client.get(f"/photos/{digest(content)}/large").content
    monkeypatch.setattr("intake.photos.drawn.MOST_BYTES", 0)

    def noted_and_swept(file: Path, now: datetime) -> None:
        note_used(file, now)
        trim(office.settings.photos_folder / "large", clock.now)

    monkeypatch.setattr("intake.photos.drawn.note_used", noted_and_swept)
    told = phone.client.get(f"/photos/{digest(content)}/large")
    assert (told.status_code, told.content) == (200, first)
    assert standing(office) == set()
    assert office.faults() == []


def test_of_too_many_the_newest_stay(office: Office, phone: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = office.settings.photos_folder / "large"
    one, other, third = drawn_by(phone, 1, 2, 3)
    for age, place in enumerate((other, third, one)):
        os.utime(folder / place, (1_000_000_000 - age, 1_000_000_000 - age))
    most = (folder / other).stat().st_size + (folder / third).stat().st_size
    monkeypatch.setattr("intake.photos.drawn.MOST_BYTES", most)
    assert trim(folder, datetime.fromtimestamp(1_000_000_000, UTC)) == 1
    assert standing(office) == {other, third}


def test_what_an_earlier_version_drew_beside_each_other_is_put_into_folders(
    settings: Settings, clock: Clock, ids: Ids
) -> None:
    with running(settings, clock, ids) as office:
        [place] = drawn_by(office.pair("manager"), 1)
        folder = settings.photos_folder / "large"
        os.replace(folder / place, folder / Path(place).name)
        (folder / f"{digest(picture(2))}.new").write_bytes(b"cut off")
    with running(settings, clock, ids) as office:
        client = office.client()
        for _ in range(500):  # it is done beside what is asked
            if standing(office) == {place}:
                break
            assert client.get("/health").status_code == 200
        assert standing(office) == {place}
