"""What the fields of a record are called for people; the app reads the same table (`web/job/field_words.ts`).

Written by `python -m intake.app_types`, so that it is said once.
"""

from __future__ import annotations

import json
from pathlib import Path

FILE = Path(__file__).parents[1] / "web" / "job" / "field_words.ts"
HEAD = """/**
 * What the fields of a record are called for people, and families of them.
 *
 * Written by `python -m intake.app_types` from `intake/field_words.py`. Change it there, then write this anew.
 */
"""

FIELD_WORDS = {
    "class_id": "class",
    "plan_version": "plan",
    "short_description": "short description",
    "seen_words": "seen",
    "concluded_words": "concluded",
    "told_words": "told by the owner",
    "materials": "materials",
    "maker": "maker",
    "maker_certainty": "how sure of the maker",
    "dates": "date",
    "dates_certainty": "how sure of the date",
    "marks_looked": "where marks were looked for",
    "maker_evidence": "what speaks for the maker",
    "dates_evidence": "what speaks for the date",
    "colour_now": "colour now",
    "colour_was": "colour where light did not reach",
    "condition_words": "condition",
    "grade": "the valuer's word",
    "pieces": "number of pieces",
    "pieces-back": "how many pieces were known to be back",
    "class_grade": "grade on the scale of its class",
    "packaging": "packaging",
    "heading": "heading",
    "lot_description": "lot description",
    "entry": "place in the queue",
    "ticket": "ticket",
    "bags": "bags",
    "kinds": "kinds",
    "needs": "needs",
    "stage": "stage",
    "table_id": "table",
    "item_count": "things counted",
    "allowed_by": "who allowed it after the closing",
    "stage_allowed_by": "who allowed it to be another stage after the closing",
    "note": "note",
    "private": "whether it is private",
    "house": "house",
    "place": "place",
    "held_on": "date of the day",
    "let_go": "that it is let go, since it was set up twice",
    "merged": "record it stands behind",
    "check-in": "comparison with its photographs",
    "inside": "what it is in",
    "whereabouts": "where it is",
    "seal": "seal",
    "closed": "closing",
    "called": "what the owner is called by",
}
#: `{rest}` is what stands behind the family's name, `{text}` its first part; an id that says nothing is left out. A
#: family within another stands under the names of both.
FAMILY_WORDS = {
    "zones": "zone {rest}",
    "findings": "a finding",
    "finding-notes": "what the owner told of a finding",
    "photos": "a photo",
    "tags": "tag {rest}",
    "measures": "measure {rest}",
    "consignor": "owner's {rest}",
    "consignor/signatures": "a signature",
    "people": "a person",
    "denials": "what was not found on {rest}",
    "origins": "what happened to {rest}",
    "statements": "the statement {rest}",
    "tests": "the test {rest}",
    "views": "the view {rest}",
    "marks": "a mark",
    "listed": "a line of its pieces",
    "cautions": "a caution",
    "caution-decisions": "the decision on a caution",
    "sentences": "a sentence of the {text}",
    "sentence-order": "the order of the {text}'s sentences",
    "inside": "what a piece of it is in",
    "whereabouts": "where a piece of it is",
    "check-in": "comparison of {rest} with its photographs",
    "moves": "a move",
    "handed": "who it went back to",
    "receipts": "a receipt",
    "rolls": "a roll of numbers",
    "roll-holders": "who has a roll",
    "prints": "labels that were made",
    "spoiled": "a number struck through",
    "tables": "a table",
    "ticket-runs": "a run of tickets",
    "tickets-before": "a ticket that it had before",
    "loads": "a load",
    "differences": "a difference",
    "difference-ends": "how a difference ended",
    "reasons": "what is known of differences",
    "first-signings": "first signature of the closing",
    "incidents": "an incident",
    "incident-ends": "how an incident ended",
    "preflights": "what was ready before the doors opened",
    "settlement-notes": "why a value was settled on",
    "heard-late": "a change heard late",
    "late-ends": "what became of a change heard late",
}


UNNAMED = "something"  # a field of a later version


def field_words(name: str) -> str:
    """A field's name for people."""
    head, *rest = name.split("/")
    within = "/".join([head, *rest[:1]])
    words = FIELD_WORDS.get(name) or FAMILY_WORDS.get(within) or FAMILY_WORDS.get(head, UNNAMED)
    behind = ", ".join(rest).replace("-", " ").replace("_", " ")
    return words.replace("{rest}", behind).replace("{text}", rest[0] if rest else "text")


def app_field_words() -> str:
    """The app's file."""
    return "\n".join(
        [
            HEAD,
            "export const FIELD_WORDS: Readonly<Record<string, string>> = {",
            *(f"  {json.dumps(name)}: {json.dumps(words)}," for name, words in FIELD_WORDS.items()),
            "};",
            "export const FAMILY_WORDS: Readonly<Record<string, string>> = {",
            *(f"  {json.dumps(name)}: {json.dumps(words)}," for name, words in FAMILY_WORDS.items()),
            "};\n",
        ]
    )
