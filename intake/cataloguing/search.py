"""Finding entries by words and marks: an FTS5 index whose rowid is the queue's order.

What the list is narrowed by stands in the index as tokens, so that a page costs the same however long the queue is and
wherever the page begins. What only this engine has stands here and in `database.py`.
Source: https://www.sqlite.org/fts5.html
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Literal

from intake.database import Reading, Writing, any_of
from intake.derived_tables import follows_from_log

#: A page of what matches, as a table of one column: `entry_seq`. Values: match, after, limit.
MATCHING = """
    (SELECT rowid AS entry_seq FROM entry_words WHERE entry_words MATCH :match AND rowid > :after
     ORDER BY rowid LIMIT :limit)
"""
#: Those of some items that match, as the same table. Values: match, item_ids, a JSON list.
AMONG = f"""
    (SELECT rowid AS entry_seq FROM entry_words WHERE entry_words MATCH :match AND rowid IN
     (SELECT entry_seq FROM entry WHERE item_id IN {any_of("item_ids")}))
"""


def stands(column: Literal["words", "marks"], entry_seq: str) -> str:
    """What stands of an entry in the index, as SQL; `entry_seq`: the column that says which. A value and no table to
    join, since the engine reads the whole index to join it to a row that may have none."""
    return f"(SELECT {column} FROM entry_words WHERE rowid = {entry_seq})"


follows_from_log("entry_words", columns="rowid, words, marks", order="rowid")
follows_from_log("visit_word", order="word, visit_id")

#: The mark of whatever stands in the list at all.
LISTED = "listed"
OF_OWNER = "owner"  # with a word behind it: a mark of each word that finds the visit of an entry
TICKET = "#"  # before a word of a visit that is its ticket's: it is no word of the owner
VISITS_LIMIT = 60  # visits that are noted of one search, where its words stand for more


def put_words(tx: Writing, entry_seq: int, words: list[str], marks: Iterable[str]) -> None:
    """What an entry is found by; it is written only where it differs."""
    found = words_to_find(" ".join(words))
    put(tx, entry_seq, " ".join(found), " ".join([LISTED, *marks]))


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
    else:
        return
    before = known or {"words": "", "marks": ""}
    marks_before = narrowing(before["marks"])
    tx.run(
        NOTE_SINCE,
        entry_seq=entry_seq,
        words=before["words"] != words,
        lost=not set(before["words"].split()) <= set(words.split()),
        marks=marks_before != narrowing(marks),
        marks_before=marks_before,
        listed=beside_narrowing(before["marks"]) != beside_narrowing(marks),
    )


#: Which of what finds an entry is otherwise since its item was placed in the feed last. Its marks of before are those
#: from before that place, however often they were written anew since.
NOTE_SINCE = """
    UPDATE entry SET words_seq = CASE WHEN :words THEN feed_seq ELSE words_seq END,
        lost_seq = CASE WHEN :lost THEN feed_seq ELSE lost_seq END,
        marks_before = CASE WHEN :marks AND marks_seq <> feed_seq THEN :marks_before ELSE marks_before END,
        marks_since = CASE WHEN :marks AND marks_seq <> feed_seq THEN marks_seq ELSE marks_since END,
        marks_seq = CASE WHEN :marks THEN feed_seq ELSE marks_seq END,
        listed_seq = CASE WHEN :listed THEN feed_seq ELSE listed_seq END
    FROM record WHERE record.record_id = entry.item_id AND entry_seq = :entry_seq
"""


def merge_words(tx: Writing) -> None:
    """Merge the parts of the index, in which words stand that are no longer said. Source: the engine's documentation,
    "The 'optimize' Command"."""
    tx.run("INSERT INTO entry_words (entry_words) VALUES ('optimize')")


def replace_mark(tx: Writing, entry_seq: int, before: str, after: str) -> None:
    """Put one mark in the place of another, if the entry stands in the list."""
    known = tx.one("SELECT words, marks FROM entry_words WHERE rowid = :entry_seq", entry_seq=entry_seq)
    if known is not None and known["marks"]:
        marks = " ".join(after if mark == before else mark for mark in known["marks"].split())
        put(tx, entry_seq, known["words"], marks)


def count_matching(tx: Reading, match: str, *, most: int) -> int:
    """How many entries match, counted no further than `most`."""
    return int(
        tx.value(
            "SELECT count(*) FROM (SELECT 1 FROM entry_words WHERE entry_words MATCH :match LIMIT :most)",
            match=match,
            most=most,
        )
    )


def words_in(typed: str) -> list[str]:
    """The words of what was typed or is to be found, folded: small letters, no accents, a fraction by itself."""
    return words_of(folded(typed))


def words_of(plain: str) -> list[str]:
    return re.findall(r"\w+", plain)


def words_to_find(said: str) -> list[str]:
    """Those of what is to be found, and beside them the neighbours that a sign divides as one word, for a name or a
    number such as O'Brackle, Ombre-Vale or Q-07."""
    plain = folded(said)
    divided = [re.split(r"\W", each)[:MOST_DIVIDED] for each in re.findall(rf"\w+(?:{DIVIDES}\w+)+", plain)]
    joined = [
        "".join(parts[first:last])
        for parts in divided
        for first in range(len(parts))
        for last in range(first + 2, len(parts) + 1)
    ]
    return [*words_of(plain), *joined]


