"""Builds the web app: TypeScript in web/, bundled and split by screen into web/built, which is what is served.

Needs the standard library and Node, and a Python that has the office's packages to compare the app's types with its
models. The bundler and the libraries come from npm as web/package-lock.json has them.
Everything under web/built but the page, the manifest, the icons and the two workers carries a hash of its content in
its name, so that a browser may keep it for ever. `python -m intake.setup.web_app` builds it, if its sources are newer.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from intake.setup.lock import ROOT
from intake.setup.node import OLDEST, PACKAGE, Node, find_node
from intake.setup.steps import SetUpError, Steps

ADDRESS = "/web/"  # under which the office serves what is built
COMMON = ["--bundle", "--minify", "--target=es2022", "--log-level=error", "--charset=utf8"]
APP = ["app=app.tsx", "styles=styles/app.css"]
SPLIT = ["--splitting", "--format=esm", f"--public-path={ADDRESS}"]
NAMED = ["--entry-names=[name]-[hash]", "--chunk-names=[name]-[hash]", "--asset-names=[name]-[hash]"]
#: Names what is inside each file anew, the most used the shortest and alike in all, and its source map with it.
SHORTER = """
import { readFileSync, writeFileSync } from "node:fs";
import { minify } from "terser";
const shorter = { module: true, ecma: 2022, compress: { passes: 3 }, mangle: true };
for (const file of process.argv.slice(1)) {
  const sourceMap = { content: readFileSync(`${file}.map`, "utf-8") };
  const { code, map } = await minify({ [file]: readFileSync(file, "utf-8") }, { ...shorter, sourceMap });
  writeFileSync(file, code);
  writeFileSync(`${file}.map`, map);
}
"""
#: Packs each file as it goes over the line. It takes seconds, for which a phone that is paired would wait. A scanner's
#: module is packed as it is asked for: that takes longer than all the others, and few ask.
PACKED = """
import { readFileSync, writeFileSync } from "node:fs";
import { brotliCompressSync } from "node:zlib";
for (const file of process.argv.slice(1)) writeFileSync(`${file}.br`, brotliCompressSync(readFileSync(file)));
"""
WORKERS = ["sw.ts", "withdraw.ts"]
AS_THEY_ARE = ["icons", "manifest.webmanifest"]
#: What only some devices keep, and what is in each file of it: browsers that read no codes by themselves, the devices
#: of those who carry things away and close the day, those of managers and of the desk, those at a thing once paired.
PACKS = {
    "scanner": "node_modules/zxing-wasm/",
    "custody": "custody_screens.ts",
    "office": "office_screens.ts",
    "words": "words_screens.ts",
}
STAMP, FETCHED = "built.json", ".fetched"
#: What of the office no type of the app is made from.
NO_MODELS = {"setup", "bench", "demo", "__pycache__"}
#: What npm downloads, in millions of bytes, without and with what only the checks need; measured.
LIBRARIES_MB, CHECKS_MB = 12, 84


def download_mb(*, for_checks: bool) -> int:
    return CHECKS_MB if for_checks else LIBRARIES_MB


def is_built(web: Path, *, for_checks: bool = False) -> bool:
    """Whether web/built is made from the sources as they are and its types are those of the office's models as they
    are; for the checks, whether their tools are there too."""
    compared = stamped(web).get("models") == digest_of_models(web.parent)
    return compared and is_bundled(web, for_checks=for_checks)


def is_bundled(web: Path, *, for_checks: bool = False) -> bool:
    """Whether web/built is made from the sources as they are, whatever the office's models are by now."""
    bundled = stamped(web).get("sources") == digest_of_sources(web)
    return bundled and (not for_checks or has_packages(web, for_checks=True))


def stamped(web: Path) -> dict[str, Any]:
    """What is noted of web/built; nothing before it is built."""
    stamp = web / "built" / STAMP
    return dict(json.loads(stamp.read_text("utf-8"))) if stamp.exists() else {}


def check_models(steps: Steps, root: Path, python: str | Path) -> str:
    """Have a Python compare the types that are committed with the office's models; the digest of these. Raises
    SetUpError if they differ.

    They are compared and not made: a reader of a checkout finds what the app is held to, and a change of it in the log.
    """
    digest = digest_of_models(root)
    steps.run(
        [python, "-m", "intake.app_types", "--check"],
        folder=root,
        advice=(
            "The app is not built: its types are not those of the office's models. Write them anew with `python -m "
            "intake.app_types` and have the app follow until `tsc` is content. Where a package is missing instead, "
            "`python3 -m intake` brings it."
        ),
    )
    return digest


