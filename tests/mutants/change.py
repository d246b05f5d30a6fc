"""One small change to one file, as both languages make it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Change:
    """`path` from the checkout's root; `line` counts from 1; `kind` says what is changed, `text` is the file then."""

    path: str
    line: int
    kind: str
    text: str

    def lines(self, before: str) -> tuple[str, str]:
        """The first line that differs, as it was and as it is now."""
        old, new, at = self._placed(before)
        return old[at].strip(), new[at].strip() if at < len(new) else ""

    def shown(self, before: str) -> str:
        old, new = self.lines(before)
        return f"{self.path}:{self._placed(before)[2] + 1} {self.kind}\n    - {old}\n    + {new}"

    def _placed(self, before: str) -> tuple[list[str], list[str], int]:
        old, new = before.splitlines(), self.text.splitlines()
        places = (n for n, (a, b) in enumerate(zip(old, new, strict=False)) if a != b)
        return old, new, next(places, self.line - 1)
