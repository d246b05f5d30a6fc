"""The web app's libraries: fetched by npm as locked, copied by an explicit list, and written down.

Needs the standard library only, since it runs before anything is installed.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path

from intake.setup.node import Node
from intake.setup.steps import SetUpError, Steps

# Where a file comes from, under web/node_modules, and what the browser calls it, under web/vendor.
FILES = {
    "preact/dist/preact.mjs": "preact.js",
    "preact/hooks/dist/hooks.mjs": "preact-hooks.js",
    "htm/dist/htm.mjs": "htm.js",
    "idb/build/index.js": "idb.js",
    "minisearch/dist/es/index.js": "minisearch.js",
    "zxing-wasm/dist/es/reader/index.js": "zxing-reader.js",
    "zxing-wasm/dist/es/share.js": "zxing-share.js",
    "zxing-wasm/dist/reader/zxing_reader.wasm": "zxing_reader.wasm",
}
# The one relative import among them, since the copies lie side by side.
MOVED = {"zxing-reader.js": (b"../share.js", b"./zxing-share.js")}
#: What npm downloads, in millions of bytes, without and with what only the checks need; measured.
LIBRARIES_MB, CHECKS_MB = 5, 40


def download_mb(*, for_checks: bool) -> int:
    return CHECKS_MB if for_checks else LIBRARIES_MB


def is_built(web: Path, *, for_checks: bool = False) -> bool:
    """Whether web/vendor holds what the lock names and, for the checks, web/node_modules what they need."""
    listed = web / "vendor" / "vendor.json"
    built = listed.exists() and json.loads(listed.read_text("utf-8"))["lock"] == lock_digest(web)
    return built and (not for_checks or has_tools(web))


def has_tools(web: Path) -> bool:
    """Whether npm has put the checks' own packages in place: the list of what is there is the last that it writes."""
    listed = web / "node_modules" / ".package-lock.json"
    return listed.exists() and "node_modules/typescript" in json.loads(listed.read_text("utf-8"))["packages"]


def lock_digest(web: Path) -> str:
    content = (web / "package-lock.json").read_bytes() + json.dumps(FILES).encode()
    return hashlib.sha256(content).hexdigest()


def build(steps: Steps, web: Path, node: Node, *, for_checks: bool = False) -> None:
    """Fetch and copy. Raises SetUpError if a file that the app needs is not in its package any more."""
    only_the_app = [] if for_checks else ["--omit=dev"]
    node.npm(steps, web, "ci", "--ignore-scripts", "--no-audit", "--no-fund", *only_the_app)
    vendor = web / "vendor"
    shutil.rmtree(vendor, ignore_errors=True)
    vendor.mkdir()
    listed = {name: copied(web, source, name) for source, name in FILES.items()}
    # Written last, and whole or not at all: without it, half of a folder is not taken for a whole one.
    partial = vendor / "vendor.json.part"
    partial.write_text(json.dumps({"lock": lock_digest(web), "files": listed}, indent=1), "utf-8")
    partial.replace(vendor / "vendor.json")


def copied(web: Path, source: str, name: str) -> dict[str, str]:
    """Copy one file of a package; what is written down of it."""
    file = web / "node_modules" / source
    if not file.exists():
        raise SetUpError(f"{source} is not in its package any more: correct the list in {__file__}.")
    content = file.read_bytes()
    if name in MOVED:
        before, after = MOVED[name]
        if before not in content:
            raise SetUpError(f"{source} does not import {before.decode()} any more: correct {__file__}.")
        content = content.replace(before, after)
    (web / "vendor" / name).write_bytes(content)
    package = json.loads((web / "node_modules" / source.split("/")[0] / "package.json").read_text("utf-8"))
    return {
        "package": package["name"],
        "version": package["version"],
        "licence": package["license"],
        "sha256": hashlib.sha256(content).hexdigest(),
    }
