"""What is taken: the address of every screen, by the device on which people see it and by what is on record."""

from __future__ import annotations

from typing import Literal

Screens = dict[str, str]  # name of a picture: address
AriaRole = Literal["button", "combobox", "heading"]

#: What is opened on each device; `of_the_day` says which things stand in the braces.
BY_ROLE: dict[str, Screens] = {
    "table": {
        "today": "#/today",
        "visit": "#/visit/{visit}",
        "class": "#/item/{new}",
        "class-other": "#/item/{item}",
        "longcase": "#/item/{longcase}",
        "longcase-zones": "#/item/{longcase}/zones",
        "longcase-zone": "#/item/{longcase}/zone/hood",
        "longcase-works": "#/item/{longcase}/works",
        "letters": "#/item/{letters}",
        "letters-zones": "#/item/{letters}/zones",
        "letters-words": "#/item/{letters}/words",
        "rest-of-views": "#/item/{longcase}/photos",
        "item-bare": "#/item/{bare}",
        "item": "#/item/{item}",
        "zones": "#/item/{item}/zones",
        "zone": "#/item/{item}/zone/{found}",
        "zone-fresh": "#/item/{bare}/zone/{fresh}",
        "marks": "#/item/{item}/marks",
        "works": "#/item/{item}/works",
        "measures": "#/item/{item}/measures",
        "photos": "#/item/{item}/photos",
        "tag": "#/item/{item}/tag",
        "words": "#/item/{item}/words",
        "stop-item": "#/item/{item}/stop",
        "stopped": "#/item/{stopped}",
        "stop": "#/stop",
        "cards": "#/cards",
        "owner-reads": "#/item/{item}/words",
        "receipt": "#/visit/{visit}/receipt",
        "owner-signs": "#/visit/{visit}/receipt",
        "part-of": "#/item/{several}/tag",
        "find": "#/tag",
        "outbox": "#/outbox",
        "check": "#/check",
    },
    "porter": {
        "today": "#/today",
        "porter": "#/porter",
        "container": "#/container/{container}",
        "check-in": "#/container/{came}",
        "not-here": "#/container/{came}",
        "closing": "#/closing",
        "places": "#/places",
        "load": "#/load/{load}",
    },
    "door": {"today": "#/today", "visit": "#/visit/{visit}"},
    "manager": {
        "day": "#/day",
        "new-day": "#/day",
        "closing": "#/closing",
        "reason": "#/closing",
        "rolls": "#/rolls",
        "labels": "#/rolls",
        "devices": "#/devices",
        "copies": "#/copies",
        "preflight": "#/preflight",
    },
    "desk": {
        "queue": "#/queue",
        "entry": "#/entry/{item}",
        "words": "#/entry/{item}",
        "answers": "#/entry/{item}",
        "two-values": "#/entry/{contested}",
        "still-open": "#/entry/{longcase}",
        "not-described": "#/entry/{bare}",
        "corrected": "#/entry/{item}",
        "damage": "#/entry/{differed}",
        "keys": "#/entry/{item}",
    },
}
#: Words as long as the office takes them: whatever cannot break, breaks a screen here.
LONG: dict[str, Screens] = {
    "table": {
        "today": "#/today",
        "visit": "#/visit/{visit}",
        "item": "#/item/{item}",
        "zones": "#/item/{item}/zones",
        "zone": "#/item/{item}/zone/{found}",
        "tag": "#/item/{item}/tag",
        "receipt": "#/visit/{visit}/receipt",
        "changed": "#/visit/{signed}/receipt",
    },
    "porter": {"porter": "#/porter", "places": "#/places", "load": "#/load/{load}"},
    "manager": {"day": "#/day", "closing": "#/closing"},
    "desk": {"queue": "#/queue", "entry": "#/entry/{item}"},
}
#: Where no office is reached, and after what was kept on the phone was refused.
TROUBLE: dict[str, Screens] = {
    "table": {
        "today": "#/today",
        "outbox": "#/outbox",
        "item": "#/item/{bare}",
        "photos": "#/item/{bare}/photos",
    },
    "manager": {"closing": "#/closing", "copies": "#/copies", "devices": "#/devices"},
    "desk": {"queue": "#/queue", "entry": "#/entry/{item}"},
}
#: After two people have closed the day.
CLOSED: dict[str, Screens] = {
    "table": {"today": "#/today", "visit": "#/visit/{visit}"},
    "porter": {"closing": "#/closing"},
    "manager": {"day": "#/day", "correction": "#/day", "closing": "#/closing", "devices": "#/devices"},
    "desk": {"closings": "#/closings", "closing": "#/closings/{day}"},
}
#: While something is stopped, and nobody has decided on it.
ALARM: dict[str, Screens] = {
    "table": {"today": "#/today", "item": "#/item/{item}"},
    "porter": {"porter": "#/porter"},
    "desk": {"queue": "#/queue", "entry": "#/entry/{item}"},
}
CHECK_IN: tuple[AriaRole, str] = ("button", "Check in what is in it")
#: What is done before a picture is taken, by role and name: pressed, chosen (the first of a list), or scrolled to.
DONE_FIRST: dict[str, tuple[tuple[AriaRole, str], ...]] = {
    "table.owner-reads.full": (("button", "To the owner"),),
    "table.owner-signs.full": (("button", "To the owner"),),
    "porter.check-in.full": (CHECK_IN,),
    "porter.not-here.full": (CHECK_IN, ("combobox", "Second person"), ("button", "Not here")),
    "table.class-other.full": (("button", "Choose another class"), ("button", "Books, maps")),
    "table.rest-of-views.full": (("button", "Rest: no picture"),),
    "manager.new-day.full": (("button", "Set up another day"),),
    "manager.reason.full": (("button", "What is known of it?"),),
    "manager.correction.closed": (("button", "Correct house, date or tables"),),
    "manager.labels.full": (("button", "Print its labels"),),
    "desk.words.full": (("heading", "Words"),),
    "desk.answers.full": (("heading", "What bidders ask"),),
    "desk.keys.full": (("button", "all keys"),),
    # From here on somebody is named at the desk, which asks no more.
    "desk.still-open.full": (("combobox", "Who is at this desk?"), ("button", "Described, next")),
    "desk.not-described.full": (("button", "Described, next"),),
    "desk.corrected.full": (("button", "Correct"),),
    "desk.damage.full": (("button", "Record it as a finding"), ("combobox", "Where")),
    "table.part-of.full": (("button", "One more: a part of it is packed apart"),),
}
#: With nothing on record, the same devices show these.
EMPTY: dict[str, Screens] = {
    "table": {"today": "#/today", "outbox": "#/outbox", "find": "#/tag"},
    "porter": {"porter": "#/porter", "places": "#/places"},
    "door": {"today": "#/today"},
    "manager": {
        "day": "#/day",
        "devices": "#/devices",
        "copies": "#/copies",
        "rolls": "#/rolls",
        "closing": "#/closing",
        "preflight": "#/preflight",
    },
    "desk": {"queue": "#/queue"},
}
