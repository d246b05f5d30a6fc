"""The app's files: all that the worker keeps is there, and the page asks for what is needed first, and no more."""

from __future__ import annotations

import io
import json
import re
from typing import Any

import brotli
import pytest
from PIL import Image

from intake import shell
from intake.bench.cold_start import TARGET_KB
from intake.web_folder import web_folder
from tests.conftest import Office


def kept(office: Office) -> dict[str, Any]:
    worker = office.client().get("/sw.js").text
    listed: dict[str, Any] = json.JSONDecoder().raw_decode(worker[worker.index('{"version"') :])[0]
    return listed


def test_the_worker_lists_files_that_are_there(office: Office) -> None:
    client, listed = office.client(), kept(office)
    packs = listed["packs"]
    in_packs = [file for files in packs.values() for file in files]
    for file in [*listed["files"], *in_packs]:
        assert client.get(file).status_code == 200, file
    assert [file for file in packs["scanner"] if file.endswith(".wasm")]
    assert [file for file in packs["office"] if file.startswith("/web/office_screens-")]
    assert [file for file in packs["custody"] if file.startswith("/web/custody_screens-")]
    assert [file for file in packs["words"] if file.startswith("/web/words_screens-")]
    assert not set(in_packs) & set(listed["files"]), "only where a device needs it"


#: What makes sentences of a record; a screen on which things are entered needs none of it.
# What makes sentences of a whole record; one value in words is on every device, as two that differ are shown on each.
OF_WORDS = ["answers", "asked_facts", "finding_sentences", "looked", "lot", "marks", "origins", "paragraph"]


def test_what_makes_sentences_is_no_part_of_a_first_visit(office: Office) -> None:
    """It comes once a device is paired, in a pack of those at a thing and in the desk's."""
    listed = kept(office)
    sentences = {f"web/job/{name}.ts" for name in OF_WORDS}
    assert not sentences & sources_in(office, listed["files"])
    for pack in ("words", "office"):
        assert sentences <= sources_in(office, listed["packs"][pack]), pack
    assert set(listed["packs"]["words"]) & set(listed["packs"]["office"]), "once for a device that has both"


def sources_in(office: Office, files: list[str]) -> set[str]:
    """The sources that came into these files, from the top of the checkout; read off their source maps."""
    client = office.client()
    maps = [
        client.get(client.get(file).headers["SourceMap"]).json() for file in files if file.endswith(".js")
    ]
    return {name.replace("../", "web/", 1) for source_map in maps for name in source_map["sources"]}


def test_the_page_preloads_what_the_first_drawing_needs(office: Office) -> None:
    """Whatever a preloaded module imports at once is preloaded as well; screens come when they are shown."""
    client = office.client()
    preloaded = re.findall(r'<link rel="modulepreload" href="([^"]+)">', client.get("/").text)
    assert preloaded[0].startswith("/web/app-")
    assert set(preloaded) <= set(kept(office)["files"])
    imported = {at: client.get(at).text for at in preloaded}
    for file, text in imported.items():
        for name in re.findall(r'(?:from|import)"/web/([^"]+)"', text):
            assert f"/web/{name}" in preloaded, f"{file} imports {name}"
    later = re.findall(r'import\("/web/([^"]+)"\)', "".join(imported.values()))
    pieces = {name.rsplit("-", 1)[0] for name in later}
    assert {"custody_screens", "hall_screens", "office_screens", "words_screens"} <= pieces
    assert not {f"/web/{name}" for name in later} & set(preloaded)


def test_no_phone_waits_until_the_app_is_packed(office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    """The build has packed what screens are made of; what it packed is what was built."""
    packed_here: list[int] = []

    def pack(body: bytes, *, quality: int) -> bytes:
        packed_here.append(quality)
        return body

    monkeypatch.setattr(brotli, "compress", pack)
    monkeypatch.setattr(shell, "packings_of", shell.packings_of.__wrapped__)
    client, listed = office.client(), kept(office)
    files = {*listed["files"], *(file for files in listed["packs"].values() for file in files)}
    packed_here.clear()
    for file in sorted(files):
        if file.endswith((".js", ".css")):
            got = client.get(file, headers={"Accept-Encoding": "br"})
            assert got.content == (web_folder() / file.removeprefix("/web/")).read_bytes(), file
            assert got.headers.get("Content-Encoding") == "br" or len(got.content) < 100, file
    assert not packed_here


def test_a_first_visit_weighs_no_more_than_it_may(office: Office) -> None:
    """What every device keeps, over brotli; the benchmark says of what it is made up."""
    files = shell.Shell.read(web_folder()).files
    packed = {at: min((len(body) for body in files[at].packings.values()), default=0) for at in files}
    weighs = sum(packed[at] or len(files[at].body) for at in kept(office)["files"])
    assert weighs <= 1000 * TARGET_KB


def test_a_checkout_tells_of_source_maps_and_the_worker_keeps_none(office: Office) -> None:
    client, listed = office.client(), kept(office)
    scripts = [file for file in listed["files"] if file.endswith(".js")]
    maps = [client.get(client.get(file).headers["SourceMap"]).json() for file in scripts]
    sources = [name for source_map in maps for name in source_map["sources"]]
    assert len([name for name in sources if name.endswith("app.tsx")]) == 1
    assert not [file for file in listed["files"] if file.endswith(".map")]


def test_a_name_with_a_hash_may_be_kept_for_ever_and_the_page_is_asked_about_each_time(
    office: Office,
) -> None:
    client = office.client()
    page = client.get("/")
    again = client.get("/", headers={"If-None-Match": page.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    for file in kept(office)["files"]:
        for_ever = "immutable" in client.get(file).headers["cache-control"]
        assert for_ever == file.startswith("/web/"), file


def test_the_page_allows_no_script_but_its_own_files(office: Office) -> None:
    """Trusted types and a policy without a hash: nothing stands in the page itself. Source: CSP Level 3, 6.7."""
    page = office.client().get("/")
    policy = dict(part.split(" ", 1) for part in page.headers["content-security-policy"].split("; "))
    assert policy["script-src"] == "'self' 'wasm-unsafe-eval'"
    assert policy["require-trusted-types-for"] == "'script'"
    assert not re.search(r"<script(?![^>]* src=)|<style|\sstyle=", page.text)


def test_the_icons_are_as_large_and_of_the_kind_that_the_manifest_says(office: Office) -> None:
    """Source: W3C Web Application Manifest, and what browsers ask before they offer to install: 192 and 512 pixels."""
    client = office.client()
    answer = client.get("/manifest.webmanifest")
    assert answer.headers["content-type"].split(";")[0] == "application/manifest+json"
    manifest = answer.json()
    assert manifest["start_url"].startswith(manifest["scope"])
    assert (manifest["display"], manifest.get("prefer_related_applications", False)) == ("standalone", False)
    sizes = set()
    for icon in manifest["icons"]:
        answer = client.get(icon["src"])
        assert answer.headers["content-type"].split(";")[0] == icon["type"]
        if icon["sizes"] != "any":
            with Image.open(io.BytesIO(answer.content)) as picture:
                assert (f"{picture.width}x{picture.height}", picture.format) == (icon["sizes"], "PNG")
            sizes.add(icon["sizes"])
    assert sizes == {"192x192", "512x512"}
