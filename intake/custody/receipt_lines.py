"""A thing as one line of a receipt would read now; the app, where owners read it, has it in `web/job/receipt.ts`."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from intake.custody.counted_things import counted_things
from intake.custody.day_on_record import DayOnRecord, values_of
from intake.custody.failed_trials import failed_trials
from intake.custody.found_behind import found_behind
from intake.custody.number_parts import (
    count_alike,
    is_in_parts,
    part_name,
    part_words,
    pieces_back,
)
from intake.custody.on_more import most_here, on_counted
from intake.custody.whereabouts import thing_name
from intake.custody.with_owner import (
    is_back_with_owner,
    is_on_piece_away,
    numbers_on,
    piece_count,
    pieces_away,
    tags_back,
    tags_here,
    words_in_line,
)
from intake.examination.findings import SET, most_counted
from intake.examination.whole_thing import cautions_on
from intake.in_words import counted
from intake.records.record import Record
from intake.tagging.tags import shown

Finding = dict[str, Any]

MOST_WORDS = 400  # what one line holds, in UTF-16 units
#: What its name may take of them, and the list of its pieces with it: count, held and what is not said by name fit
#: behind these.
MOST_NAME = 250
MOST_WITH_COUNTS = 300  # and what was counted of it with these
VISIBLE = 2  # from this severity on a fault stands on the receipt
HELD_WORDS = "held apart"
#: The same as receipts of before said it, also of what no owner had been told.
HELD_FORMERLY = "held apart, as the owner was told"
OPEN_WORDS = "which of the pieces not noted"  # as receipts of before said it once, behind all faults
OPEN_PIECE = "on which piece not noted"  # behind each fault of which that is so
SLIGHT_WORDS = "slight faults are on record besides"  # of what a receipt does not name
#: Zones that are beside the pieces of a set, and on none of them.
BESIDE = frozenset(
    f"{SET} documents note-paper papers packaging box box-flaps slipcase extras accessories".split()
)
#: Words of a note that say which piece a fault is on, or on how many: with a noun for a piece, or of all of them, or by
#: themselves at the end of what they say. A number alone is a year or the hour on a clock's face, and what is left of
#: the handle is on no left one.
NUMBERS = r"one|two|three|four|five|six|\d+"
ONES = "first|second|third|fourth|fifth|sixth|last|(?:larg|small|tall|short)(?:er|est)|other|another|odd"
ALL = "all|both|each|every|either|neither"
BEFORE_NOUN = re.compile(
    rf"\b(?:{ALL}|{NUMBERS}|{ONES}|left|right)(?:-hand)? (?=(\w+))", re.ASCII | re.IGNORECASE
)
SAYS_WHICH = re.compile(
    r"\b(?:piece|number|no|nr)s?\.? \d|\bthe (?:first|second|third|fourth|fifth|sixth)\b"
    rf"|\b(?:{ALL}|{NUMBERS}|{ONES}|left|right) of (?:them\b|these\b|the (?:{NUMBERS}|set|pair|pieces)\b)"
    rf"|\b(?:the (?:{ONES})|both|each|neither|all(?: (?:{NUMBERS}))?)"
    r"(?= *(?:\Z|[,.;:]| (?:and|is|are|has|have|only|from)\b))",
    re.ASCII | re.IGNORECASE,
)
#: Nouns for a piece, whatever the set is of.
PIECE_NOUNS = frozenset({"one", "ones", "piece", "pieces", "example", "examples"})
SEVERITIES = ("moderate", "serious", "severe")
#: What a zone is, and no thing on it: "dial repainted".
STATES = frozenset(
    {
        "converted",
        "filled",
        "laid-down",
        "over-cleaned",
        "patched",
        "re-covered",
        "re-plated",
        "re-sewn",
        "re-stuffed",
        "rebound",
        "refinished",
        "relined",
        "repainted",
        "resized",
        "restuck",
        "retouched",
        "runs-untimed",
        "seized",
        "slack",
        "stiff",
        "stops",
        "trimmed",
    }
)
WHOLE = "outline"  # the zone of all of it: what is missing of that is none of the pieces
#: What is not there any more.
MISSING = {"missing-part": "part", "stone-missing": "stone", "leaf-missing": "leaf"}
#: What is missing of a zone that is called by another thing on it.
LOST_THERE = {"bow-brand": "bow hair", "crown": "pate", "voice": "voice box"}
MOST_NOTE = 100  # of the note on what is missing


@dataclass(frozen=True)
class LineNow:
    """What a line of a thing would say now."""

    tags: list[str]
    words: str
    class_id: str | None


def is_visible(finding: Finding) -> bool:
    """Whether a fault stands on the receipt; what is missing does, however slight."""
    severity = finding["severity"] or 0
    return not finding["withdrawn"] and (severity >= VISIBLE or (severity > 0 and finding["term"] in MISSING))


def is_slight(finding: Finding) -> bool:
    return not finding["withdrawn"] and (finding["severity"] or 0) > 0 and not is_visible(finding)


def fault_name(finding: Finding) -> str:
    """A fault as receipts of before said it."""
    return f"{spaced(finding['term'])}, {zone_name(finding['zone'])}"


def fault_on_it(finding: Finding) -> str:
    """A fault and where it is as an owner reads it, with no vocabulary, so that every device says the same."""
    term, zone = finding["term"], finding["zone"]
    fault, place = spaced(term), "" if zone == "outline" else zone_name(zone)
    if lacks := MISSING.get(term):
        if zone == SET:
            return f"a {lacks} of the set is missing"
        return f"a {lacks} is missing: {place}" if place else f"a {lacks} is missing"
    if term in STATES:
        return f"{place} {fault}".strip()
    return f"{fault} on the {place}" if place else fault


def fault_named(finding: Finding) -> str:
    """And what it is that is missing, as far as that was noted: "a part of the set is missing (one saucer of six)"."""
    term, zone = finding["term"], finding["zone"]
    if term not in MISSING:
        return fault_on_it(finding)
    lost = LOST_THERE.get(zone) if term == "missing-part" else None
    named = f"a part is missing: {lost}" if lost else fault_on_it(finding)
    # A semicolon stands between the parts of a line.
    spaces_once = re.sub(r"[ \t\r\n]+", " ", (finding.get("note") or "").replace(";", ","))
    note = re.sub(r"\A |[ .,:]+\Z", "", spaces_once)
    if units(note) > MOST_NOTE:
        note = re.sub(r"\s+\S*\Z", "", beginning(note, MOST_NOTE)) + " …"
    return f"{named} ({note})" if note and f" {note.lower()}" not in f" {named}" else named


def fault_in_figures(finding: Finding, named: str = "") -> str:
    """A fault with how grave and how large it is in figures, as receipts of before said it, too."""
    severity = (finding["severity"] or 0) - VISIBLE
    long = " x ".join(str(finding[side]) for side in ("extent_mm", "extent_mm_across") if finding.get(side))
    count, percent = finding.get("extent_count"), finding.get("extent_percent")
    parts = [
        named or fault_name(finding),
        SEVERITIES[severity] if 0 <= severity < len(SEVERITIES) else "",
        f"{long} mm" if long else "",
        f"{count} of them" if count else "",
        f"{percent} %" if percent else "",
    ]
    return ", ".join(filter(None, parts))


def fault_as_listed(finding: Finding) -> str:
    """The same as receipts of before said it, in the words of lists."""
    return fault_words(finding, fault_name(finding), spaced)


def fault_on_bare_side(finding: Finding) -> str:
    """And as they said it with a side as lists name it: "viewers right"."""
    return fault_words(finding, fault_on_it(finding), spaced)


def side_in_line(side: str) -> str:
    """A side as an owner reads it: "viewer's right", "upper part", "3 o'clock"."""
    if hour := re.fullmatch(r"clock-(\d+)", side, re.ASCII):
        return f"{hour[1]} o'clock"
    return f"{side} part" if side in ("upper", "lower") else zone_name(side)


def fault_in_line(finding: Finding, *, is_open: bool = False) -> str:
    """A fault as a line has it now, and beside it, where nobody noted on which of several pieces it is, that."""
    return ", ".join(
        filter(None, [fault_words(finding, fault_named(finding)), OPEN_PIECE if is_open else ""])
    )


def fault_words(finding: Finding, named: str = "", side_words: Callable[[str], str] = side_in_line) -> str:
    """A fault with all that tells it from another one in its place: how grave, how large, on which side, on which of
    several pieces."""
    side = finding.get("side")
    on_side = side_words(side) if side and not finding["zone"].endswith(f"/{side}") else ""
    # A semicolon stands between the parts of a line.
    in_words = (finding.get("extent_words") or "").replace(";", ",")
    figures = fault_in_figures(finding, named or fault_on_it(finding))
    return ", ".join(filter(None, [figures, on_side, in_words, piece_in_line(finding)]))


def piece_in_line(finding: Finding) -> str:
    """On which piece a fault is, or on how many, and which in somebody's words: "on the left one", "on piece 3", "on 2
    of the pieces (those with a gilt rim)"."""
    piece, count = finding.get("piece"), finding.get("piece_count")
    words = words_in_line(finding.get("piece_words"))
    told = f" ({words})" if words else ""
    if count:
        return f"on {count} of the pieces{told}"
    if not piece or piece == "not-noted":
        return ""
    return (f"on piece {piece}" if piece.isdecimal() else f"on the {piece} one") + told


