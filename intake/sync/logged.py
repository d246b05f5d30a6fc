"""An operation as the log keeps it: its text, its personal words apart, and what cannot stand there as it came."""

from __future__ import annotations

import hashlib
import json
import secrets
from dataclasses import dataclass
from typing import Any, NamedTuple

import rfc8785
from pydantic_core import from_json, to_json

from intake.operation import KINDS, Operation
from intake.sync.canonical import NotPlain, canonical, in_order
from intake.sync.personal import put_back, says, take_apart, without_words
from intake.sync.words_beside import are_from_tables


class Logged(NamedTuple):
    """An operation as the log keeps it. `words` is the canonical JSON of the personal words taken out of it, if any;
    `whole` the operation as it will read from both. `gone`: its words were erased on its device before it came."""

    text: str
    words: str | None
    whole: dict[str, Any]
    gone: bool = False


def as_logged(kind: type[Operation], sent: dict[str, Any], personal: tuple[str, ...] | None = None) -> Logged:
    """What the log keeps of an operation as it was sent; `personal` are its personal members, if not those of today.

    The log keeps the SHA-256 of the personal words' canonical JSON. The device's salt is among them, so that nobody
    can find a telephone number by trying them all once the words are erased.
    """
    words, kept = None, sent
    apart: dict[str, Any] = {}
    gone = (
        "private_sha256" in sent
    )  # no kind has such a member: it was read as one whose device let go of its words
    personal = kind.personal_in(sent) if personal is None else personal
    if gone:  # an app of before lets go of what it took for personal, and sends the rest as it was typed
        kept, _ = take_apart(sent, personal)
    elif personal:
        kept, apart = take_apart(sent, personal)
        words = canonical(apart)
        kept["private_sha256"] = hashlib.sha256(words.encode()).hexdigest()
    try:
        whole = in_order(kept)
        text = to_json(whole).decode()
    except (
        NotPlain
    ):  # a number with a point may be written in several ways, and is taken as the log writes it
        text = rfc8785.dumps(kept).decode()
        whole = json.loads(text)
    if gone:
        return Logged(text, None, whole_operation(text, None), gone=True)
    return Logged(text, words, put_back(whole, apart) if apart else whole)


def as_logged_before(kind: type[Operation], sent: dict[str, Any], text: str) -> Logged | None:
    """What the log keeps of an operation that a version of before logged as this text; None if none did.

    Nor did any if it differs in more than in which of its members are personal: the digest of words that are gone is
    over those that the device, or the version that logged it, took for personal.
    """
    for personal in kind.personal_before:
        if (logged := as_logged(kind, sent, personal)).text == text:
            return logged
    there = from_json(text)
    if not kind.personal_before or without_any_words(kind, sent) != without_any_words(kind, there):
        return None
    if "private_sha256" in sent:
        of_one_form = said_words(kind, sent) == said_words(kind, there)
        return None if of_one_form else Logged(text, None, whole_operation(text, None), gone=True)
    digest = there.get("private_sha256")
    forms = [as_logged(kind, sent, personal) for personal in (None, *kind.personal_before)]
    same = next(
        (form for form in forms if digest and from_json(form.text).get("private_sha256") == digest), None
    )
    return same and same._replace(text=text)


def salted(kind: type[Operation], logged: Logged) -> Logged:
    """The same with a salt of the office's own among its words, where its device gave none, as an app of before does:
    else whoever guesses a name could see by the digest that it is the one, long after the words are erased.

    Of words that its device let go of nobody can tell whether they had a salt. Their digest is put under another one,
    which nobody keeps.
    """
    if not may_lack_salt(kind):
        return logged
    text = from_json(logged.text)
    digest, salt = text.get("private_sha256"), secrets.token_hex(16)
    if digest is None:
        return logged
    if logged.gone or logged.words is None:
        of = f"{salt} {digest}"
        words = None
    elif (apart := from_json(logged.words)).get("salt"):
        return logged
    else:
        of = words = canonical({**apart, "salt": salt})
    text["private_sha256"] = hashlib.sha256(of.encode()).hexdigest()
    return logged._replace(text=rfc8785.dumps(text).decode(), words=words)


def may_lack_salt(kind: type[Operation]) -> bool:
    """Whether an operation of this kind may come with words and without a salt."""
    return "salt" in kind.personal and not kind.model_fields["salt"].is_required()


