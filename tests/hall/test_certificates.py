"""The hall's certificates, read by two that did not make them: OpenSSL, and the verifier of `cryptography`.

Sources: RFC 5280 4.2.1.3 (key usage), 4.2.1.6 (SAN), 4.2.1.9 (path length), 4.2.1.10 (name constraints), 4.2.1.12
(serverAuth). Second-hand: Apple's 825 days at most, SAN and serverAuth, for authorities that a person has added.
"""

from __future__ import annotations

import base64
import re
import shutil
import stat
import subprocess
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, IPv6Address, ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from intake.errors import HallNotReady
from intake.hall.certificates import (
    EVERY,
    SHARED,
    VALID_FOR,
    HallCertificates,
    hall_certificates,
    sign_authority,
    sign_server,
)

NOW = datetime(2026, 3, 14, 8, 0, tzinfo=UTC)
OWN = [IPv4Address("192.168.1.7"), IPv4Address("203.0.113.9")]  # one private, one of the internet (RFC 5737)


@pytest.fixture
def hall(tmp_path: Path) -> HallCertificates:
    return hall_certificates(tmp_path, name="thimblewick", addresses=OWN, now=NOW)


def verify(hall: HallCertificates, server: x509.Certificate, name: str, at: datetime) -> None:
    """Ask cryptography's verifier, which knows nothing of how the certificates were made."""
    subject: x509.DNSName | x509.IPAddress
    try:
        subject = x509.IPAddress(ip_address(name))
    except ValueError:
        subject = x509.DNSName(name)
    policy = PolicyBuilder().store(Store([hall.authority])).time(at)
    policy.build_server_verifier(subject).verify(server, [])


def openssl_verify(
    folder: Path, authority: x509.Certificate, server: x509.Certificate, at: datetime, *more: str
) -> str:
    """What `openssl verify -x509_strict` says."""
    if shutil.which("openssl") is None:
        pytest.skip("openssl is not on this machine, so it cannot be asked")
    for name, one in (("a.pem", authority), ("s.pem", server)):
        (folder / name).write_bytes(one.public_bytes(serialization.Encoding.PEM))
    asked = [
        "openssl",
        "verify",
        "-x509_strict",
        "-purpose",
        "sslserver",
        "-attime",
        str(int(at.timestamp())),
    ]
    said = subprocess.run(
        [*asked, *more, "-CAfile", str(folder / "a.pem"), str(folder / "s.pem")],
        capture_output=True,
        text=True,
        check=False,
    )
    return said.stdout + said.stderr


@pytest.mark.parametrize(
    "name", ["thimblewick.local", "localhost", "127.0.0.1", "192.168.1.7", *map(str, SHARED)]
)
def test_both_readers_take_it_for_its_names_and_addresses(
    hall: HallCertificates, name: str, tmp_path: Path
) -> None:
    verify(hall, hall.server_at(NOW), name, NOW)
    asked = "-verify_ip" if name[0].isdigit() else "-verify_hostname"
    assert "s.pem: OK" in openssl_verify(tmp_path, hall.authority, hall.server_at(NOW), NOW, asked, name)


@pytest.mark.parametrize("name", ["elsewhere.local", "thimblewick.example.org", "203.0.113.9", "192.168.1.8"])
def test_neither_takes_it_for_another(hall: HallCertificates, name: str, tmp_path: Path) -> None:
    with pytest.raises(VerificationError):
        verify(hall, hall.server_at(NOW), name, NOW)
    asked = "-verify_ip" if name[0].isdigit() else "-verify_hostname"
    said = openssl_verify(tmp_path, hall.authority, hall.server_at(NOW), NOW, asked, name)
    assert "mismatch" in said


@pytest.mark.parametrize(
    ("name", "addresses"),
    [
        ("bank.example.org", []),
        ("elsewhere.local", []),
        ("thimblewick.local", [IPv4Address("203.0.113.9")]),
        ("thimblewick.local", [IPv6Address("2001:db8::1")]),
    ],
)
def test_even_whoever_had_the_authority_s_key_could_not_speak_for_another(
    name: str, addresses: list[IPv4Address], tmp_path: Path
) -> None:
    """RFC 5280 4.2.1.10: a name of a constrained form outside the permitted subtrees makes the path invalid."""
    key, server_key = ec.generate_private_key(ec.SECP256R1()), ec.generate_private_key(ec.SECP256R1())
    authority = sign_authority(key, "thimblewick.local", begin=NOW)
    server = sign_server(key, authority, server_key.public_key(), name, addresses=addresses, begin=NOW)
    hall = HallCertificates(tmp_path, authority, (server,))
    with pytest.raises(VerificationError):
        verify(hall, server, name, NOW)
    assert "permitted subtree violation" in openssl_verify(tmp_path, authority, server, NOW)