def is_piece_open(finding: Finding, called: str) -> bool:
    """Whether nothing says which of several pieces, `called` by one name, a fault is on."""
    of_all = finding["zone"] in BESIDE or (finding["zone"] == WHOLE and finding["term"] in MISSING)
    if not finding["severity"] or of_all or piece_in_line(finding):
        return False
    return not says_which(finding.get("note") or "", called)


def says_which(note: str, called: str) -> bool:
    """Whether a note says which piece it speaks of: "the left vase" of two vases, but not "the left ear"."""
    if SAYS_WHICH.search(note):
        return True
    names = re.split(r"[\W\d_]+", called.lower())
    nouns = [found[1].lower() for found in BEFORE_NOUN.finditer(note)]
    return any(noun in PIECE_NOUNS or any(is_one_noun(name, noun) for name in names) for noun in nouns)


def is_one_noun(a: str, b: str) -> bool:
    """Whether two words are one noun, as "knife" and "knives", "glass" and "glasses"."""
    short, long = sorted((a, b), key=len)
    # Of the shortest, such as "key", no more than an s is told apart from the beginning of another noun.
    if len(short) > 1 and long in (short, f"{short}s"):
        return True
    stem = re.sub(r"(?:s|f|fe|y)\Z", "", short)
    ends = long.removeprefix(stem)
    is_begun = len(stem) > 2 and long.startswith(stem)
    return is_begun and re.fullmatch(r"s?(?:es)?|ve|ves|ies?|ys?|fe?", ends) is not None


