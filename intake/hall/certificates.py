"""The hall's certificates: an authority of this office alone, whose key is thrown away once it has signed.

Phones trust the authority. Since nobody has its key any more, a stolen laptop can sign nothing: neither for this
office nor, because of the authority's name constraints, for any other name in the world. What it can still do is
answer as this office. So that phones need not be asked again every year, the authority signs before its key goes:
one certificate a year for the years to come, each valid for 13 months, all for the same key of the server.

Sources: RFC 5280 (constraints, key usage, SAN). Second-hand: Apple takes at most 825 days, serverAuth and a SAN from
an authority that a person has added; Android takes a person's authority in the browser. `cryptography` signs.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property
from ipaddress import IPv4Address, IPv4Network
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from intake.errors import HallNotReady
from intake.system import sync_folder

YEARS = 5  # certificates signed ahead; after that phones are asked to trust a new authority
EVERY = timedelta(days=365)
VALID_FOR = timedelta(days=396)
SLOW_CLOCKS = timedelta(days=1)  # a phone whose clock is behind must not find the certificate too young

LOOPBACK = IPv4Network("127.0.0.0/8")
#: Networks that never belong to a stranger on the internet. Sources: RFC 1918, RFC 3927.
PRIVATE = tuple(
    map(IPv4Network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16")),
)
#: Where a laptop stands when it shares its own connection: Windows, NetworkManager (Linux), macOS. From memory.
SHARED = tuple(map(IPv4Address, ("192.168.137.1", "10.42.0.1", "192.168.2.1")))

LABEL = re.compile(
    r"[a-z0-9]([a-z0-9-]{0,38}[a-z0-9])?"
)  # shorter than DNS allows: a subject's name takes 64
GROUPS = 6


@dataclass(frozen=True)
class HallCertificates:
    """What the data folder holds: the authority without its key, the server's key, its certificates by their start."""

    folder: Path
    authority: x509.Certificate
    servers: tuple[x509.Certificate, ...]

    @cached_property
    def name(self) -> str:
        """The office's name on the hall's network, such as `intake.local`."""
        return str(self.servers[0].subject.get_attributes_for_oid(NameOID.COMMON_NAME)[0].value)

    @cached_property
    def addresses(self) -> tuple[IPv4Address, ...]:
        """The fixed addresses that the certificates stand for beside the name."""
        names = self.servers[0].extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        return tuple(
            found for found in names.get_values_for_type(x509.IPAddress) if isinstance(found, IPv4Address)
        )

    @property
    def der(self) -> bytes:
        """The authority's certificate, as phones take it."""
        return self.authority.public_bytes(serialization.Encoding.DER)

    @property
    def fingerprint(self) -> str:
        """The authority's SHA-256 as a phone's own settings show it: `AB:CD:...`."""
        return self.authority.fingerprint(hashes.SHA256()).hex(":").upper()

    @property
    def groups(self) -> tuple[str, ...]:
        """The beginning of the fingerprint as six groups of four, to be read aloud: 96 bits of it.

        They are the fingerprint's own digits, so that they can be compared with what a phone itself shows of the
        certificate that it was given, and not only with a page that somebody else could have sent.
        """
        digits = self.fingerprint.replace(":", "")
        return tuple(digits[start : start + 4] for start in range(0, 4 * GROUPS, 4))

    @property
    def key_file(self) -> Path:
        return self.folder / "server-key.pem"

    @property
    def valid_until(self) -> datetime:
        """When the last certificate ends and phones must trust a new authority."""
        return self.servers[-1].not_valid_after_utc

    def server_at(self, now: datetime) -> x509.Certificate:
        """The certificate to show: of those valid now the youngest, which has 31 days left at the least.

        Raises HallNotReady if none is valid: they have all ended, or the machine's clock is wrong.
        """
        valid = [
            server
            for server in self.servers
            if server.not_valid_before_utc <= now <= server.not_valid_after_utc
        ]
        if valid:
            return valid[-1]
        if now > self.valid_until:
            raise HallNotReady(
                f"The hall's certificates ended on {self.valid_until:%d %B %Y}.",
                hint="If this machine's date is right, start once with --new-certificate: "
                "every phone must then trust the office again, on the page that it shows.",
            )
        raise HallNotReady(
            f"The hall's first certificate begins on {self.servers[0].not_valid_before_utc:%d %B %Y}, "
            f"and this machine says that it is {now:%d %B %Y}.",
            hint="Set this machine's clock and start again.",
        )

    def certificate_file(self, now: datetime) -> Path:
        """The file of the certificate to show. Raises HallNotReady as `server_at`."""
        return self.folder / file_name(self.server_at(now))


def file_name(server: x509.Certificate) -> str:
    return f"server-{server.not_valid_before_utc:%Y-%m-%d}.pem"


def hall_certificates(
    data_folder: Path,
    *,
    name: str | None,
    addresses: Iterable[IPv4Address],
    now: datetime,
    anew: bool = False,
) -> HallCertificates:
    """The certificates in the data folder; made on the first start, or anew if that is asked for.

    `name` is the first part of `NAME.local`; None takes the one that phones know already, at first `intake`.
    `addresses` are the machine's own; those outside private networks are left out.
    Raises HallNotReady if the name is no name, is not the one that phones know, or the files cannot be used.
    """
    folder = data_folder / "hall"
    if folder.exists() and not anew:
        kept = read_certificates(folder)
        require_known_name(kept, name)
        return kept
    if name is None:
        name = name_before(folder) if folder.exists() else "intake"
    make_certificates(folder, label=label_of(name), addresses=addresses, now=now)
    return read_certificates(folder)


