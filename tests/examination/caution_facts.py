"""What the rows of the shipped cautions must say, each beside its source.

The sources were read in stored copies or in somebody's summary (second-hand), or are from memory; nothing here was
checked against the law in force. Dates are those printed in the source; all were looked at on 26 November 2026.
"""

from __future__ import annotations

from typing import NamedTuple


class Fact(NamedTuple):
    """One fact: where it stands in which row, as a pattern; its publisher and title, date, and how it was read."""

    hazard: str
    member: str
    pattern: str
    publisher: str
    dated: str
    seen: str


ANTIQUES = ("Antique Firearms Regulations 2021 (SI 2021/215)", "2021", "second-hand")
CUSTOMS = ("HM Revenue and Customs, internal manual SGSELSG4100", "undated", "second-hand")
SUSPICIOUS = ("UK counter-terrorism guidance on suspicious items, through an article", "2024", "second-hand")
IVORY = ("Ivory Act 2018, section 1", "2018", "second-hand")
WORKED = ("UK government page on worked specimens", "undated", "second-hand")
BIRDS = ("NatureScot; RSPCA", "undated", "second-hand")
TISSUE = ("Human Tissue Authority, policy on sale; code of practice 7", "2014", "second-hand")
TREASURE = ("UK government, memorandum on treasure", "13 October 2023", "second-hand")
COLLECTIONS = ("Hazards in Collections, online tool", "undated", "second-hand")
RADIUM = ("A university's page on radium paint", "2018", "second-hand")
ASBESTOS = ("Health and Safety Executive, wartime respirators", "2015", "second-hand")
MERCURY = ("European Chemicals Agency, question and answer 659", "undated", "second-hand")
BOOKS = ("Poison Book Project", "undated", "second-hand")
NITRATE = ("Health and Safety Executive, leaflet INDG469", "undated", "second-hand")
TINS = ("A film maker's leaflet", "2003", "second-hand")
PLASTICS = ("Canadian Conservation Institute, Notes 15/3", "undated", "second-hand")
MEDICINES = ("Museum guidance on medical collections", "undated and 2008", "second-hand")
ELECTRICAL = ("Business Companion, second-hand electrical goods", "undated", "second-hand")
LITHIUM = ("A county fire service", "undated", "second-hand")
GRENADES = ("A museums association page", "undated", "second-hand")
DROPPINGS = ("A pharmacy's page citing a public health agency", "undated", "second-hand")
FURNITURE = ("SI 2025/531", "30 October 2025", "second-hand")
TRADING = ("Trading standards, advice to auctioneers", "undated", "second-hand")
IRAQ = ("SI 2020/707 and government pages", "2020", "second-hand")
SANCTIONS = ("UK government pages on sanctions reporting", "14 May 2025", "second-hand")
HALLMARK = ("Hallmarking Act 1973, schedule 1 and section 11", "1973, as amended", "second-hand")
WEIGHTS = ("Hallmarking Guidance Notes", "2016", "second-hand")
EXPORT = ("HM Revenue and Customs; an antiquities dealers' body", "28 June 2025", "second-hand")
ABUSE = ("Crown Prosecution Service", "undated", "second-hand")
NOTES = ("A police advice page", "undated", "second-hand")
COUNCIL = ("A council's trading standards page", "undated", "second-hand")
PRACTICE = ("common practice", "", "common-practice")
MEMORY = ("from memory", "", "from-memory")

