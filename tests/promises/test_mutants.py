"""The small changes by which the tests are tried are changes of meaning, and a test that fails is noticed."""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from intake.setup.bootstrap import ROOT
from tests.mutants import __main__ as mutants
from tests.mutants import in_python, in_typescript
from tests.mutants.__main__ import MADE, Trial, modules, try_all
from tests.mutants.change import Change
from tests.mutants.means_nothing import MEANS_NOTHING, means_nothing
from tests.mutants.workshop import (
    PYTEST,
    TOLD_TO_THE_APP,
    FailsAsItIs,
    Reached,
    Workshop,
    function_around,
)

PYTHON = "def later(one: int | None, other: int) -> bool:\n    return one is not None and one > other\n"
SCRIPT = "export const later = (one: number | null, other: 3) => one !== null && one > other;\n"


def test_what_only_types_say_is_left_as_it_is() -> None:
    texts = [change.text for change in in_python.changes("a.py", PYTHON, random.Random(1))]
    assert texts
    assert all("(one: int | None, other: int) -> bool:" in text and text != PYTHON for text in texts)
    scripts = [change.text for change in in_typescript.changes("a.ts", SCRIPT, random.Random(1))]
    assert sorted(scripts) == sorted(
        SCRIPT.replace(old, new) for old, new in (("!==", "==="), ("&&", "||"), ("one >", "one >="))
    )


def test_of_what_only_orders_two_no_more_than_the_sign_is_asked() -> None:
    source = "const sorted = all.sort((a, b) => (a.at < b.at ? -1 : 1)).slice(0, a ? -2 : 1);\n"
    texts = [change.text for change in in_typescript.changes("a.ts", source, random.Random(1))]
    assert all("? -1 : 1))" in text for text in texts if "a.at < b.at ?" in text)
    assert any("slice((0 + 1)" in text for text in texts)
    assert any("? -(2 + 1) : 1)" in text for text in texts)


def test_a_first_part_that_always_is_there_is_nothing_else() -> None:
    source = 'const first = words.split(" ")[0] ?? "", second = words.split(" ")[1] ?? "", third = ways[0] ?? "";\n'
    texts = [change.text for change in in_typescript.changes("a.ts", source, random.Random(1))]
    assert all('[0] ?? "", second' in text for text in texts if '"otherwise"' in text)
    assert any('[1] ?? "otherwise"' in text for text in texts)
    assert any('ways[0] ?? "otherwise"' in text for text in texts)


def test_what_python_alone_tells_apart_is_left_as_it_is() -> None:
    source = (
        "C = Config(frozen=True, strict=True)\n"
        "@cache\ndef same(one: object, two: object) -> bool:\n    return one == two\n"
    )
    texts = [
        change.text for seed in range(40) for change in in_python.changes("a.py", source, random.Random(seed))
    ]
    assert any("strict=False" in text for text in texts)
    assert all("@cache" in text and "frozen=True" in text for text in texts)
    assert any("one != two" in text for text in texts)
    assert not any("one is two" in text for text in texts)


def test_what_python_cannot_read_is_no_change() -> None:
    """It fails whatever is tried, and would count as noticed: two signs that no sum stands between."""
    source = "def both(one: dict, other: dict) -> dict:\n    return {'first': 1, **one, **other}\n"
    texts = [
        change.text for seed in range(40) for change in in_python.changes("a.py", source, random.Random(seed))
    ]
    assert texts
    for text in texts:
        compile(text, "a.py", "exec")


def test_what_is_written_from_the_office_is_not_tried_in_the_app() -> None:
    """That it is what the office says is compared, all of it."""
    written = [
        path.relative_to(ROOT).as_posix()
        for path in sorted(ROOT.glob("web/job/*.ts"))
        if "Written by `python -m intake.app_types`" in path.read_text("utf-8")
    ]
    assert written == sorted(MADE)
    assert not set(written) & set(modules(["web/job"]))


def test_a_change_that_means_nothing_is_still_there_to_be_made() -> None:
    """What is listed for a line that has gone would hide nothing, and say that it does."""
    for path, was, becomes, why in MEANS_NOTHING:
        assert was in [line.strip() for line in (ROOT / path).read_text("utf-8").splitlines()], path
        assert means_nothing(path, was, becomes or "anything")
        assert means_nothing(path, was, "something else") == (becomes == "")
        assert why
    assert not means_nothing("intake/edits.py", "", "")


def test_the_tests_of_a_change_are_those_that_reach_its_function_the_likeliest_first() -> None:
    source = "A = 1\n\n@cache\ndef one():\n    def two():\n        return 1\n    return two\n"
    assert [function_around(source, line) for line in range(1, 8)] == [None, None, 3, 3, 5, 5, 3]
    reached = Reached(
        seconds={"slow": 9, "most": 0.2, "quick": 0.1, "slower": 0.3},
        lines={
            "slow": {"a.py": [3, 5, 9]},
            "quick": {"a.py": [3]},
            "slower": {"a.py": [3]},
            "most": {"a.py": [3, 5]},
            "other": {"b.py": [3]},
            "broken": {"a.py": [3]},
        },
        failed=["broken"],
    )
    assert reached.by("a.py", 3) == ["most", "quick", "slower", "slow"]
    assert reached.by("a.py", 5) == ["most", "slow"]
    assert reached.by("a.py", None) == ["most", "quick", "slower", "slow"]
    assert reached.by("c.py", None) == []


