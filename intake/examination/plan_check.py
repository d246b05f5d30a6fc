"""Data files read with their line numbers, so that whoever edits one is told the line of every mistake."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Generic, TypeVar

import yaml
from pydantic import BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import ErrorDetails
from yaml.nodes import MappingNode, Node, SequenceNode

M = TypeVar("M", bound=BaseModel)
# The same safe reader, written in C where the library has it: a start should not wait for the plans.
SafeLoader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
Place = Sequence[str | int]
Text = Annotated[str, Field(min_length=1, max_length=400)]


class Written(BaseModel):
    """Something written in a data file. An unknown key is refused: most often it is a slip of the pen."""

    model_config = ConfigDict(frozen=True, extra="forbid")


@dataclass(frozen=True)
class Problem:
    """A mistake in a data file: the file's name, the line counted from 1, what is wrong and what to do."""

    file: str
    line: int
    words: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.words}"


@dataclass(frozen=True)
class DataFile(Generic[M]):
    """A file that could be read: its content as a model, and the marks that tell where everything stands."""

    file: Path
    content: M
    root: Node

    def problem(self, place: Place, words: str) -> Problem:
        return Problem(self.file.name, line_of(self.root, place), words)

    def doubled(self, place: Place, ids: Sequence[str], what: str) -> list[Problem]:
        """A problem for each id of a list that stood in it before."""
        return [
            self.problem([*place, number], f'the {what} "{name}" is there twice: rename or remove one.')
            for number, name in enumerate(ids)
            if name in ids[:number]
        ]

    def unknown(self, place: Place, ids: Sequence[str], known: set[str] | None, what: str) -> list[Problem]:
        """A problem for each id of a list that nothing else defines; none if it is not known what is."""
        return [
            self.problem(
                [*place, number], f'there is no {what} "{name}": correct it, or add the {what} first.'
            )
            for number, name in enumerate(ids)
            if known is not None and name not in known
        ]


def read_file(file: Path, model: type[M], problems: list[Problem]) -> DataFile[M] | None:
    """Read a file as a model. What does not fit is added to the problems, and then there is no file."""
    try:
        text = file.read_text("utf-8")
        loader = SafeLoader(text)
        root = loader.get_single_node()
        looped = loop_in(root) if root is not None and "&" in text else None
        if looped is not None:
            words = "what stands here holds itself: write it out instead of referring to it."
            problems.append(Problem(file.name, looped, words))
            return None
        content = None if root is None else loader.construct_document(root)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        words = f"this is no YAML ({error.problem}): look here and just before for a quote, colon or space."
        problems.append(Problem(file.name, line, words))
        return None
    except (OSError, ValueError, yaml.YAMLError) as error:
        problems.append(
            Problem(file.name, 1, f"the file cannot be read ({error}): save it again as UTF-8 text.")
        )
        return None
    if root is None:
        problems.append(Problem(file.name, 1, "the file is empty: fill it, or remove it."))
        return None
    doubled = list(doubled_keys(root, file.name))
    try:
        read = DataFile(file, model.model_validate(content), root)
    except ValidationError as error:
        faults = error.errors(include_url=False)
        problems += doubled + [Problem(file.name, line_of(root, f["loc"]), told(root, f)) for f in faults]
        return None
    problems += doubled
    return read


def loop_in(root: Node) -> int | None:
    """The line of a list or of keys that hold themselves through a reference (`&a`, `*a`); None if none do."""
    above: list[Node] = []

    def look(node: Node) -> int | None:
        if any(node is parent for parent in above):
            return int(node.start_mark.line) + 1
        above.append(node)
        inside = node.value if isinstance(node, SequenceNode) else []
        if isinstance(node, MappingNode):
            inside = [part for pair in node.value for part in pair]
        found = next((line for child in inside if (line := look(child)) is not None), None)
        above.pop()
        return found

    return look(root)


def doubled_keys(node: Node, file: str) -> Iterator[Problem]:
    """YAML's own reader silently keeps the last of two equal keys, and a plan would lose half its zones."""
    if isinstance(node, MappingNode):
        seen: set[str] = set()
        for key, value in node.value:
            if key.value in seen:
                words = f'the key "{key.value}" is there twice: remove one.'
                yield Problem(file, key.start_mark.line + 1, words)
            seen.add(str(key.value))
            yield from doubled_keys(value, file)
    elif isinstance(node, SequenceNode):
        for value in node.value:
            yield from doubled_keys(value, file)


def steps(root: Node, place: Place) -> Iterator[tuple[str | int, int, Node]]:
    """The steps of a place that the text really has, each with its line and what stands there.

    A model's error also names the branch of a choice it was in; no line of the text has that: it is skipped.
    """
    node = root
    for step in place:
        if isinstance(node, MappingNode):
            # With two equal keys the last counts, as it does for YAML's own reader.
            for key, value in reversed(node.value):
                if key.value == str(step):
                    node = value
                    yield step, key.start_mark.line + 1, node
                    break
        elif isinstance(node, SequenceNode) and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
            yield step, node.start_mark.line + 1, node


def line_of(root: Node, place: Place) -> int:
    """The line on which a place begins, counted from 1; for what is missing, that of what should hold it."""
    lines = [line for _, line, _ in steps(root, place)]
    return lines[-1] if lines else root.start_mark.line + 1


def told(root: Node, fault: ErrorDetails) -> str:
    """A model's error in words for the person who edits the file."""
    path = [step for step, _, _ in steps(root, fault["loc"])]
    name = ".".join(str(step + 1) if isinstance(step, int) else step for step in path) or "the file"
    kind, found, limits = fault["type"], fault["input"], fault.get("ctx", {})
    match kind:
        case "extra_forbidden":
            return f'unknown key "{fault["loc"][-1]}": correct its spelling, or remove it.'
        case "missing":
            return f'the key "{fault["loc"][-1]}" is missing: add it.'
        case "literal_error":
            return f'{name}: "{found}" is not known here: write {limits["expected"]}.'
        case "too_short" | "string_too_short":
            return f"{name} holds too little: it needs at least {limits.get('min_length')}."
        case "too_long" | "string_too_long":
            return f"{name} holds too much: at most {limits.get('max_length')} fit."
        case "string_pattern_mismatch":
            return f'{name}: "{found}" is no id of this kind: it must look like {limits["pattern"]}.'
        case "string_type":
            return f'{name} should be text, and is {named(found)}: put it in quotes ("...").'
        case "list_type":
            return f"{name} should be a list, and is {named(found)}: write [...], or lines with a dash."
        case "model_type" | "dict_type":
            return (
                f"{name} should be keys with values, and is {named(found)}: write lines such as key: value."
            )
        case _:
            return f'{name}: "{found}" does not fit ({fault["msg"].lower()}): correct it.'


def named(found: object) -> str:
    """What a value is, in the words of whoever typed it."""
    if found is None:
        return "empty"
    kinds = {
        bool: "yes or no",
        int: "a number",
        float: "a number",
        str: "text",
        list: "a list",
        dict: "keys with values",
    }
    return kinds.get(type(found), "something else")