FACTS = [
    Fact("H01", "extent", r"^Great Britain", *CUSTOMS),
    Fact("H01", "extent", r"before 1 September 1939", *ANTIQUES),
    Fact("H01", "extent", r"air weapons.* England and Wales only", *CUSTOMS),
    Fact(
        "H02",
        "extent",
        r"antique arms does not reach ammunition",
        "Home Office guide",
        "undated",
        "second-hand",
    ),
    Fact("H02", "first_minute", r"Else touch nothing\. Walk away.*From well away call", *PRACTICE),
    Fact(
        "H02",
        "first_minute",
        r"^In your hand already: lay it down gently right there.*carry it nowhere",
        *MEMORY,
    ),
    Fact("H03", "first_minute", r"In your hand already: lay it down gently right there", *MEMORY),
    Fact("H01", "first_minute", r"^Nobody touches, turns or unwraps it.*emergency number", *PRACTICE),
    Fact(
        "H69",
        "first_minute",
        r"Call the emergency number.*first-aider.*defibrillator\. Stay with them",
        *PRACTICE,
    ),
    Fact("H46", "first_minute", r"Only a person trained for it", *PRACTICE),
    Fact(
        "H03", "first_minute", r"Walk away.*When you are away, call.*no telephone or radio close", *SUSPICIOUS
    ),
    Fact("H03", "first_minute", r"nobody goes back and nobody takes a photograph", *SUSPICIOUS),
    Fact("H03", "extent", r"how far people go is for the police", *SUSPICIOUS),
    Fact("H03", "subject", r"fireworks", *PRACTICE),
    Fact("H39", "extent", r"in private since 14 July 2021", "UK news reports", "2021", "second-hand"),
    Fact("H39", "extent", r"zombie-style since 24 September 2024", "UK news reports", "2024", "second-hand"),
    Fact("H39", "extent", r"ninja swords since 1 August 2025", "SI 2025/681", "2025", "second-hand"),
    Fact("H39", "may_not", r"age makes it exempt", "UK news reports", "2021 and 2024", "second-hand"),
    Fact("H04", "who", r"on police guidance", "UK news reports", "2021 and 2024", "second-hand"),
    Fact("H38", "caution", r"prohibited in itself.*police, not a dealer", *CUSTOMS),
    Fact("H05", "caution", r"Keeping it for sale and arranging a sale are dealing", *IVORY),
    Fact("H05", "extent", r"3 March 1947 and under 10 %.*1975 under 20 %.*1918 to 320 cm2", *IVORY),
    Fact(
        "H05",
        "extent",
        r"Four further species since 28 January 2025",
        "SI 2025/9",
        "28 January 2025",
        "second-hand",
    ),
    Fact("H05", "subject", r"^(?!.*(walrus|mammoth))", *IVORY),
    Fact("H41", "extent", r"outside the Ivory Act", *IVORY),
    Fact("H41", "unchecked", r"mammoth", *MEMORY),
    Fact("H06", "caution", r"Raw teeth, skulls and horns never qualify by age", *WORKED),
    Fact(
        "H06",
        "extent",
        r"rosewood exemption is for finished instruments",
        "Music trade press",
        "2019",
        "second-hand",
    ),
    Fact("H06", "extent", r"Brazilian rosewood made after 1947", "Music trade press", "2019", "second-hand"),
    Fact(
        "H06",
        "extent",
        r"pernambuco.*stricter since December 2025",
        "Music press",
        "December 2025",
        "second-hand",
    ),
    Fact("H64", "caution", r"Never sold, at any age", *BIRDS),
    Fact("H07", "caution", r"Wild birds need a licence", *BIRDS),
    Fact("H08", "caution", r"Displaying it for sale can need a licence", *TISSUE),
    Fact("H08", "extent", r"over 100 years old are outside licensing.*living person are outside", *TISSUE),
    Fact("H09", "extent", r"^England, Wales and Northern Ireland", *TREASURE),
    Fact("H09", "extent", r"found after 30 July 2023, exceptional metal finds over 200 years", *TREASURE),
    Fact("H09", "extent", r"prehistoric base-metal groups, what lay with them", *TREASURE),
    Fact("H10", "caution", r"no longer glows still counts.*never a sealed bag or store", *COLLECTIONS),
    Fact("H10", "extent", r"Ionising Radiations Regulations 2017", *RADIUM),
    Fact("H10", "who", r"may ask for notice", *RADIUM),
    Fact("H55", "caution", r"Close the space off and air it", *RADIUM),
    Fact("H11", "extent", r"Supply is prohibited.*ten years from 13 February 2015", *ASBESTOS),
    Fact("H11", "subject", r"helmets of the first pattern, carrying bags", *ASBESTOS),
    Fact("H13", "may_not", r"made after 3 October 1957", *MERCURY),
    Fact("H13", "extent", r"over 50 years old on 3 October 2007", *MERCURY),
    Fact("H14", "caution", r"Nitrile gloves always, wash hands", *BOOKS),
    Fact("H15", "caution", r"do not air it in the hall", *MEMORY),
    Fact("H16", "extent", r"leaflet is for homes.*DSEAR, COSHH", *NITRATE),
    Fact("H16", "extent", r"Taped tins gather heat and pressure", *TINS),
    Fact("H16", "caution", r"no sealed bag", *COLLECTIONS),
    Fact("H17", "caution", r"cellulose nitrate and burns fiercely.*no hot pin, no sealed bag", *PLASTICS),
    Fact("H18", "caution", r"Some contents are controlled", *MEDICINES),
    Fact("H19", "caution", r"Do not open, touch or move", *COLLECTIONS),
    Fact("H44", "caution", r"picric acid.*Do not open, lift or box", *MEDICINES),
    Fact("H45", "caution", r"however old.*do not hand it back: that may be supply", *MEDICINES),
    Fact("H20", "extent", r"England, Scotland and Wales", *ELECTRICAL),
    Fact("H20", "caution", r"Not tested does not cure it: an approved plug and fuse", *ELECTRICAL),
    Fact("H42", "sign", r"Heat, hiss.*smoke", *LITHIUM),
    Fact("H42", "caution", r"Leave it\. Everybody out, then the emergency number", *LITHIUM),
    Fact("H21", "may_not", r"Charge, pierce.*van", *LITHIUM),
    Fact("H48", "may_not", r"Shake, empty", *GRENADES),
    Fact("H66", "caution", r"vapour harms", *GRENADES),
    Fact("H50", "caution", r"Neither sweep nor vacuum\. Fit-tested mask", *DROPPINGS),
    Fact("H25", "caution", r"Do not brush.*air it in the hall\. Fit-tested mask", *DROPPINGS),
    Fact(
        "H27",
        "extent",
        r"since 30 October 2025 certain baby goods and small mattresses are outside",
        *FURNITURE,
    ),
    Fact(
        "H27",
        "extent",
        r"cover auctioneers.*before 1950 is outside.*permanent label is still needed",
        *TRADING,
    ),
    Fact("H30", "caution", r"taken from Iraq or Syria is an offence", *IRAQ),
    Fact("H60", "extent", r"since 14 May 2025", *SANCTIONS),
    Fact("H60", "may_not", r"Tip off", *SANCTIONS),
    Fact("H31", "caution", r"notice of marks must be shown", *HALLMARK),
    Fact("H31", "extent", r"before 1950 that are of minimum fineness", *HALLMARK),
    Fact("H31", "may_not", r"tests as gold is not among the permitted words, as we read", *HALLMARK),
    Fact("H31", "extent", r"7\.78 g silver, 1 g gold, 0\.5 g platinum, 1 g palladium", *WEIGHTS),
    Fact("H32", "extent", r"mostly over 50 years.*since 28 June 2025", *EXPORT),
    Fact("H59", "caution", r"Show nobody, copy nothing, delete nothing\. Police", *ABUSE),
    Fact("H58", "caution", r"Bag it, write who brought it\. Never pass it on", *NOTES),
    Fact("H37", "caution", r"do not lift the duty", *COUNCIL),
    Fact("H35", "subject", r"^(?!.*[Ff]irework)", *PRACTICE),
    Fact("H26", "caution", r"unless it is damp, mouldy, film or celluloid", *PRACTICE),
    Fact("H49", "may_not", r"Listen closely, open", *SUSPICIOUS),
    Fact("H46", "caution", r"Look before a hand goes in", *MEMORY),
    Fact("H47", "may_not", r"Unstopper, carry", *MEMORY),
    Fact("H40", "caution", r"uncocked", *MEMORY),
    Fact("H43", "caution", r"lidded box\. Swallowed: emergency number now", *MEMORY),
    Fact("H51", "caution", r"Distance and a lid", *MEMORY),
    Fact("H52", "caution", r"Gloves.*police", *MEMORY),
    Fact("H53", "extent", r"living person is outside licensing", *TISSUE),
    Fact("H53", "may_not", r"Call it remains", *MEMORY),
    Fact("H54", "may_not", r"Eat or drink from it, grind", *MEMORY),
    Fact("H56", "may_not", r"Power", *MEMORY),
    Fact("H57", "caution", r"Nobody sniffs again", *MEMORY),
    Fact("H61", "caution", r"Displaying it can be an offence", *MEMORY),
    Fact("H62", "caution", r"No brushing", *MEMORY),
    Fact("H63", "caution", r"Do not wind, release or open", *MEMORY),
]

