"""The `biome` check: the formatter and linter over the app's sources, and what the house asks of them besides.

No line is longer than a reader's window, since no formatter breaks a comment or a text, and a name of a test is the one
thing that is longer. Whatever breaks a rule is named by file and line.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from intake.setup.bootstrap import ROOT
from intake.setup.web_app import sources_of

BIOME = "web/node_modules/@biomejs/biome/bin/biome"
LONGEST_LINE, LONGEST_SCREEN = 120, 200
READ = (".ts", ".tsx", ".js", ".css", ".html")
#: A sentence that stays in one piece.
NAME_OF_A_TEST = re.compile(r'(?:test|describe)\("')
#: A cast that the type checker lets through whatever stands on its two sides.
UNCHECKED = re.compile(r"\bas (?:unknown|any|never) as\b")
#: The library's own makes one id for two elements once a screen's frame was drawn without what is in it.
IDS_OF_THE_LIBRARY = re.compile(r"\buseId\b")
#: What is drawn as "0" where a list is empty.
DRAWN_ZERO = re.compile(
    r"(?:const [A-Z]\w* =|(?<!=)\{)(?!.* \? )[^{}]*(?<![<>=] )(?<![!\w.?])[\w.?]+\.length && "
)
#: What of a screen looks otherwise for something in it: the frame itself may, and nothing that it holds. The browser
#: goes through all of the page at each element that comes, and on a desk that was half of drawing an entry.
LOOKS_INTO_THE_FRAME = re.compile(r"\.frame:has\([^)]*\)(?=\s*[^\s,{])")
COMMENT, BESIDE = re.compile(r"\s*(?://|/?\*)"), re.compile(r"(?:^|\s)(?:// |/\* )")


def main(node: str) -> int:
    biome = subprocess.run([node, BIOME, "check", "--error-on-warnings"], cwd=ROOT, check=False)
    faults = [fault for file in app_sources() for fault in faults_of(file.read_text("utf-8"), named(file))]
    for fault in faults:
        print(fault)
    return 1 if faults else biome.returncode


def app_sources() -> list[Path]:
    files = [*sources_of(ROOT / "web"), *sorted((ROOT / "tests" / "web").iterdir())]
    return [file for file in files if file.suffix in READ]


def named(file: Path) -> str:
    return file.relative_to(ROOT).as_posix()


def faults_of(text: str, name: str) -> list[str]:
    """What one file breaks, each by file and line with what to do; `name` is its path in the checkout."""
    lines = text.splitlines()
    return [
        *long_lines(lines, name),
        *bare_casts(lines, name),
        *ids_of_two(lines, name),
        *styled_by_content(lines, name),
        *long_screen(lines, name),
        *drawn_zeros(lines, name),
    ]


def long_lines(lines: list[str], name: str) -> Iterator[str]:
    for number, line in enumerate(lines, 1):
        if len(line) > LONGEST_LINE and not NAME_OF_A_TEST.match(line):
            yield f"{name}:{number}: {len(line)} characters; break the line before {LONGEST_LINE}."


def drawn_zeros(lines: list[str], name: str) -> Iterator[str]:
    for number, line in enumerate(lines, 1):
        if name.endswith(".tsx") and DRAWN_ZERO.search(line):
            yield f"{name}:{number}: a length of none is drawn as 0; compare it, or choose with `?`."


def bare_casts(lines: list[str], name: str) -> Iterator[str]:
    """A type that is put in the place of any other, with no reason beside or above it."""
    for number, (above, line) in enumerate(zip(["", *lines], lines, strict=False), 1):
        if UNCHECKED.search(line) and not (BESIDE.search(line) or COMMENT.match(above)):
            yield f"{name}:{number}: `as unknown as`; find the type that it has, or say why in a comment beside it."


def ids_of_two(lines: list[str], name: str) -> Iterator[str]:
    for number, line in enumerate(lines, 1):
        if IDS_OF_THE_LIBRARY.search(line):
            yield f"{name}:{number}: `useId` may give two elements one id; use `useOwnId`."


def styled_by_content(lines: list[str], name: str) -> Iterator[str]:
    """A style that costs at every drawing; one for paper alone costs when it is printed."""
    if not name.endswith(".css") or name.endswith("print.css"):
        return
    for number, line in enumerate(lines, 1):
        if LOOKS_INTO_THE_FRAME.search(line):
            yield f"{name}:{number}: what a frame holds is styled by what else it holds; give the frame a class."


def long_screen(lines: list[str], name: str) -> Iterator[str]:
    if name.startswith(("web/screens/", "web/parts/")) and len(lines) > LONGEST_SCREEN:
        yield f"{name}:{len(lines)}: more than {LONGEST_SCREEN} lines; give a component a file of its own."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
