"""A page of words alone, for what a browser opens by itself: as large and as dark as the app, and it loads nothing."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping
from html import escape

from starlette.responses import HTMLResponse

STYLE = (
    ":root{color-scheme:light dark;font:106.25%/1.4 system-ui,sans-serif}"
    "body{max-width:40rem;margin:0 auto;padding:1.5rem .75rem;background:#e8ebe9;color:#14201e}"
    "h1{font-size:1.35rem;line-height:1.2}a{display:inline-block;padding:.7rem 0;color:inherit;font-weight:600}"
    "@media(prefers-color-scheme:dark){body{background:#0d1413;color:#eaf0ed}}"
)
DIGEST = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()
HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": f"default-src 'none'; style-src 'sha256-{DIGEST}'; frame-ancestors 'none'",
}


def word_page(
    title: str, said: list[str], status: int, *, more: str = "", headers: Mapping[str, str] | None = None
) -> HTMLResponse:
    """What is so, and under it what to do; `more` is a link of our own, written as HTML."""
    paragraphs = "".join(f"<p>{escape(words)}</p>" for words in said if words)
    return HTMLResponse(
        "<!doctype html><html lang=en><meta name=viewport content='width=device-width'>"
        f"<title>{escape(title)}</title><style>{STYLE}</style>"
        f"<h1>{escape(title)}</h1>{paragraphs}{more}</html>\n",
        status,
        headers={**HEADERS, **(headers or {})},
    )
