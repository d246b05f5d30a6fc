"""The personal words of an operation: taken out before it is logged, and put back where it is read.

A kind names them by the member, or by a member of each one in a list, such as `lines.words`: the list stays in the log,
without those. What was taken out is one JSON object by these names, beside the digest in the log.
"""

from __future__ import annotations

import re
from typing import Any

from intake.operation import KINDS, Operation

DIGEST = re.compile(r"[0-9a-f]{64}")


def take_apart(sent: dict[str, Any], personal: tuple[str, ...]) -> tuple[dict[str, Any], dict[str, Any]]:
    """An operation without these words, and the words by the names of `personal`; what it does not say is left out."""
    kept = {name: value for name, value in sent.items() if name not in personal}
    words = {name: sent[name] for name in personal if name in sent}
    for of_each in personal:
        several, dot, name = of_each.partition(".")
        if dot and says(sent, of_each):
            words[of_each] = [line.get(name, "") for line in sent[several]]
            kept[several] = [{key: said for key, said in one.items() if key != name} for one in sent[several]]
    return kept, words


def put_back(kept: dict[str, Any], words: dict[str, Any]) -> dict[str, Any]:
    """The operation as it was sent."""
    whole = {**kept, **{name: text for name, text in words.items() if "." not in name}}
    for of_each, text in words.items():
        several, dot, name = of_each.partition(".")
        if dot and several in kept:
            each = zip(kept[several], text, strict=True)
            whole[several] = [{**line, name: word} for line, word in each]
    return whole


def without_words(kind: type[Operation], kept: dict[str, Any]) -> dict[str, Any]:
    """An operation whose words are gone for good, with nothing in the place of those that it lacks."""
    gone: dict[str, Any] = {}
    for name in kind.personal_in(kept):
        several, dot, _ = name.partition(".")
        if dot and isinstance(kept.get(several), list) and not says(kept, name):
            gone[name] = [""] * len(kept[several])
        elif not dot and name not in kept:
            gone[name] = ""
    return put_back(kept, gone)


def says(sent: dict[str, Any], name: str) -> bool:
    """Whether an operation has such words, be they empty."""
    several, dot, of_each = name.partition(".")
    if not dot:
        return name in sent
    each = sent.get(several)
    return isinstance(each, list) and any(isinstance(line, dict) and of_each in line for line in each)


def kind_without_words(sent: Any) -> type[Operation] | None:
    """The kind of an operation whose device has let go of its personal words and kept their digest; else None."""
    if not isinstance(sent, dict) or not isinstance(digest := sent.get("private_sha256"), str):
        return None
    kind = KINDS.get(str(sent.get("kind")))
    if kind is None or not DIGEST.fullmatch(digest):
        return None
    forms = (kind.personal_in(sent), *kind.personal_before)
    return kind if any(form and not any(says(sent, name) for name in form) for form in forms) else None
