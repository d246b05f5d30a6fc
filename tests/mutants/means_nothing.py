"""Changes that no test can notice, or that are not worth one, and why: they are not tried."""

from __future__ import annotations

#: Of a module: the line as it is, the line as it would be (every change of the line, if that is empty), and why.
MEANS_NOTHING: tuple[tuple[str, str, str, str], ...] = ()


def means_nothing(path: str, old: str, new: str) -> bool:
    return any(
        (path, old) == (module, was) and becomes in ("", new) for module, was, becomes, _ in MEANS_NOTHING
    )