def as_salted_here(
    kind: type[Operation], sent: dict[str, Any], text: str, words: str | None
) -> Logged | None:
    """What the log keeps of an operation that it has as this text, if that is the one that was sent and an office gave
    it its salt; None if not. `words` are what stands beside the log.

    Where they are gone, nothing but the rest can be held against it. What was lost and not erased is in the answer,
    with an empty salt: the office's went with it, so that nothing proves what its device has.
    """
    there = from_json(text)
    if not may_lack_salt(kind) or "private_sha256" not in there:
        return None
    if without_any_words(kind, sent) != without_any_words(kind, there):
        return None
    if "private_sha256" in sent:
        return Logged(text, None, whole_operation(text, None), gone=True)
    _, apart = take_apart(sent, kind.personal_in(sent))
    if words is None or are_from_tables(words):
        return Logged(text, canonical({**apart, "salt": ""}), sent)
    if but_for_salt(sent) != but_for_salt(with_its_words(there, words)):
        return None
    return Logged(text, None, sent)


def but_for_salt(operation: dict[str, Any]) -> str:
    said = {name: value for name, value in operation.items() if name != "salt"}
    return rfc8785.dumps(said).decode()


def without_any_words(kind: type[Operation], sent: dict[str, Any]) -> dict[str, Any]:
    """What no version took for personal, as the log writes it."""
    kept, _ = take_apart(sent, every_personal(kind, sent))
    kept.pop("private_sha256", None)
    return dict(from_json(rfc8785.dumps(kept)))


def said_words(kind: type[Operation], sent: dict[str, Any]) -> set[str]:
    """Those members, of all that any version takes for personal, that an operation has."""
    return {name for name in every_personal(kind, sent) if says(sent, name)}


def every_personal(kind: type[Operation], sent: dict[str, Any]) -> tuple[str, ...]:
    forms = (kind.personal_in(sent), *kind.personal_before)
    return tuple(dict.fromkeys(name for form in forms for name in form))


def whole_operation(text: str, words: str | None) -> dict[str, Any]:
    """An operation read from the log, with its personal words put back; erased ones are empty."""
    return with_its_words(from_json(text), words)


def with_its_words(logged: dict[str, Any], words: str | None) -> dict[str, Any]:
    """The same of what the log's text says."""
    if "private_sha256" not in logged:
        return logged
    operation = {name: value for name, value in logged.items() if name != "private_sha256"}
    if words is not None:
        return put_back(operation, from_json(words))
    kind = KINDS.get(operation["kind"])
    return without_words(kind, operation) if kind else operation


@dataclass(frozen=True)
class SetAside:
    """An operation that cannot stand in the log as it came: nobody could read it, its id is another's, or the office
    made a mistake with it. The log has its digest, under a key of its own; what was sent is kept beside the log.

    So its id stays free: an office that can read it one day takes it in as new when it is sent again, from its device
    or out of a copy. A rebuild does not: its device was told no, and may have sent it under another id since.
    """

    key: str
    text: str  # what stands in the log
    content: str  # what was sent, as JSON in ASCII

    @classmethod
    def of(cls, sent: Any, device_id: str) -> SetAside:
        """The same from two devices is set aside twice: each has an order of its own, in which it has its place."""
        content = whole_json(sent)
        digest = hashlib.sha256(content.encode()).hexdigest()
        return cls(aside_key(device_id, digest), canonical({"content_sha256": digest}), content)


def aside_key(device_id: str, digest: str) -> str:
    """The log's key of what a device sent and was set aside, from the digest that the log has of it."""
    return f"aside-{hashlib.sha256(f'{device_id} {digest}'.encode()).hexdigest()}"


def whole_json(sent: Any) -> str:
    """JSON in ASCII, the names in order. What is nested too deep for any writer is `{"unread": its JSON}`."""
    try:
        return json.dumps(sent, sort_keys=True)
    except RecursionError:
        return json.dumps({"unread": deep_json(sent)})


def deep_json(value: Any) -> str:
    """JSON however deep it is nested: what is still to be written stands in a list, not on the stack."""
    written: list[str] = []
    left: list[tuple[str, Any]] = [("", value)]  # a text, and the value behind it; ... if it ends there
    while left:
        text, node = left.pop()
        written.append(text)
        if isinstance(node, dict | list):
            by_name = (
                [(f"{json.dumps(name)}:", node[name]) for name in sorted(node)]
                if isinstance(node, dict)
                else []
            )
            inner = by_name or [("", member) for member in node]
            written.append("{" if isinstance(node, dict) else "[")
            left.append(("}" if isinstance(node, dict) else "]", ...))
            left += [(f"{',' * bool(at)}{name}", member) for at, (name, member) in enumerate(inner)][::-1]
        elif node is not ...:
            written.append(json.dumps(node))
    return "".join(written)