DIVIDES = r"['\u2018\u2019\u02bc\u2010\u2011-]"  # apostrophes and hyphens
MOST_DIVIDED = 6
#: Letters that are no other letter with a sign, as they are typed where a keyboard has none of them.
TYPED_AS = str.maketrans(
    {"ł": "l", "ø": "o", "đ": "d", "ð": "d", "ħ": "h", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th"}
)


def folded(said: str) -> str:
    spaced = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", said)
    apart = unicodedata.normalize("NFKD", spaced.casefold())
    if apart.isascii():  # has none of what follows; most of a log, which is read whole, is so
        return apart
    return "".join(sign for sign in apart if not unicodedata.combining(sign)).translate(TYPED_AS)


def match_of(
    words: Iterable[str], marks: Iterable[str], called: Callable[[str], Iterable[str]] = lambda _: ()
) -> str:
    """The search as an index expression: all of the words, each as a beginning of one of the entry's or of its owner's,
    or one by which a mark of it is `called`, and all of the marks.

    What was typed is only ever quoted text, so that no sign in it is read as search syntax.
    """
    asked = [
        " OR ".join(
            [
                f'words: "{word}"*',
                f'marks: "{mark(OF_OWNER, word)}"*',
                *(f'marks: "{of}"' for of in called(word)),
            ]
        )
        for word in words
    ]
    return " AND ".join(f"({each})" for each in [*(f'marks: "{mark}"' for mark in (LISTED, *marks)), *asked])


def steps(tx: Reading, next_one: str) -> Iterator[str]:
    """The values that a question for the next one gives, from the first behind the empty one on."""
    last = tx.value(next_one, last="")
    while last is not None:
        yield last
        last = tx.value(next_one, last=last)


def owners_with(tx: Reading, words: Sequence[str]) -> list[str]:
    """The visits of whose owner's name each of the words begins one; no more than one above VISITS_LIMIT."""
    first, *others = words
    rows = tx.all(
        """
        SELECT DISTINCT visit_id FROM visit_word AS found WHERE word >= :word AND word < :word || :beyond
        AND NOT EXISTS (SELECT 1 FROM json_each(:others) AS asked WHERE NOT EXISTS (
            SELECT 1 FROM visit_word AS other WHERE other.visit_id = found.visit_id
            AND other.word >= asked.value AND other.word < asked.value || :beyond
        ))
        LIMIT :most
        """,
        word=first,
        beyond=chr(0x10FFFF),
        others=json.dumps(others),
        most=VISITS_LIMIT + 1,
    )
    return [row["visit_id"] for row in rows]


def put_visit_words(tx: Writing, visit_id: str, *, ticket: str, name: str) -> bool:
    """The words that find the things of a visit, in place of those there were; whether they are others."""
    words = {*words_to_find(name), *(TICKET + word for word in words_to_find(ticket))}
    before = set(visit_words(tx, visit_id))
    tx.run_many(
        "DELETE FROM visit_word WHERE word = ? AND visit_id = ?",
        [(word, visit_id) for word in sorted(before - words)],
    )
    tx.run_many(
        "INSERT INTO visit_word (word, visit_id) VALUES (?, ?)",
        [(word, visit_id) for word in sorted(words - before)],
    )
    return words != before


def visit_words(tx: Reading, visit_id: str) -> list[str]:
    rows = tx.all("SELECT word FROM visit_word WHERE visit_id = :visit_id", visit_id=visit_id)
    return [row["word"] for row in rows]


def owner_marks(tx: Reading, visit_id: str) -> list[str]:
    """The marks by which an entry is found by the words of its visit; they stand behind all others."""
    words = {word.removeprefix(TICKET) for word in visit_words(tx, visit_id)}
    return [mark(OF_OWNER, word) for word in sorted(words)]


def narrowing(marks: str) -> str:
    """Those of an entry's marks by which a list is narrowed: an owner's words are not among them."""
    return " ".join(each for each in marks.split() if not each.startswith(OF_OWNER))


def beside_narrowing(marks: str) -> set[str]:
    """The others, and whether it is listed at all."""
    return {each for each in marks.split() if each == LISTED or each.startswith(OF_OWNER)}


def replace_owner_marks(tx: Writing, entry_seq: int, marks: Iterable[str]) -> None:
    """Put these in the place of those of the words there were, if the entry stands in the list."""
    known = tx.one("SELECT words, marks FROM entry_words WHERE rowid = :entry_seq", entry_seq=entry_seq)
    if known is not None and known["marks"]:
        others = [each for each in known["marks"].split() if not each.startswith(OF_OWNER)]
        put(tx, entry_seq, known["words"], " ".join([*others, *marks]))


def mark(of: str, value: str) -> str:
    """A value as one token of the index, such as `classchair`: another for each value, in whatever letters. What is no
    small letter or digit stands in it by its number, `x` as well, since it is around those."""
    return of + (re.sub(r"[^a-wyz0-9]", lambda sign: f"x{ord(sign[0]):x}x", value) or "xx")
