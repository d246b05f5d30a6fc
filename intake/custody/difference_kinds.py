"""The kinds of difference that a closing names, in the order in which it names them.

First what may hurt somebody. Then what nobody can mend tomorrow comes before what a desk can: people who are gone by
then, things, crates, their seals; what is missing on record; views last. Common practice. The app has them under the
same keys in `web/job/closing_kinds.ts`, with what each is called on the page.
"""

from __future__ import annotations

#: What somebody raises by hand, and what it is called.
RAISED = {
    "item-short": "An item is missing",
    "item-over": "An item too many",
    "piece-short": "A piece is missing",
    "tag-without-item": "A tag without its item",
    "item-without-tag": "An item without a tag",
    "seal-differs": "A seal differs, is broken or is missing",
    "new-damage": "New damage",
    "record-without-item": "A record, and the owner says it was left",
    "wrong-item": "The count is right, the thing is wrong",
    "wrong-place": "Not where the ledger says",
    "load-count": "Two counts of a load differ",
}
#: What says nothing of any owner's thing yet: there is nobody to tell.
OF_NO_OWNER = ("load-count",)
KINDS = (
    "incident",
    *("no-receipt", "unsigned", "receipt-changed", "ticket-on-two", "visit"),
    *("record-without-item", "item-short", "wrong-item", "piece-short", "pieces-apart", "item-over", "count"),
    *("not-moved", "left-behind", "item-without-tag", "tag-without-item", "tag-on-two", "tag-gone"),
    *("new-damage", "wrong-place", "load-count", "load-short", "not-arrived", "not-compared"),
    *("seal-differs", "stopped", "held", "heard-late"),
    *("disagreement", "one-name", "one-table", "class", "passed-over", "zones", "views"),
)
MOST_NAMED = 12  # numbers or things in one line
RANKS = {kind: rank for rank, kind in enumerate(KINDS)}

#: What a desk mends tomorrow off the records: one word for all of them is enough. Of every other kind each difference
#: needs a reason of its own before the day is closed.
OF_RECORDS = frozenset({"disagreement", "one-name", "one-table", "class", "passed-over", "zones", "views"})


def fnv1a(text: str) -> int:
    """FNV-1a, 32 bits, over the text's UTF-8. Source: RFC 9923, the FNV non-cryptographic hash."""
    hashed = 0x811C9DC5
    for byte in text.encode("utf-8", "surrogatepass"):
        hashed = ((hashed ^ byte) * 0x01000193) & 0xFFFFFFFF
    return hashed


def key_of_difference(kind: str, record_id: str, said: str = "") -> str:
    """What a difference is known by, whatever its record is called by now and whichever clock read its hours."""
    return f"{kind} {record_id}" + (f" {fnv1a(said):08x}" if said else "")
