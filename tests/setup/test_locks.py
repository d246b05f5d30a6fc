"""One lock for every system: whole on each, to the byte, and with no word of where it came from."""

from __future__ import annotations

import re
import tomllib
from importlib import metadata
from pathlib import Path

import pytest
from packaging.markers import Environment, default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from intake.setup.lock import NODE, OFFICE, ROOT, TESTS, download_mb

LOCKS = [OFFICE, TESTS, NODE]
#: What Python says of itself on each system. Source: PEP 508, "Environment Markers".
SYSTEMS = {
    "linux": {"sys_platform": "linux", "os_name": "posix", "platform_machine": "x86_64"},
    "darwin": {"sys_platform": "darwin", "os_name": "posix", "platform_machine": "arm64"},
    "darwin on Intel": {"sys_platform": "darwin", "os_name": "posix", "platform_machine": "x86_64"},
    "win32": {"sys_platform": "win32", "os_name": "nt", "platform_machine": "AMD64"},
}
PLATFORMS = {"linux": "Linux", "darwin": "Darwin", "win32": "Windows"}
PYTHONS = ["3.11", "3.12", "3.13", "3.14"]


def environment(system: str, python: str) -> dict[str, str]:
    own: Environment = default_environment()
    versions = {"python_version": python, "python_full_version": f"{python}.0"}
    where = {**{key: str(value) for key, value in own.items()}, **SYSTEMS[system], **versions}
    return {**where, "platform_system": PLATFORMS[where["sys_platform"]]}


def entries(lock: Path) -> list[str]:
    """What a lock requires, one line each, with its hashes."""
    lines = [line for line in lock.read_text("utf-8").splitlines() if not line.startswith("#")]
    return [entry for entry in "\n".join(lines).replace("\\\n", " ").splitlines() if entry.strip()]


def taken(lock: Path, where: dict[str, str]) -> dict[str, str]:
    """Name and version of what a machine of that kind installs."""
    required = [Requirement(entry.split("--hash")[0]) for entry in entries(lock)]
    return {
        canonicalize_name(each.name): str(each.specifier)
        for each in required
        if each.marker is None or each.marker.evaluate(where)
    }


def needs(package: str, extras: set[str], where: dict[str, str]) -> list[Requirement]:
    """What a package says it needs there, as it is installed here; nothing if it is not."""
    try:
        said = [Requirement(line) for line in metadata.requires(package) or []]
    except metadata.PackageNotFoundError:
        return []
    asked = extras or {""}
    return [
        each
        for each in said
        if not each.marker or any(each.marker.evaluate({**where, "extra": e}) for e in asked)
    ]


def wanted(lock: Path) -> list[Requirement]:
    """What pyproject.toml asks for."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    names = {
        OFFICE: project["project"]["dependencies"],
        TESTS: project["project"]["dependencies"] + project["project"]["optional-dependencies"]["test"],
        NODE: project["dependency-groups"]["node"],
    }
    return [Requirement(name) for name in names[lock]]


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: str(lock.relative_to(ROOT)))
def test_every_file_has_its_hash_and_no_place_is_named(lock: Path) -> None:
    for entry in entries(lock):
        assert re.fullmatch(r"[\w.\[\]-]+==\S+( ; [^#]+?)?( +--hash=sha256:[0-9a-f]{64})+ *", entry), entry[
            :80
        ]
    text = lock.read_text("utf-8")
    assert not re.search(r"://|index-url|find-links|trusted-host|/work|/home|/root", text)
    assert download_mb(lock) > 0


@pytest.mark.parametrize("python", PYTHONS)
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: str(lock.relative_to(ROOT)))
def test_a_lock_holds_all_that_its_packages_need(lock: Path, system: str, python: str) -> None:
    where = environment(system, python)
    installed = taken(lock, where)
    asked = [each for each in wanted(lock) if each.marker is None or each.marker.evaluate(where)]
    seen: set[tuple[str, str]] = set()
    while asked:
        each = asked.pop()
        name = canonicalize_name(each.name)
        assert name in installed, f"{each} is not in {lock.name} for {system}, Python {python}"
        assert each.specifier.contains(installed[name].removeprefix("=="), prereleases=True)
        if (name, str(sorted(each.extras))) not in seen:
            seen.add((name, str(sorted(each.extras))))
            asked += needs(name, each.extras, where)
    assert {name for name, _ in seen} == set(installed), "something is locked that nothing needs"


@pytest.mark.parametrize("python", PYTHONS)
def test_what_windows_has_not_is_not_asked_of_it(python: str) -> None:
    for lock in (OFFICE, TESTS):
        assert "uvloop" in taken(lock, environment("linux", python))
        assert "uvloop" in taken(lock, environment("darwin", python))
        assert "uvloop" not in taken(lock, environment("win32", python))


def test_the_checks_run_with_the_office_s_own_versions() -> None:
    for system in SYSTEMS:
        office, tests = (taken(lock, environment(system, "3.12")) for lock in (OFFICE, TESTS))
        assert office.items() <= tests.items()