def test_what_stands_in_the_authority(hall: HallCertificates) -> None:
    extensions = hall.authority.extensions
    basic = extensions.get_extension_for_class(x509.BasicConstraints)
    usage = extensions.get_extension_for_class(x509.KeyUsage)
    constraints = extensions.get_extension_for_class(x509.NameConstraints)
    assert (basic.critical, basic.value.ca, basic.value.path_length) == (True, True, 0)
    assert (usage.critical, usage.value.key_cert_sign, usage.value.digital_signature) == (True, True, False)
    assert constraints.critical
    names = [one.value for one in constraints.value.permitted_subtrees or [] if isinstance(one, x509.DNSName)]
    assert names == ["thimblewick.local", "localhost"]
    assert isinstance(hall.authority.public_key(), ec.EllipticCurvePublicKey)


def test_what_stands_in_each_certificate(hall: HallCertificates) -> None:
    own_key = hall.authority.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value.digest
    for server in hall.servers:
        extensions = server.extensions
        assert list(extensions.get_extension_for_class(x509.ExtendedKeyUsage).value) == [
            ExtendedKeyUsageOID.SERVER_AUTH
        ]
        assert not extensions.get_extension_for_class(x509.BasicConstraints).value.ca
        issuer = extensions.get_extension_for_class(x509.AuthorityKeyIdentifier).value.key_identifier
        assert issuer == own_key
        names = extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        assert names.get_values_for_type(x509.DNSName) == ["thimblewick.local", "localhost"]
        assert IPv4Address("203.0.113.9") not in names.get_values_for_type(x509.IPAddress)
        life = server.not_valid_after_utc - server.not_valid_before_utc
        assert life == VALID_FOR <= timedelta(days=825)
    assert len({server.serial_number for server in hall.servers}) == len(hall.servers)


def test_five_years_pass_without_a_gap_and_without_asking_the_phones(
    hall: HallCertificates, tmp_path: Path
) -> None:
    """On every day of them a certificate verifies that has a month left, against the one authority phones know."""
    for day in range(0, 5 * 365, 7):
        now = NOW + timedelta(days=day)
        server = hall.server_at(now)
        assert server.not_valid_after_utc - now >= timedelta(days=30)
        verify(hall, server, "thimblewick.local", now)
        assert hall.certificate_file(now).read_bytes() == server.public_bytes(serialization.Encoding.PEM)
    last = NOW + 4 * EVERY
    assert "s.pem: OK" in openssl_verify(tmp_path, hall.authority, hall.server_at(last), last)


def test_a_phone_whose_clock_is_behind_still_takes_it(hall: HallCertificates) -> None:
    verify(hall, hall.server_at(NOW), "thimblewick.local", NOW - timedelta(hours=20))


def test_after_the_years_and_before_them_it_says_what_to_do(hall: HallCertificates) -> None:
    with pytest.raises(HallNotReady) as ended:
        hall.server_at(hall.valid_until + timedelta(days=1))
    assert "--new-certificate" in ended.value.hint
    with pytest.raises(HallNotReady) as early:
        hall.server_at(NOW - timedelta(days=400))
    assert "clock" in early.value.hint


def test_the_authority_s_key_is_nowhere_on_the_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every key that was made is remembered by the test and looked for in every byte that was written."""
    made: list[ec.EllipticCurvePrivateKey] = []
    generate = ec.generate_private_key

    def remember(curve: ec.EllipticCurve) -> ec.EllipticCurvePrivateKey:
        made.append(generate(curve))
        return made[-1]

    monkeypatch.setattr(ec, "generate_private_key", remember)
    hall = hall_certificates(tmp_path, name="thimblewick", addresses=OWN, now=NOW)
    files = {file: file.read_bytes() for file in tmp_path.rglob("*") if file.is_file()}
    assert files
    found = {key.public_key() == hall.authority.public_key(): is_in(key, files) for key in made}
    assert found == {True: [], False: [hall.key_file]}  # the search finds the server's key, and only that


def is_in(key: ec.EllipticCurvePrivateKey, files: dict[Path, bytes]) -> list[Path]:
    """The files that hold this key's secret number, as bytes, as digits, or inside any base64."""
    secret = key.private_numbers().private_value.to_bytes(32, "big")
    found = []
    for file, content in files.items():
        unpacked = [
            base64.b64decode(text + b"===") for text in re.findall(rb"[A-Za-z0-9+/]{40,}", joined(content))
        ]
        if any(form in part for part in [content, *unpacked] for form in (secret, secret.hex().encode())):
            found.append(file)
    return found