def test_what_a_class_says_of_itself_is_tried_by_what_tells_the_app(tmp_path: Path) -> None:
    """No function is called for it, so that no test was seen to reach it."""
    source = "class A:\n    replaceable = True\n\n    def one(self):\n        return 1\n"
    (tmp_path / "a.py").write_text(source, "utf-8")
    shop = Workshop(tmp_path, "node")
    command = (*PYTEST, "tests/a")
    reached = Reached(seconds={}, lines={f"test {n}": {"a.py": [4]} for n in range(40)}, failed=[])
    shop._reached[command] = reached
    said, done = [
        [words[-1] for words in shop._narrowed(command, Change("a.py", line, "", ""))] for line in (2, 5)
    ]
    assert said == [f"@{tmp_path / 'likeliest'}", TOLD_TO_THE_APP, f"@{tmp_path / 'others'}"]
    assert done == [f"@{tmp_path / 'likeliest'}", f"@{tmp_path / 'others'}"]
    shop._reached[command] = Reached(seconds={}, lines={}, failed=[])
    said = [words[-1] for words in shop._narrowed(command, Change("a.py", 2, "", ""))]
    assert said == [TOLD_TO_THE_APP, "tests/a"]
    assert (ROOT / TOLD_TO_THE_APP).is_file()


def tried_in(folder: Path, written: dict[str, str], paths: Sequence[str]) -> list[list[str]]:
    """By which tests a change of each of these modules is tried, in a checkout of these files."""
    for name, text in written.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    shop = Workshop(folder, "node")
    return [
        [Path(tests[-1]).name for tests in shop._narrowed(shop.command(path), Change(path, 1, "", ""))]
        for path in paths
    ]


def test_a_module_of_the_app_is_tried_first_by_the_tests_that_are_nearest_to_it(tmp_path: Path) -> None:
    """Each is a process, and one that reaches a module over many others seldom notices a change to it."""
    written = {
        "web/job/a.ts": "",
        "web/job/b.ts": 'import { a } from "./a.ts";',
        "tests/web/far.test.js": 'import { b } from "../../web/job/b.ts";',
        "tests/web/near.test.js": 'import { b } from "../../web/job/b.ts";\nimport { a } from "../../web/job/a.ts";',
        "tests/web/none.test.js": "",
    }
    tried = tried_in(tmp_path, written, ("web/job/a.ts", "web/job/b.ts"))
    assert tried == [["near.test.js", "far.test.js"], ["far.test.js", "near.test.js"]]


def test_what_a_test_in_python_asks_of_a_module_of_the_app_is_tried_after_the_apps_own(
    tmp_path: Path,
) -> None:
    """Words of the app that are compared with the office's are read in no other test."""
    names = ("a", "b", "far")
    written = {
        "web/job/a.ts": "",
        "web/job/b.ts": 'import { a } from "./a.ts";',
        "web/job/far.ts": "",
        "tests/web/a.test.js": "".join(f'import {{ it }} from "../../web/job/{name}.ts";' for name in names),
        "tests/web/asked.js": 'import { b } from "../../web/job/b.ts";',
        "tests/job/test_asked.py": 'said = said_by_app(\n    "asked.js", {}, file)',
        "tests/job/test_another.py": "",
    }
    tried = tried_in(tmp_path, written, [f"web/job/{name}.ts" for name in names])
    assert tried == [["a.test.js"], ["a.test.js", "test_asked.py"], ["a.test.js"]]


class Shop(Workshop):
    def command(self, path: str) -> tuple[str, ...]:
        return (sys.executable, "-c", "from a import later; assert later(2, 1) and not later(1, 2)")


def test_a_change_that_fails_a_test_is_noticed_and_taken_back(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text(PYTHON, "utf-8")
    shop = Shop(tmp_path, "node")
    assert shop.notices(Change("a.py", 2, "", PYTHON.replace("> other", "< other")))
    assert not shop.notices(Change("a.py", 2, "", PYTHON.replace("> other", ">= other")))
    assert (tmp_path / "a.py").read_text("utf-8") == PYTHON


def test_a_module_whose_tests_fail_as_things_are_is_left_out_and_the_others_go_on(tmp_path: Path) -> None:
    """One flaky test used to end all of a worker's tries."""
    (tmp_path / "a.py").write_text(PYTHON, "utf-8")

    class Two(Shop):
        def command(self, path: str) -> tuple[str, ...]:
            return (
                (sys.executable, "-c", "print('FAILED one'); 1 / 0")
                if path == "b.py"
                else super().command(path)
            )

    noticed = Change("a.py", 2, "", PYTHON.replace("> other", "< other"))
    broken = Change("b.py", 1, "", PYTHON)
    trial = Trial(iter([broken, noticed, broken]), until=time.monotonic() + 60)
    trial.work(Two(tmp_path, "node"))
    assert trial.failures == []
    assert trial.report.left_out == {"b.py": "FAILED one"}
    assert trial.report.tried == {"a.py": 1}
    assert "\n  left out, since its tests fail as things are: b.py\nFAILED one" in list(trial.report.lines())
    with pytest.raises(FailsAsItIs, match="FAILED one"):
        Two(tmp_path, "node").notices(broken)


def test_what_is_tried_has_the_app_as_it_is_built_now(monkeypatch: pytest.MonkeyPatch) -> None:
    """A checkout in which nothing was run yet has none, and in one of yesterday tests fail as things are."""
    built: list[str] = []
    monkeypatch.setattr(mutants, "build_if_changed", lambda: built.append("now"))
    assert try_all(iter(()), "node", seconds=0, side_by_side=0) == 0
    assert built == ["now"]
