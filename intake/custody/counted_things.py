"""What was counted of a thing, as a receipt says it. The app: `web/job/counted_things.ts`."""

from __future__ import annotations

import re

from intake.records.record import Record

#: What is counted, by the measure: of one, and of several, as an owner reads it with no plan at hand.
COUNTED = {
    "letters": ["letter or document", "letters or documents"],
    "sheet-count": ["sheet", "sheets"],
    "envelope-count": ["envelope", "envelopes"],
}
NAMES = "|".join(name for names in COUNTED.values() for name in names)
#: The part of a line that says it.
COUNTS = re.compile(rf"\A\d+ (?:{NAMES})(?:, \d+ (?:{NAMES}))* counted\Z", re.ASCII)


def counted_things(thing: list[Record]) -> str:
    """ "62 letters or documents, 58 envelopes counted"; "" if nothing was. Of all records of a thing, itself the first:
    what the record in front says of a count holds."""
    said = []
    for measure, (one, several) in COUNTED.items():
        values = [record.value(f"measures/{measure}") for record in thing]
        count = next((value["value"] for value in values if value is not None), None)
        if count:
            said.append(f"{count} {one if count == 1 else several}")
    return f"{', '.join(said)} counted" if said else ""