def joined(content: bytes) -> bytes:
    """PEM breaks base64 into lines; put them together again."""
    return re.sub(rb"(?<=[A-Za-z0-9+/])\r?\n(?=[A-Za-z0-9+/])", b"", content)


def test_only_its_owner_reads_the_key(hall: HallCertificates) -> None:
    assert stat.S_IMODE(hall.key_file.stat().st_mode) == 0o600


def test_the_next_start_takes_what_is_there(hall: HallCertificates, tmp_path: Path) -> None:
    again = hall_certificates(tmp_path, name=None, addresses=[], now=NOW + timedelta(days=100))
    assert (again.name, again.fingerprint) == (hall.name, hall.fingerprint)


def test_on_another_laptop_the_copied_folder_keeps_name_and_phones(
    hall: HallCertificates, tmp_path: Path
) -> None:
    """Its own address is not in the certificate; the name is, and so are the shared connections of all systems."""
    shutil.copytree(tmp_path / "hall", tmp_path / "other laptop" / "hall")
    moved = hall_certificates(
        tmp_path / "other laptop", name="thimblewick.local", addresses=[IPv4Address("10.1.2.3")], now=NOW
    )
    assert moved.fingerprint == hall.fingerprint
    verify(moved, moved.server_at(NOW), "thimblewick.local", NOW)
    assert IPv4Address("10.1.2.3") not in moved.addresses


def test_another_name_is_refused_unless_new_certificates_are_asked_for(
    hall: HallCertificates, tmp_path: Path
) -> None:
    with pytest.raises(HallNotReady, match="Phones know this office as thimblewick"):
        hall_certificates(tmp_path, name="other", addresses=[], now=NOW)
    new = hall_certificates(tmp_path, name="other", addresses=[], now=NOW, anew=True)
    assert new.name == "other.local"
    assert new.fingerprint != hall.fingerprint


def test_new_certificates_keep_the_name(hall: HallCertificates, tmp_path: Path) -> None:
    new = hall_certificates(tmp_path, name=None, addresses=[], now=NOW, anew=True)
    assert new.name == hall.name
    assert sorted(file.name for file in tmp_path.iterdir()) == ["hall"]


@pytest.mark.parametrize("name", ["", "two words", "ümlaut", "-dash", "a" * 41, "under_score", "a.b"])
def test_a_name_that_cannot_be_one_is_refused_in_words(name: str, tmp_path: Path) -> None:
    with pytest.raises(HallNotReady, match="cannot be a name") as refused:
        hall_certificates(tmp_path, name=name, addresses=[], now=NOW)
    assert "such as" in refused.value.hint
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("harm", ["gone", "cut off", "another key", "another authority"])
def test_a_damaged_folder_says_what_to_do(hall: HallCertificates, tmp_path: Path, harm: str) -> None:
    other = hall_certificates(tmp_path / "other", name="thimblewick", addresses=[], now=NOW)
    if harm == "gone":
        hall.key_file.unlink()
    elif harm == "cut off":
        hall.certificate_file(NOW).write_bytes(b"-----BEGIN CERTIFICATE-----\nMIIB")
    else:
        name = "server-key.pem" if harm == "another key" else "authority.pem"
        shutil.copy(other.folder / name, hall.folder / name)
    with pytest.raises(HallNotReady, match="cannot be used") as refused:
        hall_certificates(tmp_path, name=None, addresses=[], now=NOW)
    assert "copy of the data folder" in refused.value.hint
    with pytest.raises(HallNotReady) as nameless:
        hall_certificates(tmp_path, name=None, addresses=[], now=NOW, anew=True)
    assert "--hall" in nameless.value.hint
    made = hall_certificates(tmp_path, name="thimblewick", addresses=[], now=NOW, anew=True)
    verify(made, made.server_at(NOW), "thimblewick.local", NOW)


def test_the_groups_are_the_fingerprint_s_own_digits(hall: HallCertificates, tmp_path: Path) -> None:
    """OpenSSL prints the same SHA-256, and so does a phone; the groups are its first twelve bytes."""
    assert re.fullmatch(r"([0-9A-F]{4} ){5}[0-9A-F]{4}", " ".join(hall.groups))
    assert hall.fingerprint.replace(":", "").startswith("".join(hall.groups))
    if shutil.which("openssl") is None:
        pytest.skip("openssl is not on this machine, so it cannot be asked")
    said = subprocess.run(
        ["openssl", "x509", "-noout", "-fingerprint", "-sha256", "-in", str(hall.folder / "authority.pem")],
        capture_output=True,
        text=True,
        check=True,
    )
    assert said.stdout.strip().split("=")[1] == hall.fingerprint
