"""How a class stands on the screens: a short name for its key, and a drawing of a few lines. Data, as plans are."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from intake.examination.plan_check import DataFile, Problem, Text, Written
from intake.operation import Word

#: The commands and numbers of a path (SVG 2, 9.3), and nothing else.
Path = Annotated[str, Field(max_length=400, pattern=r"^[Mm][MLHVCSQTAZmlhvcsqtaz0-9 .,-]*$")]


class Drawing(Written):
    """Two paths on a square of 48 units: the `body` is washed, the `lines` are drawn on it."""

    body: Path
    lines: Path


class ClassKey(Written):
    """A class on its key, with things of which somebody asks where they belong. One without a drawing is drawn as a
    parcel. `named` are words in what a thing is called that speak for it."""

    class_id: Word
    words: Text
    also: Text | None = None
    named: Annotated[list[Word], Field(default_factory=list)]
    drawing: Drawing | None = None


class ViewKey(Written):
    """A drawing for all views whose words say one of these, whole, whatever the class."""

    said: Annotated[list[Annotated[str, Field(pattern=r"^[a-z]+( [a-z]+)*$")]], Field(min_length=1)]
    drawing: Drawing


class ClassKeys(Written):
    """All of `classes.yaml`. Of the views the first that fits holds; one that none fits is drawn as its class."""

    classes: list[ClassKey]
    views: Annotated[list[ViewKey], Field(default_factory=list)]

    def body(self) -> dict[str, Any]:
        """What devices read: the keys by class, the views in their order."""
        return {
            "classes": {key.class_id: key.model_dump(exclude={"class_id"}) for key in self.classes},
            "views": [view.model_dump() for view in self.views],
        }


def class_key_problems(read: DataFile[ClassKeys], known: set[str]) -> list[Problem]:
    """Classes that stand there twice, or that have no plan."""
    ids = [key.class_id for key in read.content.classes]
    return read.doubled(["classes"], ids, "class") + read.unknown(["classes"], ids, known, "class")
