"""Finding entries by words, state and class: an FTS5 index whose rowid is the queue's order.

State and class stand in the index as tokens, so that a page costs the same however long the queue is and wherever the
page begins. What only this engine has stands here and in `database.py`. Source: https://www.sqlite.org/fts5.html
"""

from __future__ import annotations

import re

from intake.database import Reading, Writing

#: A page of what matches, as a table of one column: `entry_seq`. Values: match, after, limit.
MATCHING = """
    (SELECT rowid AS entry_seq FROM entry_words WHERE entry_words MATCH :match AND rowid > :after
     ORDER BY rowid LIMIT :limit)
"""


#: All of the index, in the queue's order.
ALL_WORDS = "SELECT rowid, words, marks FROM entry_words ORDER BY rowid"


def put_words(tx: Writing, entry_seq: int, words: list[str], state: str, class_id: str) -> None:
    """What an entry is found by; it is written only where it differs."""
    put(tx, entry_seq, " ".join(words), f"{state_mark(state)} {class_mark(class_id)}")


def hide(tx: Writing, entry_seq: int) -> None:
    """No search finds this entry any more."""
    put(tx, entry_seq, "", "")


def put(tx: Writing, entry_seq: int, words: str, marks: str) -> None:
    known = tx.one("SELECT words, marks FROM entry_words WHERE rowid = :entry_seq", entry_seq=entry_seq)
    if known is None:
        tx.run(
            "INSERT INTO entry_words (rowid, words, marks) VALUES (:entry_seq, :words, :marks)",
            entry_seq=entry_seq,
            words=words,
            marks=marks,
        )
    elif (known["words"], known["marks"]) != (words, marks):
        tx.run(
            "UPDATE entry_words SET words = :words, marks = :marks WHERE rowid = :entry_seq",
            entry_seq=entry_seq,
            words=words,
            marks=marks,
        )


def count_matching(tx: Reading, match: str, *, most: int) -> int:
    """How many entries match, counted no further than `most`."""
    return int(
        tx.value(
            "SELECT count(*) FROM (SELECT 1 FROM entry_words WHERE entry_words MATCH :match LIMIT :most)",
            match=match,
            most=most,
        )
    )


def match_of(words: str, state: str | None, class_id: str | None) -> str | None:
    """The search as an index expression: every word as a beginning, all of them. None if nothing was asked.

    What was typed is only ever quoted text, so that no sign in it is read as search syntax.
    """
    asked = [f'words: "{word}"*' for word in re.findall(r"\w+", words)]
    if state is not None:
        asked.append(f'marks: "{state_mark(state)}"')
    if class_id is not None:
        asked.append(f'marks: "{class_mark(class_id)}"')
    return " AND ".join(asked) or None


def state_mark(state: str) -> str:
    """The state as one token of the index."""
    return f"state{state.replace('-', '')}"


def class_mark(class_id: str) -> str:
    """The class as one token of the index."""
    return f"class{re.sub(r'[^a-z0-9]', '', class_id) or 'none'}"
