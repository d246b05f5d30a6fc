"""Changes that no test can notice, or that are not worth one, and why: they are not tried."""

from __future__ import annotations

#: Of a module: the line as it is, the line as it would be (every change of the line, if that is empty), and why.
MEANS_NOTHING: tuple[tuple[str, str, str, str], ...] = (
    (
        "intake/access/devices.py",
        "return found[0]",
        "return found[ -1]",
        "there is one of them: the line before asks",
    ),
    (
        "intake/records/values.py",
        "@lru_cache(maxsize=1000)",
        "",
        "what it gives is the same, only sooner or later",
    ),
    (
        "intake/records/values.py",
        'chosen = self.kept if settled["choose"] == "kept" else self.other',
        'chosen = self.kept if settled["choose"] <= "kept" else self.other',
        "there are two choices, and the other comes after it",
    ),
    (
        "web/sync/round.ts",
        "again: false,",
        "again: true,",
        "a round says what it is before anything asks for it; this is what the type wants at the start",
    ),
    (
        "intake/custody/receipts.py",
        'model_config = ConfigDict(frozen=True, extra="forbid", strict=True)',
        'model_config = ConfigDict(frozen=True, extra="forbid", strict=False)',
        "a line has texts and a list of texts alone, which no JSON of another sort is taken for either way",
    ),
    (
        "web/local/changes.ts",
        'changes.filter(({ store }) => store !== "photo_bytes").map(({ store, key }) => [store, key]),',
        'changes.filter(({ store }) => store !== "otherwise").map(({ store, key }) => [store, key]),',
        "another tab keeps no picture's bytes in memory: it would read them and pass over them, which is only slower",
    ),
    (
        "web/local/store_opened.ts",
        'const item_id = opened.record_ids[0] ?? "";',
        "",
        "an entry comes with its record; the type alone asks for another text",
    ),
)


def means_nothing(path: str, old: str, new: str) -> bool:
    return any(
        (path, old) == (module, was) and becomes in ("", new) for module, was, becomes, _ in MEANS_NOTHING
    )