def require_known_name(kept: HallCertificates, name: str | None) -> None:
    """Raises HallNotReady for a name that is none, or that is not the one by which phones know the office."""
    if name is not None and f"{label_of(name)}.local" != kept.name:
        raise HallNotReady(
            f"Phones know this office as {kept.name}; under {label_of(name)}.local they would find it empty.",
            hint="Leave the name out. To change it all the same, bring in everything that phones still hold, "
            "then start once with the new name and --new-certificate.",
        )


def name_before(folder: Path) -> str:
    """The name that new certificates go on with. Raises HallNotReady if the old ones cannot say it any more."""
    try:
        return read_certificates(folder).name
    except HallNotReady as error:
        raise HallNotReady(
            error.detail,
            hint="Say the name that phones know, such as: intake serve --hall intake --new-certificate",
        ) from error


def label_of(name: str) -> str:
    """The first part of a `.local` name, in small letters. Raises HallNotReady if it cannot be one."""
    label = name.strip().lower().removesuffix(".local")
    if not LABEL.fullmatch(label):
        raise HallNotReady(
            f"“{name}” cannot be a name on the hall's network.",
            hint="Take up to 40 letters a to z, digits and hyphens, such as: intake serve --hall thimblewick",
        )
    return label


def make_certificates(folder: Path, *, label: str, addresses: Iterable[IPv4Address], now: datetime) -> None:
    """Make authority and certificates and put them in place together, or not at all.

    The authority's key is in this function's memory alone; it is written nowhere and ends with it.
    """
    name, begin = f"{label}.local", now.astimezone(UTC).replace(microsecond=0) - SLOW_CLOCKS
    permitted = {address for address in addresses if is_permitted(address)}
    listed = sorted({IPv4Address("127.0.0.1"), *SHARED, *permitted})
    authority_key = ec.generate_private_key(ec.SECP256R1())
    authority = sign_authority(authority_key, name, begin=begin)
    server_key = ec.generate_private_key(ec.SECP256R1())
    servers = [
        sign_server(
            authority_key,
            authority,
            server_key.public_key(),
            name,
            addresses=listed,
            begin=begin + year * EVERY,
        )
        for year in range(YEARS)
    ]
    making = folder.with_name(folder.name + ".making")
    shutil.rmtree(making, ignore_errors=True)
    making.mkdir(parents=True, mode=0o700)
    write_private(making / "server-key.pem", private_pem(server_key))
    write_private(making / "authority.pem", authority.public_bytes(serialization.Encoding.PEM))
    for server in servers:
        write_private(making / file_name(server), server.public_bytes(serialization.Encoding.PEM))
    shutil.rmtree(folder, ignore_errors=True)
    making.rename(folder)
    sync_folder(folder.parent)


def is_permitted(address: IPv4Address) -> bool:
    return any(address in network for network in (LOOPBACK, *PRIVATE))


def sign_authority(key: ec.EllipticCurvePrivateKey, name: str, *, begin: datetime) -> x509.Certificate:
    """An authority that can vouch for this office's names and for private addresses, and for nothing else."""
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Intake desk {name} {begin.year}")])
    names: list[x509.GeneralName] = [x509.DNSName(name), x509.DNSName("localhost")]
    networks = [x509.IPAddress(network) for network in (LOOPBACK, *PRIVATE)]
    return (
        builder(subject, subject, key.public_key(), begin, begin + (YEARS - 1) * EVERY + VALID_FOR)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(key_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints([*names, *networks], None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )


def sign_server(
    authority_key: ec.EllipticCurvePrivateKey,
    authority: x509.Certificate,
    key: ec.EllipticCurvePublicKey,
    name: str,
    *,
    addresses: Iterable[IPv4Address],
    begin: datetime,
) -> x509.Certificate:
    """One certificate of the server, for 13 months from `begin` on."""
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    names = [x509.DNSName(name), x509.DNSName("localhost")]
    issuer_key = authority.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    return (
        builder(subject, authority.subject, key, begin, begin + VALID_FOR)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(key_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(
            x509.SubjectAlternativeName([*names, *(x509.IPAddress(address) for address in addresses)]),
            critical=False,
        )
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer_key), critical=False
        )
        .sign(authority_key, hashes.SHA256())
    )


def builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePublicKey, begin: datetime, end: datetime
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(begin)
        .not_valid_after(end)
    )


def key_usage(*, signs_certificates: bool) -> x509.KeyUsage:
    """An authority signs certificates and does nothing else; a server signs its side of a handshake."""
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )


def private_pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )


def write_private(file: Path, content: bytes) -> None:
    """A file that its owner alone may read, on the disk when this returns."""
    with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def read_certificates(folder: Path) -> HallCertificates:
    """What is in the folder. Raises HallNotReady if something is missing or does not belong together."""
    try:
        authority = x509.load_pem_x509_certificate((folder / "authority.pem").read_bytes())
        servers = [x509.load_pem_x509_certificate(file.read_bytes()) for file in folder.glob("server-2*.pem")]
        servers.sort(key=lambda server: server.not_valid_before_utc)
        key = serialization.load_pem_private_key((folder / "server-key.pem").read_bytes(), None)
        for server in servers:
            server.verify_directly_issued_by(authority)
            if server.public_key() != key.public_key():
                raise ValueError(f"{file_name(server)} is for another key")
        if not servers:
            raise ValueError("no certificate of the server is there")
    except (OSError, ValueError, TypeError, InvalidSignature) as error:
        raise HallNotReady(
            f"The hall's certificates in {folder} cannot be used: {error or type(error).__name__}.",
            hint="Put the folder back from a copy of the data folder. If there is none, start once with "
            "--new-certificate: every phone must then trust the office again.",
        ) from error
    return HallCertificates(folder, authority, tuple(servers))
