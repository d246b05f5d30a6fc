"""The app's files: all that the worker keeps is there, and the page asks for what is needed first, and no more."""

from __future__ import annotations

import json
import re
from typing import Any

from tests.conftest import Office


def kept(office: Office) -> dict[str, Any]:
    worker = office.client().get("/sw.js").text
    listed: dict[str, Any] = json.JSONDecoder().raw_decode(worker[worker.index('{"version"') :])[0]
    return listed


def test_the_worker_lists_files_that_are_there(office: Office) -> None:
    client, listed = office.client(), kept(office)
    for file in [*listed["files"], *listed["scanner"]]:
        assert client.get(file).status_code == 200, file
    assert [file for file in listed["scanner"] if file.endswith(".wasm")]
    assert not [file for file in listed["files"] if "zxing" in file], "only where a browser needs it"


def test_the_page_preloads_what_the_first_drawing_needs(office: Office) -> None:
    """Whatever a preloaded module imports at once is preloaded as well; screens come when they are shown."""
    client = office.client()
    page = client.get("/").text
    preloaded = re.findall(r'<link rel="modulepreload" href="([^"]+)">', page)
    assert preloaded[0] == "/web/app.js"
    assert not [file for file in preloaded if file.startswith("/web/screens/")]
    assert set(preloaded) <= set(kept(office)["files"])
    for file in preloaded:
        for name in re.findall(r'^import .* from "(\.[^"]+)"', client.get(file).text, re.MULTILINE):
            assert str(client.base_url.join(file).join(name).path) in preloaded, f"{file} imports {name}"


def test_a_module_is_sent_once(office: Office) -> None:
    client = office.client()
    first = client.get("/web/app.js")
    again = client.get("/web/app.js", headers={"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
