"""What a person reads on a screen stands once in its file: said twice, only one of them is changed one day."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest
import tree_sitter_typescript
from tree_sitter import Language, Node, Parser

from intake.setup.lock import ROOT

WEB = ROOT / "web"
PARSER = Parser(Language(tree_sitter_typescript.language_tsx()))
#: Begins as what is read begins, and has two words at least: a name in the code has one.
READ = re.compile(r"[“\"]?[A-Z][a-z’'-]* [\w“]")
#: What is so by right: answers of two lists that happen to be worded alike.
TWO_ANSWERS = {("job/words.ts", "Not determined")}
#: Still said twice; nothing is to be added.
STILL_TWICE = {
    ("screens/cataloguing/words_in_hand.tsx", "Take it out"),
    ("screens/cataloguing/words_text.tsx", "Nobody has said what it is."),
    ("screens/custody/closing_raised.tsx", "Note a difference"),
    ("screens/custody/closing_reason.tsx", "What is known of it?"),
    ("screens/custody/porter_load.tsx", "Record the count"),
    ("screens/examination/words.tsx", "In words"),
}


def texts_of(source: bytes) -> Iterator[str]:
    """Every text between tags and every literal, each as it is read."""
    waiting = [PARSER.parse(source).root_node]
    while waiting:
        node = waiting.pop()
        waiting += node.children
        if node.type in ("jsx_text", "string", "template_string"):
            yield text_of(node)


def text_of(node: Node) -> str:
    text = (node.text or b"").decode()
    return " ".join((text if node.type == "jsx_text" else text[1:-1]).split())


def said_twice(source: bytes) -> set[str]:
    times: dict[str, int] = defaultdict(int)
    for text in texts_of(source):
        times[text] += bool(READ.match(text))
    return {text for text, count in times.items() if count > 1}


def screens() -> list[Path]:
    return sorted(file for folder in ("screens", "parts", "job") for file in (WEB / folder).rglob("*.ts*"))


@pytest.mark.parametrize(
    ("source", "twice"),
    [
        ('const a = "Back to the item"; <a title={a}>Back to\n  the item</a>;', {"Back to the item"}),
        ('f("First trust the office.", `First trust the office.`);', {"First trust the office."}),
        ('<Frame title="Today" /> || <Frame title="Today" />;', set()),
        ('f("no copy told"); g("no copy told");', set()),
        ("<p>Reading the day</p> || <p>Reading a day</p>;", set()),
    ],
)
def test_a_sentence_that_is_said_twice_is_found(source: str, twice: set[str]) -> None:
    assert said_twice(source.encode()) == twice


def test_what_is_read_stands_once_in_its_file() -> None:
    twice = {
        (file.relative_to(WEB).as_posix(), text)
        for file in screens()
        for text in said_twice(file.read_bytes())
    }
    assert twice - TWO_ANSWERS - STILL_TWICE == set()


def test_a_sentence_that_many_screens_say_is_a_part_of_theirs() -> None:
    """Of a day that is not chosen."""
    said = [file for file in screens() if b"Choose the day first" in file.read_bytes()]
    assert {file.relative_to(WEB).as_posix() for file in said} == {"parts/choose_day.tsx"}