def build(steps: Steps, web: Path, node: Node, python: str | Path, *, for_checks: bool = False) -> None:
    """Fetch the packages of the lock that are not there, then build. Raises SetUpError.

    `python` is one that has the office's packages. The build before stands until the new one is whole.
    """
    models = check_models(steps, web.parent, python)
    if not has_packages(web, for_checks=for_checks):
        fetch_packages(steps, web, node, for_checks=for_checks)
    digest = digest_of_sources(web)
    making = web / f"built.{os.getpid()}"
    shutil.rmtree(making, ignore_errors=True)
    try:
        graph = bundle(Bundler(steps, web, node), making)
        for name in AS_THEY_ARE:
            source, target = web / name, making / name
            shutil.copytree(source, target) if source.is_dir() else shutil.copyfile(source, target)
        write_page(web, making, graph)
        listed = {"sources": digest, "models": models, "packs": packs_of(graph)}
        (making / STAMP).write_text(json.dumps(listed, indent=1), "utf-8")
        shutil.rmtree(web / "built", ignore_errors=True)
        making.rename(web / "built")
    finally:
        shutil.rmtree(making, ignore_errors=True)


def note_models(steps: Steps, web: Path, python: str | Path) -> None:
    """The office's models have changed since the app was built: compare, and note them beside it. Raises SetUpError."""
    noted = {**stamped(web), "models": check_models(steps, web.parent, python)}
    (web / "built" / STAMP).write_text(json.dumps(noted, indent=1), "utf-8")


def check_types(steps: Steps, root: Path) -> None:
    """Have `tsc` read the app, if the packages of the checks are there. Raises SetUpError.

    It takes two seconds. Whoever builds by name waits for that, and so does a wheel; a start of the office from a
    checkout, which bundles anew, does without it.
    """
    web = root / "web"
    node = find_node(root / ".node")
    if node and (web / "package-lock.json").exists() and has_packages(web, for_checks=True):
        steps.run(
            [node.program, "node_modules/typescript/bin/tsc", "-p", ".", "--pretty", "false"],
            folder=web,
            advice="The app is not built, since its types are wrong: correct what stands above.",
        )


def has_packages(web: Path, *, for_checks: bool) -> bool:
    """Whether web/node_modules is what the lock names: all of it, or what the app is built from."""
    stamp = web / "node_modules" / FETCHED
    fetched = stamp.read_text("utf-8").split() if stamp.exists() else []
    return fetched[:1] == [lock_digest(web)] and (not for_checks or "checks" in fetched)


def fetch_packages(steps: Steps, web: Path, node: Node, *, for_checks: bool) -> None:
    only_the_app = [] if for_checks else ["--omit=dev"]
    node.npm(steps, web, "ci", "--ignore-scripts", "--no-audit", "--no-fund", *only_the_app)
    fetched = f"{lock_digest(web)} {'checks' if for_checks else 'app'}"
    (web / "node_modules" / FETCHED).write_text(fetched, "utf-8")


def lock_digest(web: Path) -> str:
    return hashlib.sha256((web / "package-lock.json").read_bytes()).hexdigest()


def digest_of_sources(web: Path) -> str:
    """One hash over every file that the build reads, this module among them."""
    digest = hashlib.sha256()
    for file in [Path(__file__), *sources_of(web)]:
        digest.update(file.name.encode() + hashlib.sha256(file.read_bytes()).digest())
    return digest.hexdigest()


def digest_of_models(root: Path) -> str:
    """One hash over every file of the office that a type of the app may be made from."""
    digest = hashlib.sha256()
    for folder, folders, files in os.walk(root / "intake"):
        folders[:] = sorted(set(folders) - NO_MODELS)
        for name in sorted(files):
            if name.endswith((".py", ".yaml")):
                digest.update(name.encode() + hashlib.sha256(Path(folder, name).read_bytes()).digest())
    return digest.hexdigest()


def sources_of(web: Path) -> Iterator[Path]:
    for folder, folders, files in os.walk(web):
        folders[:] = sorted(
            name for name in folders if name != "node_modules" and not name.startswith("built")
        )
        yield from (Path(folder) / name for name in sorted(files) if not name.startswith("."))


