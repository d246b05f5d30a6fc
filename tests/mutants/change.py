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

    def shown(self, before: str) -> str:
        """The line as it was and as it is now."""
        old, new = before.splitlines(), self.text.splitlines()
        at = next((n for n, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), self.line - 1)
        after = new[at].strip() if at < len(new) else ""
        return f"{self.path}:{at + 1} {self.kind}\n    - {old[at].strip()}\n    + {after}"