def receipt_line(
    item: Record,
    day: DayOnRecord,
    wording: Callable[[Finding], str] | None = None,
    *,
    with_all_faults: bool = False,
) -> LineNow:
    """The gravest faults first, then what did not work, and none of what went back while others stay, unless
    `with_all_faults`: as it was signed for while they were here. `wording` is how a fault is said where
    a receipt of before is read."""
    thing = day.same_thing(item)
    here = most_counted(item) if with_all_faults else most_here(item)
    on_record = [*values_of(item, "findings/"), *found_behind(item)]
    visible = [on_counted(item, one, here) for one in on_record if is_visible(one)]
    found = [one for one in visible if with_all_faults or not is_on_piece_away(item, one)]
    slight = any(is_slight(one) and (with_all_faults or not is_on_piece_away(item, one)) for one in on_record)
    found.sort(key=lambda finding: -finding["severity"])
    held = any(standing.caution["level"] != "note" for standing in cautions_on(thing))
    called = item.value("short_description") or ""
    is_several = count_alike(item) > 1

    def said(one: Finding) -> str:
        is_open = is_several and is_piece_open(one, called)
        return wording(one) if wording else fault_in_line(one, is_open=is_open)

    ends = [HELD_WORDS if held else ""]
    faults = [*map(said, found), *(words for words, _ in failed_trials(thing))]
    words = where_it_fits(
        in_one_line(name_in_line(item), pieces_and_counts(thing), faults, ends),
        SLIGHT_WORDS if slight else "",
    )
    return LineNow(numbers_here(thing), words, beginning(item.value("class_id") or "", MOST_WORDS) or None)


def in_one_line(name: str, pieces: str, faults: list[str], ends: list[str]) -> str:
    """What does not fit is counted, and no word is cut."""
    for count in range(len(faults), -1, -1):
        more = len(faults) - count
        rest = f"and {counted(more, 'more fault')}" if more else ""
        words = "; ".join(filter(None, [name, pieces, *faults[:count], rest, *ends]))
        if not count or units(words) <= MOST_WORDS:
            return words
    return ""


def where_it_fits(line: str, end: str) -> str:
    """What takes the place of no fault: one that is slight and said later changes nothing else of a line."""
    words = "; ".join(filter(None, [line, end]))
    return words if units(words) <= MOST_WORDS else line


def name_in_line(item: Record) -> str:
    """What a thing is called, with as many whole words as leave room for the rest of the line."""
    name = thing_name(item)
    if units(name) <= MOST_NAME:
        return name
    whole_words = re.sub(r"\s+\S*\Z", "", beginning(name, MOST_NAME))
    return f"{whole_words} …"


def numbers_here(thing: list[Record]) -> list[str]:
    """The numbers on a thing whose pieces are here; those on a record that stands behind it are on the same thing."""
    return tags_here(thing[0])