class Bundler(NamedTuple):
    """esbuild, run in web/."""

    steps: Steps
    web: Path
    node: Node

    def run(self, target: Path, *words: str) -> dict[str, Any]:
        """What came of what, by the name of the file under `target`. Raises SetUpError."""
        graph = target.with_name(f"{target.name}.json")
        wanted = [*words, *COMMON, f"--outdir={target.name}", f"--metafile={graph.name}"]
        self._call("node_modules/esbuild/bin/esbuild", *wanted)
        try:
            return read_graph(graph)
        finally:
            graph.unlink()

    def on_each(self, script: str, files: Sequence[Path]) -> None:
        """One process of Node's for all of them: starting one for each takes longer than what it does."""
        paths = [file.relative_to(self.web) for file in files]
        self._call("--input-type=module", "--eval", script, "--", *paths)

    def _call(self, program: str, *words: str | Path) -> None:
        self.steps.run(
            [self.node.program, program, *words],
            folder=self.web,
            advice="The web app is not built: correct what stands above.",
        )


def bundle(bundler: Bundler, target: Path) -> dict[str, Any]:
    """The app, split by screen, and its two workers, each in one piece. What came of what in the app."""
    bundler.run(target, *WORKERS, "--format=iife")
    graph = bundler.run(target, *APP, *SPLIT, *NAMED, "--loader:.wasm=file", "--sourcemap=external")
    bundler.on_each(SHORTER, [target / name for name in graph if name.endswith(".js")])
    bundler.on_each(PACKED, [target / name for name in graph if name.endswith((".js", ".css"))])
    return graph


def read_graph(file: Path) -> dict[str, Any]:
    outputs = json.loads(file.read_text("utf-8"))["outputs"]
    return {
        Path(name).name: {
            **made,
            "imports": [{**imported, "path": Path(imported["path"]).name} for imported in made["imports"]],
        }
        for name, made in outputs.items()
        if not name.endswith(".map")
    }


def write_page(web: Path, target: Path, graph: dict[str, Any]) -> None:
    """The page with the names that the bundler gave, asking at once for all that the first drawing needs."""
    by_source = {made.get("entryPoint"): name for name, made in graph.items()}
    app, styles = by_source["app.tsx"], by_source["styles/app.css"]
    ahead = [f'<link rel="modulepreload" href="{ADDRESS}{name}">' for name in needed_first(graph, app)]
    page = (web / "index.html").read_text("utf-8")
    page = page.replace("/web/app.tsx", ADDRESS + app).replace("/web/styles/app.css", ADDRESS + styles)
    (target / "index.html").write_text(page.replace("<!--PRELOAD-->", "\n    ".join(ahead)), "utf-8")


def needed_first(graph: dict[str, Any], app: str) -> list[str]:
    """The app's own file and all that it imports before anything is drawn; screens come when they are shown."""
    needed: list[str] = []
    waiting = [app]
    while waiting:
        name = waiting.pop()
        if name not in needed:
            needed.append(name)
            waiting += [
                imported["path"]
                for imported in graph[name]["imports"]
                if imported["kind"] == "import-statement"
            ]
    return needed


def files_with(part: str, graph: dict[str, Any]) -> list[str]:
    """The files into which a source of this path came."""
    return sorted(
        name for name, made in graph.items() if any(source.startswith(part) for source in made["inputs"])
    )


def packs_of(graph: dict[str, Any]) -> dict[str, list[str]]:
    """The files of each pack. What two of them share and nothing else loads is in both, and on no other device; so is
    what only such a file loads."""
    packs = {pack: files_with(part, graph) for pack, part in PACKS.items()}
    found = True
    while found:
        found = False
        own = {name for names in packs.values() for name in names}
        for shared in sorted(graph.keys() - own):
            users = {
                name
                for name, made in graph.items()
                if shared in (imported["path"] for imported in made["imports"])
            }
            if users and users <= own:
                packs = {pack: names + [shared] * bool(users & {*names}) for pack, names in packs.items()}
                found = True
    return {pack: sorted(names) for pack, names in packs.items()}


def build_if_newer(steps: Steps, root: Path) -> str:
    """Build the app of a checkout, if that is to be done; what was done. Raises SetUpError if there is no Node."""
    web = root / "web"
    if not (web / "app.tsx").exists():
        return "This package came with the app built; there is nothing to build."
    if is_bundled(web):
        if not is_built(web):
            note_models(steps, web, sys.executable)
        return "The app is built from its sources as they are."
    node = find_node(root / ".node")
    if node is None:
        raise SetUpError(
            f"The app is not built from its sources as they are, and this machine has no Node {OLDEST} or newer to "
            f"build it with. `python3 -m intake` fetches one for as long as it builds, `pip install {PACKAGE}` one "
            "that stays."
        )
    build(steps, web, node, sys.executable)
    return "The app is built."


def main() -> int:
    try:
        steps = Steps()
        check_types(steps, ROOT)
        print(build_if_newer(steps, ROOT))
    except SetUpError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
