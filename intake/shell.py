"""The web app's files as the browser gets them: the page with its policy, the worker with its list, the rest.

The build has given each file its name and the page its preloads. The worker's list is made from the files
themselves: a change of any file is a new version of the app, and the worker holds all of it or none.
"""

from __future__ import annotations

import asyncio
import gzip
import hashlib
import json
import re
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

import brotli
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from intake.errors import NotFound

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".json": "application/json",
    ".wasm": "application/wasm",
    ".map": "application/json",
}
LARGE = 400_000  # bytes; from here on the best packing takes seconds and saves little
PACKED = ".br"  # behind the name of a file: what the build has packed of it
PAGE, WORKER, FORGETTING, MANIFEST = "index.html", "sw.js", "withdraw.js", "manifest.webmanifest"
STAMP = "built.json"  # written by the build: which files only some devices keep
HASHED = re.compile(r"-[A-Z0-9]{8}\.\w+$")  # a name with the hash of its content, as the bundler gives them
FOR_EVER = "public, max-age=31536000, immutable"
POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "img-src 'self' blob:",
        "media-src 'self' blob:",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types intake",
    ]
)


@dataclass(frozen=True)
class ShellFile:
    """`by_build`: the body as the build has packed it; empty of what is packed here."""

    body: bytes
    media_type: str
    tag: str
    by_build: bytes = b""

    @cached_property
    def packings(self) -> dict[str, bytes]:
        """The body as each encoding has it, the shortest first; packed when it is first asked for, to start sooner."""
        return packings_of(self.body, self.by_build)


@lru_cache(maxsize=100)  # files: twice as many as the app has
def packings_of(body: bytes, by_build: bytes) -> dict[str, bytes]:
    """Packed once a process, however many offices it opens."""
    packed = {
        "br": by_build or brotli.compress(body, quality=11 if len(body) < LARGE else 9),
        "gzip": gzip.compress(body, 9, mtime=0),
    }
    return {name: shorter for name, shorter in packed.items() if len(shorter) < len(body)}


@dataclass(frozen=True)
class Shell:
    """Every file of the web app, read once at the start, by the address under which it is served."""

    files: dict[str, ShellFile]
    version: str

    @classmethod
    def read(cls, folder: Path, *, withdrawn: bool = False) -> Shell:
        """Read what was built; withdrawn, phones are given the worker that forgets the app.

        Raises FileNotFoundError if the app was not built.
        """
        if not (folder / STAMP).exists():
            raise FileNotFoundError(
                f"The web app is not in {folder}: `python3 -m intake.setup.bootstrap build` builds it."
            )
        found = {
            file.relative_to(folder).as_posix(): file.read_bytes()
            for file in sorted(folder.rglob("*"))
            if file.suffix in {*TYPES, PACKED} and file.name != STAMP
        }
        by_build = {
            f"/web/{name.removesuffix(PACKED)}": found.pop(name)
            for name in list(found)
            if name.endswith(PACKED)
        }
        stamp = json.loads((folder / STAMP).read_text("utf-8"))
        packs = {pack: [f"/web/{name}" for name in names] for pack, names in stamp["packs"].items()}
        for_some = {address for addresses in packs.values() for address in addresses}
        maps = {name: found.pop(name) for name in list(found) if name.endswith(".map")}
        digest = hashlib.sha256()
        for name, body in found.items():
            digest.update(name.encode() + hashlib.sha256(body).digest())
        version = digest.hexdigest()[:12]
        worker, forgetting = found.pop(WORKER), found.pop(FORGETTING)
        files = {
            "/": pack(PAGE, found.pop(PAGE)),
            f"/{MANIFEST}": pack(MANIFEST, found.pop(MANIFEST)),
            **{
                f"/web/{name}": pack(name, body, by_build.get(f"/web/{name}", b""))
                for name, body in found.items()
            },
        }
        # A phone fetches the icons by itself when the app is installed; no screen shows them.
        kept = [
            address for address in files if not address.startswith("/web/icons/") and address not in for_some
        ]
        listed = json.dumps({"version": version, "files": kept, "packs": packs})
        files |= {f"/web/{name}": pack(name, body) for name, body in maps.items()}
        body = forgetting if withdrawn else f"const SHELL={listed};\n".encode() + worker
        return cls({**files, f"/{WORKER}": pack(WORKER, body)}, version)

    def routes(self) -> list[Route]:
        async def give(request: Request) -> Response:
            return await self._give(request, request.url.path)

        async def give_page(request: Request) -> Response:
            return await self._give(request, "/")

        return [
            Route("/t/{tag}", give_page),
            Route("/T/{tag}", give_page),
            Route("/{path:path}", give),
        ]

    async def _give(self, request: Request, address: str) -> Response:
        file = self.files.get(address)
        if file is None:
            raise NotFound("page", address)
        headers = {
            "ETag": file.tag,
            "Cache-Control": FOR_EVER if HASHED.search(address) else "no-cache",
            "Vary": "Accept-Encoding",
        }
        if f"{address}.map" in self.files:  # in a checkout; a wheel has none
            headers["SourceMap"] = f"{address}.map"
        if file.media_type.startswith("text/html"):
            headers |= {
                "Content-Security-Policy": POLICY,
                "Permissions-Policy": "camera=(self), microphone=()",
                "Cross-Origin-Opener-Policy": "same-origin",
            }
        if address == "/sw.js":
            headers["Content-Security-Policy"] = "default-src 'self'"
        if request.headers.get("if-none-match") == file.tag:
            return Response(status_code=304, headers=headers)
        asked = request.headers.get("accept-encoding", "")
        if "packings" not in vars(file):
            await asyncio.to_thread(getattr, file, "packings")  # nobody else waits for it
        for encoding, packed in file.packings.items():
            if re.search(rf"\b{encoding}\b", asked):
                headers["Content-Encoding"] = encoding
                return Response(packed, headers=headers, media_type=file.media_type)
        return Response(file.body, headers=headers, media_type=file.media_type)


def pack(address: str, body: bytes, by_build: bytes = b"") -> ShellFile:
    tag = f'"{hashlib.sha256(body).hexdigest()[:16]}"'
    return ShellFile(body, TYPES[Path(address).suffix], tag, by_build)
