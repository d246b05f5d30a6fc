"""The one page that is served without TLS: it brings the office's certificate to a phone, and leads on to the app.

It is an application by itself, so that nothing else can ever be reached over plain HTTP: every other path leads back
to the page. It needs no script, since it must work in any browser on the first try.
"""

from __future__ import annotations

import base64
import hashlib
import plistlib
import re
import uuid
from collections.abc import Callable
from html import escape
from importlib.resources import files
from string import Template

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from intake.hall.certificates import HallCertificates

PROFILE = "application/x-apple-aspen-config"
CERTIFICATE = "application/x-x509-ca-cert"
SYSTEMS = ("apple", "android", "desktop")
STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)


def build_trust_app(certificates: HallCertificates, address: str) -> Starlette:
    """The application. `address` is the office's own, which begins with https."""
    page = Template(files("intake.hall").joinpath("trust_page.html").read_text("utf-8"))
    label = certificates.name.removesuffix(".local")

    async def get_page(request: Request) -> Response:
        """GET /: the page, opened at the system that the browser names."""
        system = system_of(request.headers.get("user-agent", ""))
        return html(fill(page, certificates, address, system))

    routes = [
        Route("/", get_page, methods=["GET"]),
        Route(f"/{label}.mobileconfig", file(profile(certificates), PROFILE), methods=["GET"]),
        Route(f"/{label}.crt", file(certificates.der, CERTIFICATE), methods=["GET"]),
    ]
    return Starlette(routes=routes, exception_handlers={404: to_page, 405: to_page})


async def to_page(request: Request, _: Exception) -> Response:
    """Whatever else is asked for: the page. 303, so that nothing that was sent here is sent on."""
    return RedirectResponse("/", status_code=303, headers={"Cache-Control": "no-store"})


def file(content: bytes, media_type: str) -> Callable[[Request], Response]:
    def get_file(request: Request) -> Response:
        """GET a form of the authority's certificate. No more than the certificate itself: the key does not exist."""
        name = request.url.path.rsplit("/", 1)[-1]
        headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
        return Response(content, media_type=media_type, headers=headers)

    return get_file


def fill(page: Template, certificates: HallCertificates, address: str, system: str) -> str:
    """The page in words for this office."""
    opened = {f"open_{name}": "open" if name == system else "" for name in SYSTEMS}
    return page.substitute(
        opened,
        name=escape(certificates.name),
        label=escape(certificates.name.removesuffix(".local")),
        address=escape(address),
        check=escape(f"{address}/#/check"),
        subject=escape(certificates.authority.subject.rfc4514_string().removeprefix("CN=")),
        groups="".join(f"<li>{group}</li>" for group in certificates.groups),
        fingerprint=certificates.fingerprint,
        until=f"{certificates.valid_until:%B %Y}",
    )


def html(page: str) -> Response:
    """The page with a policy that lets it load nothing but its own style."""
    styles = "".join(STYLE.findall(page)).encode()
    digest = base64.b64encode(hashlib.sha256(styles).digest()).decode()
    nothing = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    headers = {
        "Content-Security-Policy": f"{nothing}; style-src 'sha256-{digest}'",
        "Cache-Control": "no-store",
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "no-referrer",
    }
    return Response(page, media_type="text/html; charset=utf-8", headers=headers)


def system_of(user_agent: str) -> str:
    """Which steps to open at first; a guess, since the others stand below."""
    if re.search(r"iPhone|iPad|iPod", user_agent):
        return "apple"
    if "Android" in user_agent:
        return "android"
    return "desktop"


def profile(certificates: HallCertificates) -> bytes:
    """The certificate as a configuration profile of Apple's systems, unsigned.

    Its identifiers come from name and certificate alone: the same profile twice is one profile on the phone, and new
    certificates replace the old ones. Keys as Apple's documentation of profiles has them, second-hand.
    """
    identifier = f"{'.'.join(reversed(certificates.name.split('.')))}.intake-desk"
    title = f"Intake desk {certificates.name}"
    own = uuid.uuid5(uuid.NAMESPACE_OID, certificates.fingerprint)
    payload = {
        "PayloadType": "com.apple.security.root",
        "PayloadVersion": 1,
        "PayloadIdentifier": f"{identifier}.certificate",
        "PayloadUUID": str(uuid.uuid5(own, "certificate")).upper(),
        "PayloadDisplayName": title,
        "PayloadCertificateFileName": f"{certificates.name}.cer",
        "PayloadContent": certificates.der,
    }
    return plistlib.dumps(
        {
            "PayloadType": "Configuration",
            "PayloadVersion": 1,
            "PayloadIdentifier": identifier,
            "PayloadUUID": str(own).upper(),
            "PayloadDisplayName": title,
            "PayloadDescription": f"Lets this device trust the intake desk at {certificates.name}. "
            "The certificate counts for that name and for private addresses, and for nothing else.",
            "PayloadRemovalDisallowed": False,
            "PayloadContent": [payload],
        }
    )
