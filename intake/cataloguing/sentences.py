"""What the desk makes of the texts that the record makes: each sentence by itself, and the order of a text.

The sentences are made on the device, from the record alone. What the desk strikes, rewrites, adds or moves is kept
beside the record and stands while the record changes underneath: each version keeps what the record said when it was
made, so that a later difference can be shown and a person decides.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from intake.arrival.items import ItemEdit
from intake.operation import Prose

HELD = "held/"  # sentences about a caution that stands

TextName = Literal["heading", "description", "condition"]
SentenceKey = Annotated[
    str,
    Field(
        pattern=r"^[a-z0-9][a-z0-9_-]*(/[a-z0-9][a-z0-9_-]*)*$",
        max_length=200,
        examples=["findings/017f22e2-79b0-7cc3-98c4-dc0c0c07398f", "unseen/inside", "overall"],
    ),
]
#: Of all that one sentence says: a plan has far fewer zones.
SentenceKeys = Annotated[list[SentenceKey], Field(max_length=400)]


class WriteSentence(ItemEdit):
    """The desk's version of one sentence: struck, rewritten, or back as the record has it.

    `sentence` is its key: what it speaks of, such as a finding, a zone that was not examined, or the overall word;
    `own/...` is one that the desk added. `speaks_of` are the keys of all that it speaks of, since the record may later
    say in two sentences what was one. `record_words` is how the record put it when the desk decided.
    """

    roles = frozenset({"desk"})
    field_name = "sentences/{text}/{sentence}"
    value_members = ("text", "sentence", "speaks_of", "record_words", "version", "words")
    replaceable = True

    kind: Literal["write_sentence"]
    text: TextName
    sentence: SentenceKey
    speaks_of: SentenceKeys
    record_words: Annotated[str, Field(max_length=40_000)]
    version: Literal["struck", "rewritten", "as-recorded"]
    words: Prose

    @model_validator(mode="after")
    def check_not_held(self) -> WriteSentence:
        """What stops a sale is no question of wording."""
        if any(key.startswith(HELD) for key in (self.sentence, *self.speaks_of)):
            raise ValueError("what is said of a caution stays as it is until the caution is cleared")
        return self


class OrderSentences(ItemEdit):
    """The order of a text's sentences, by their keys; empty is the record's own order.

    A sentence that is not named stands behind the one that it follows in the record's order.
    """

    roles = frozenset({"desk"})
    field_name = "sentence-order/{text}"
    whole_value = "order"
    replaceable = True

    kind: Literal["order_sentences"]
    text: TextName
    order: SentenceKeys