def pieces_words(item: Record) -> str:
    """How many pieces are here: those with a number each, or more as they were counted; of one piece nothing is said.
    Of one whose numbers are on parts its pieces are those that were counted, and which part went is said by name."""
    if is_back_with_owner(item):
        return "back with the owner"
    of_them, back = pieces_listed(item), pieces_back(item)
    counted_here = count_words(item, of_them, back)
    if back:
        return counted_here
    gone = parts_gone(item)
    named = ", ".join(filter(None, [of_them, f"{gone} back with the owner" if gone else ""]))
    if of_them or (gone and counted_here):
        return f"{counted_here or 'pieces'}: {named}"
    return counted_here or named


def parts_gone(item: Record) -> str:
    """What went under a number that is on none of the pieces that were counted: "the cover"."""
    if not pieces_away(item) or not is_in_parts(item):
        return ""
    numbers = numbers_on(item)
    return ", ".join(dict.fromkeys(part_words(item, numbers[tag].value) for tag in tags_back(item)))


def parts_named(item: Record) -> list[str]:
    """Which number is on which part, of those that are named: "the cover under 7K3-QW5"."""
    names = {tag: part_name(item, tag) for tag in tags_here(item)}
    return [f"{name} under {shown(tag)}" for tag, name in names.items() if name]


def pieces_and_counts(thing: list[Record]) -> str:
    """And which number is on which part, and what was counted of it, where there is room. Of what went back in part
    nobody knows how many are here."""
    item = thing[0]
    pieces, said = pieces_words(item), "" if pieces_away(item) else counted_things(thing)
    for parts in ([pieces, *parts_named(item), said], [pieces, said]):
        every = "; ".join(filter(None, parts))
        if units(name_in_line(item)) + units(every) <= MOST_WITH_COUNTS:
            return every
    return pieces


def count_words(item: Record, of_them: str, back: int) -> str:
    """Those that are here have `of_them` beside them where some went, or it would read as what went."""
    numbered, in_parts = piece_count(item), is_in_parts(item)
    of = count_alike(item) if in_parts else max(numbered, item.value("pieces") or 1)
    if back:
        here = f" ({of_them})" if of_them else ""
        return f"{of - back} of {of} pieces here{here}, {back} back with the owner"
    if in_parts and of == 1 and not parts_named(item) and not pieces_away(item):
        return f"under {numbered} numbers"
    words = f"{of} pieces"
    if of == numbered > 1:
        return words
    # "dinner service, 58 pieces" says it by its name.
    return words if of > 1 and f" {words}" not in f" {thing_name(item)}" else ""


def pieces_before(item: Record) -> str:
    """The same as receipts of before said it, that took as many numbers for as many pieces."""
    numbered, back, of_them = piece_count(item), len(pieces_away(item)), pieces_listed(item)
    of = max(numbered, item.value("pieces") or 1)
    if back:
        here = f" ({of_them})" if of_them else ""
        return f"{of - back} of {of} pieces here{here}, {back} back with the owner"
    is_called = of != numbered and f" {of} pieces" in f" {thing_name(item)}"
    words = "" if of < 2 or is_called else f"{of} pieces"
    return f"{words or 'pieces'}: {of_them}" if of_them else words


def pieces_listed(item: Record) -> str:
    """What unlike pieces it consists of, as far as that was listed and without those that went back: "2 chisels,
    plane". No line is cut: what does not fit is counted."""
    lines = [line for line in item.values("listed/").values() if not line["withdrawn"]]
    most, numbers = MOST_NAME - units(name_in_line(item)), numbers_on(item)
    went = Counter(words_in_line(numbers[tag].value.get("mark")) for tag in tags_back(item))
    here: list[str] = []
    for line in lines:
        words = words_in_line(line["words"])
        is_all_gone = line["count"] > 1 and went[f"{line['count']} {words}"] > 0
        gone = line["count"] if is_all_gone else min(went[words], line["count"])
        went[words] -= gone
        if words and (count := line["count"] - gone):
            here.append(f"{count} {words}" if count > 1 else words)
    for fit in range(len(here), 0, -1):
        more = [f"and {len(here) - fit} more"] if fit < len(here) else []
        if units(said := ", ".join([*here[:fit], *more])) <= most:
            return said
    return ""


def units(text: str) -> int:
    """The length of a text as the app counts it."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def beginning(text: str, most: int) -> str:
    """As much of a text as fits; no character is cut in half."""
    return text.encode("utf-16-le", "surrogatepass")[: 2 * most].decode("utf-16-le", "ignore")


def spaced(name: str | None) -> str:
    """The name of something for people: "under-a-lamp" is "under a lamp", and "re-sewn" stays one word."""
    return re.sub(r"(\bre)?-", lambda found: "re-" if found[1] else " ", name or "", flags=re.ASCII)


def zone_name(zone: str | None) -> str:
    """A zone's name for people: "ears, proper right"."""
    return (zone or "").replace("viewers-", "viewer's-", 1).replace("-", " ").replace("/", ", ", 1)
