"""The web app's files as the browser gets them: the page with its policy, the worker with its list, the rest.

The worker's list is made from the files themselves: a change of any file is a new version of the app, and the
worker holds all of it or none.
"""

from __future__ import annotations

import asyncio
import base64
import gzip
import hashlib
import json
import posixpath
import re
from dataclasses import dataclass
from functools import cached_property
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
}
LARGE = 200_000  # bytes; from here on the best packing takes seconds and saves little
LEFT_OUT = ("node_modules/", "package", "tsconfig", ".", "types/")
IMPORT_MAP = re.compile(r'<script type="importmap">(.*?)</script>', re.DOTALL)
IMPORTED = re.compile(r'^import [^"]*"([^"]+)";', re.MULTILINE)
PRELOAD = "<!--PRELOAD-->"
PRECACHE = "/*PRECACHE*/"
SCANNER = "/web/vendor/zxing"  # only for browsers that read no codes by themselves


@dataclass(frozen=True)
class ShellFile:
    body: bytes
    media_type: str
    tag: str

    @cached_property
    def packings(self) -> dict[str, bytes]:
        """The body as each encoding has it, the shortest first; packed when it is first asked for, to start sooner."""
        quality = 11 if len(self.body) < LARGE else 9
        packed = {
            "br": brotli.compress(self.body, quality=quality),
            "gzip": gzip.compress(self.body, 9, mtime=0),
        }
        return {name: body for name, body in packed.items() if len(body) < len(self.body)}


@dataclass(frozen=True)
class Shell:
    """Every file of the web app, read once at the start."""

    files: dict[str, ShellFile]
    version: str
    policy: str

    @classmethod
    def read(cls, folder: Path, *, withdrawn: bool = False) -> Shell:
        """Read the folder; withdrawn, phones are given the worker that forgets the app.

        Raises FileNotFoundError if the app or its libraries are not there.
        """
        if not (folder / "index.html").exists():
            raise FileNotFoundError(f"The web app is not in {folder}.")
        found = {
            f"/web/{name}": (folder / name).read_bytes()
            for name in sorted(
                file.relative_to(folder).as_posix()
                for file in folder.rglob("*")
                if file.is_file() and file.suffix in TYPES
            )
            if not name.startswith(LEFT_OUT)
        }
        links = [f'<link rel="modulepreload" href="{address}">' for address in needed_first(found)]
        page = found["/web/index.html"].decode().replace(PRELOAD, "\n    ".join(links))
        found["/web/index.html"] = page.encode()
        worker = found.pop("/web/sw.js").decode()
        forgetting = found.pop("/web/withdraw.js")
        manifest = found.pop("/web/manifest.webmanifest")
        digest = hashlib.sha256(worker.encode() + manifest)
        for address, body in found.items():
            digest.update(address.encode() + hashlib.sha256(body).digest())
        version = digest.hexdigest()[:12]
        files = {address: pack(address, body) for address, body in found.items()}
        files["/"] = files.pop("/web/index.html")
        files["/manifest.webmanifest"] = pack("manifest.webmanifest", manifest)
        # A phone fetches the icons by itself when the app is installed; no screen shows them.
        kept = [address for address in files if not address.startswith(("/web/icons/", SCANNER))]
        scanner = [address for address in files if address.startswith(SCANNER)]
        listed = json.dumps({"version": version, "files": kept, "scanner": scanner})
        files["/sw.js"] = pack(
            "sw.js", forgetting if withdrawn else worker.replace(PRECACHE, listed).encode()
        )
        return cls(files, version, policy_for(page))

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
        headers = {"ETag": file.tag, "Cache-Control": "no-cache", "Vary": "Accept-Encoding"}
        if file.media_type.startswith("text/html"):
            headers |= {
                "Content-Security-Policy": self.policy,
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


def needed_first(found: dict[str, bytes]) -> list[str]:
    """The modules that app.js and its imports need before anything is drawn, so that the page asks for all at once."""
    import_map = IMPORT_MAP.search(found["/web/index.html"].decode())
    names = json.loads(import_map.group(1))["imports"] if import_map else {}
    needed, ahead = [], ["/web/app.js"]
    while ahead:
        address = ahead.pop()
        if address in needed:
            continue
        needed.append(address)
        for name in IMPORTED.findall(found[address].decode()):
            ahead.append(
                names.get(name) or posixpath.normpath(posixpath.join(posixpath.dirname(address), name))
            )
    return needed


def pack(address: str, body: bytes) -> ShellFile:
    return ShellFile(body, TYPES[Path(address).suffix], f'"{hashlib.sha256(body).hexdigest()[:16]}"')


def policy_for(page: str) -> str:
    """The content security policy. The page's import map is allowed by the hash of its exact text."""
    found = IMPORT_MAP.search(page)
    import_map = found.group(1) if found else ""
    digest = base64.b64encode(hashlib.sha256(import_map.encode()).digest()).decode()
    return "; ".join(
        [
            "default-src 'none'",
            f"script-src 'self' 'sha256-{digest}' 'wasm-unsafe-eval'",
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
