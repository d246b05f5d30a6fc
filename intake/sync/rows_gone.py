"""Rows that no log gives and that other rows speak of: what `verify` says where they are gone.

Of who sent a photo (`photo_from`), of what was noted of who read, and of which words copies have yet to erase
(`erased_words`, which an office of before has not of all) nothing else tells: if those rows go, nobody can say so.
"""

from __future__ import annotations

from collections.abc import Iterator

from intake.database import Reading
from intake.in_words import counted


def own_row_faults(tx: Reading) -> Iterator[str]:
    """A sentence if the row that says which office this is, is gone."""
    if tx.value("SELECT count(*) FROM office") != 1:
        yield "The row that says which office this is, is gone. Restore a copy into a new folder."


def gone_beside(tx: Reading) -> Iterator[str]:
    """What may be a loss and need be none: a sentence for devices that sent something and are not known, and for
    versions of plans that records were made with and that are not kept here."""
    devices = tx.value(
        """
        SELECT count(*) FROM (SELECT DISTINCT device_id FROM operation_log) AS sent
        WHERE NOT EXISTS (SELECT 1 FROM device WHERE device.device_id = sent.device_id)
        """
    )
    if devices:
        yield (
            f"{counted(devices, 'device')} that sent something: not known here. So it is after `bring-in`, and where "
            "devices were forgotten as a copy was restored; else their rows were lost. Pair each again by its number."
        )
    plans = tx.value(
        """
        SELECT count(*) FROM (
            SELECT DISTINCT class.value ->> '$' AS class_id, made_with.value ->> '$' AS version
            FROM field AS made_with JOIN field AS class USING (record_id)
            WHERE made_with.name = 'plan_version' AND class.name = 'class_id'
        ) AS used
        WHERE NOT EXISTS (
            SELECT 1 FROM plan_version AS kept WHERE kept.class_id = used.class_id AND kept.version = used.version
        )
        """
    )
    if plans:
        yield (
            f"{counted(plans, 'version')} of plans that records were made with: not kept here. Their zones are read by "
            "the plans of now. From a copy: `intake bring-in COPY`."
        )
