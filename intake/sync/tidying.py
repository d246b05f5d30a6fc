"""After an erasure the file is written anew, since what was taken out may lie on between what stands.

The engine overwrites what it deletes, but where it moves rows from page to page their old places keep what they had;
and the index of words keeps what it was given until its parts are merged. How many erasures are still to be followed by
that stands in the tables, so that it is owed over a full disk, a crash and a restart.
"""

from __future__ import annotations

from intake.cataloguing.search import merge_words
from intake.database import Database, Reading

#: What is so until then, for whoever looks.
UNTIDY = "Their bytes may lie in unused space of the file until a serving office has written it anew, which it tries."


def erasures_untidy(tx: Reading) -> int:
    """After how many erasures the file has not been written anew yet."""
    return int(tx.value("SELECT untidy FROM office") or 0)


async def tidy(database: Database) -> bool:
    """Write the file anew if that is owed. Whether it was. Raises OfficeFull or OfficeBusy: then it is owed still.

    Who reads goes on reading; changes wait until it is done: for a hundred megabytes about a second.
    """
    owed = await database.read(erasures_untidy)
    if not owed:
        return False
    await database.write(merge_words)
    await database.write_anew()
    await database.write(lambda tx: tx.run("UPDATE office SET untidy = untidy - :owed", owed=owed))
    return True
