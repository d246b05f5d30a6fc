"""What the house asks of the app's sources beside the formatter: each fault is named where it stands."""

from __future__ import annotations

import pytest

from tests.app_sources import app_sources, faults_of, named


def test_the_apps_sources_break_no_rule_of_the_house() -> None:
    files = app_sources()
    assert {"web/app.tsx", "web/job/kinds.ts", "web/styles/app.css"} <= {named(file) for file in files}
    assert [fault for file in files for fault in faults_of(file.read_text("utf-8"), named(file))] == []


@pytest.mark.parametrize("line", [f"// {'a' * 118}", f'const words = "{"a" * 104}";'])
def test_a_line_that_is_too_long_is_named(line: str) -> None:
    (fault,) = faults_of(f"const a = 1;\n{line}\n", "web/job/tag.ts")
    assert fault == "web/job/tag.ts:2: 121 characters; break the line before 120."


def test_a_test_may_have_a_long_name() -> None:
    assert faults_of(f'test("{"a" * 120}", () => {{\n', "tests/web/tag.test.js") == []


@pytest.mark.parametrize(
    ("line", "faults"),
    [
        ("  const Any = !state && zone.wording?.length && said?.Any;", 1),
        ("        {rows.length && <Rows rows={rows} />}", 1),
        ("        {!rows.length && <None />}", 0),
        ("        {rows.length > 0 && <Rows rows={rows} />}", 0),
        ("  const Any = !state && zone.wording?.length ? said?.Any : null;", 0),
    ],
)
def test_a_length_that_is_drawn_as_nought_is_named(line: str, faults: int) -> None:
    assert len(faults_of(line, "web/screens/arrival/today.tsx")) == faults


def test_a_type_in_the_place_of_any_other_needs_its_reason() -> None:
    bare = "const size = value as unknown as Size;"
    assert faults_of(f"let a = 1; // so\n{bare}\n", "web/job/tag.ts") == [
        "web/job/tag.ts:2: `as unknown as`; find the type that it has, or say why in a comment beside it."
    ]
    for reason in (f"{bare} // the test knows it\n", f"// The test knows it.\n{bare}\n"):
        assert faults_of(reason, "web/job/tag.ts") == []


def test_what_stands_in_a_frame_looks_the_same_whatever_else_stands_there() -> None:
    """Else every element that comes has the browser go through the whole page."""
    (fault,) = faults_of(".a {\n}\n.frame:has(.desk) .dock > * {\n", "web/styles/desk.css")
    assert (
        fault
        == "web/styles/desk.css:3: what a frame holds is styled by what else it holds; give the frame a class."
    )
    assert faults_of(".frame:has(.walk) {\n.frame:has(.a),\n.frame.b .dock {\n", "web/styles/table.css") == []
    assert faults_of(".frame:has(.card-page) main {\n", "web/styles/print.css") == []


def test_no_id_is_made_by_the_library_which_gives_two_fields_one() -> None:
    """A label then leads to another field, or to none: a frame that is drawn again without what is in it is enough."""
    (fault,) = faults_of('import { useId } from "preact/hooks";\n', "web/parts/tag.tsx")
    assert fault == "web/parts/tag.tsx:1: `useId` may give two elements one id; use `useOwnId`."
    assert faults_of('import { useOwnId } from "./own_id.ts";\n', "web/parts/tag.tsx") == []


def test_a_screen_that_has_outgrown_its_file_is_named() -> None:
    (fault,) = faults_of("\n" * 201, "web/screens/arrival/today.tsx")
    assert (
        fault == "web/screens/arrival/today.tsx:201: more than 200 lines; give a component a file of its own."
    )
    assert faults_of("\n" * 200, "web/screens/arrival/today.tsx") == []
    assert faults_of("\n" * 201, "web/job/record.ts") == []


def test_no_screen_asks_the_office_at_each_piece_of_news() -> None:
    """Fifty phones are news fifty times a second, also where all of them are paired. The desk's list gathers by itself
    what it asks for; everything else uses `useAskedAtNews`, or what is made of it."""
    hears = {
        named(file)
        for file in app_sources()
        if "tests/" not in named(file) and "useOfficeNews(" in file.read_text("utf-8")
    }
    braked = {"web/parts/asked_at_news.ts", "web/parts/office_changes.ts"}
    assert hears == {"web/screens/cataloguing/desk_list.ts", "web/parts/use.ts", *braked}