# How grave each kind of thing is at least. Source of each: the check behind the rows above, or from memory.
RED = {
    "H01": "guns", "H02": "ammunition", "H03": "explosives", "H16": "nitrate film", "H19": "unknown chemicals",
    "H38": "sprays and stun guns", "H39": "banned weapons", "H42": "hot lithium cell", "H44": "medical kits",
    "H45": "controlled drugs", "H47": "phosphorus", "H49": "ticking or wired", "H55": "loose radium paint",
    "H59": "abuse images", "H65": "cell swallowed", "H66": "fire grenade broken", "H67": "mercury spilled",
    "H68": "smoke, fire, gas", "H69": "someone hurt or unwell", "H90": "unknown",
}  # fmt: skip

# Beside these nobody does anything but leave, so that nothing more is asked for. Source: counter-terrorism guidance
# for suspicious items, 2024, second-hand; common practice.
NOTHING_MORE = {"H02", "H03", "H19", "H42", "H44", "H47", "H49", "H65", "H66", "H68", "H69"}

# Keeping or moving these is unlawful or dangerous, so that they are not sent home. Source: as in the rows above.
# H34 says itself that some may not be kept; of H30 it was not looked up, so that the compliance contact decides.
NOT_HOME = {*RED, "H29", "H30", "H34", "H58", "H60", "H64"}
