"""Changes that no test can notice, or that are not worth one, and why: they are not tried."""

from __future__ import annotations

#: Of a module: the line as it is, the line as it would be (every change of the line, if that is empty), and why.
MEANS_NOTHING: tuple[tuple[str, str, str, str], ...] = (
    (
        "intake/custody/in_parts.py",
        "while self._size > self._most and len(self._held) > 1:",
        "while self._size > self._most and len(self._held) != 1:",
        "the record that was put there just now is one of them: there are never none",
    ),
    (
        "intake/custody/day_on_record.py",
        "_once: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)",
        "",
        "nobody makes a day with it, compares two or prints one",
    ),
    (
        "intake/access/devices.py",
        "return found[0]",
        "return found[ -1]",
        "there is one of them: the line before asks",
    ),
    (
        "intake/records/record.py",
        "office_seq: int = 0  # the last operation that touched it; 0 if none has yet",
        "",
        "the operation that opens a record touches it before anything of it is written",
    ),
    (
        "intake/records/values.py",
        "@lru_cache(maxsize=1000)",
        "",
        "what it gives is the same, only sooner or later",
    ),
    (
        "intake/records/values.py",
        "words_gone: bool = False",
        "words_gone: bool = True",
        "who applies says it; where a move or a closing is put again nothing asks, and those have no personal words",
    ),
    *(
        (
            "intake/records/writing.py",
            "if len(parts) == 1 and parts[0][0] and not parts[0][1]:  # most have one more part, of fields alone",
            f"if len(parts) == 1 and {one}:  # most have one more part, of fields alone",
            "there is one of them",
        )
        for one in ("parts[ -1][0] and not parts[0][1]", "parts[0][0] and not parts[ -1][1]")
    ),
    (
        "intake/records/writing.py",
        "if len(parts) == 1 and parts[0][0] and not parts[0][1]:  # most have one more part, of fields alone",
        "if len(parts) == 1 and parts[0][ 1] and not parts[0][1]:  # most have one more part, of fields alone",
        "what is below writes the same, only slower",
    ),
    (
        "web/local/outbox.ts",
        "return over < 0 ? operations : operations.slice(0, over);",
        "return over <= 0 ? operations : operations.slice(0, over);",
        "it is never the first that is too much: one goes at the least",
    ),
    (
        "web/job/next_day.ts",
        'const closedAt = ({ fields: { closed } }: DayRecord) => (closed ? instant(closed.made_at) : "~");',
        'const closedAt = ({ fields: { closed } }: DayRecord) => (closed ? instant(closed.made_at) : "otherwise");',
        "any letter stands behind every instant",
    ),
    *(
        (
            "web/job/next_day.ts",
            "(other) => setUpAt(other) < closedAt(day) && setUpAt(day) < closedAt(other),",
            as_well,
            "behind when a day was set up stands its id: it is never when another one was closed",
        )
        for as_well in (
            "(other) => setUpAt(other) <= closedAt(day) && setUpAt(day) < closedAt(other),",
            "(other) => setUpAt(other) < closedAt(day) && setUpAt(day) <= closedAt(other),",
        )
    ),
    (
        "web/job/next_day.ts",
        "return doublesOf(day, days).some((other) => !isOpen(other) || setUpAt(other) < setUpAt(day));",
        "return doublesOf(day, days).some((other) => !isOpen(other) || setUpAt(other) <= setUpAt(day));",
        "no other day has its id",
    ),
    (
        "web/job/next_day.ts",
        "return heldOn(a).localeCompare(heldOn(b)) * (isOver(a) ? -1 : 1);",
        "return heldOn(a).localeCompare(heldOn(b)) / (isOver(a) ? -1 : 1);",
        "by one, or by minus one",
    ),
    (
        "web/job/number_parts.ts",
        "return !(pieces > of && numbersOn(item).some(isOnAll));",
        "return !(pieces >= of && numbersOn(item).some(isOnAll));",
        "of as many numbers as pieces the line before speaks",
    ),
    (
        "web/sync/round.ts",
        "again: false,",
        "again: true,",
        "a round says what it is before anything asks for it; this is what the type wants at the start",
    ),
    (
        "intake/custody/receipts.py",
        'model_config = ConfigDict(frozen=True, extra="forbid", strict=True)',
        'model_config = ConfigDict(frozen=True, extra="forbid", strict=False)',
        "a line has texts and a list of texts alone, which no JSON of another sort is taken for either way",
    ),
    (
        "intake/custody/moves.py",
        'model_config = ConfigDict(frozen=True, extra="forbid", strict=True)',
        'model_config = ConfigDict(frozen=True, extra="forbid", strict=False)',
        "what was packed is a text and a list of texts alone, as a receipt's line is",
    ),
    (
        "intake/sync/operations.py",
        'if words_gone and answer["outcome"] == "kept" and operation.has_words:',
        'if words_gone and answer["outcome"] <= "kept" and operation.has_words:',
        "kept, refused and waiting are all that there is, and the others come after it",
    ),
    (
        "intake/sync/operations.py",
        'operation: Operation, office_seq: int, *, words_gone: bool = False, goes_on_from: str = ""',
        'operation: Operation, office_seq: int, *, words_gone: bool = True, goes_on_from: str = ""',
        "who applies says it, and what a refusal leaves, a tie or a closing, has no personal words",
    ),
    (
        "intake/sync/log.py",
        "NO_PLACE = -1  # of one that another device made, and so has no place in the order of the one that sent it",
        "NO_PLACE = - 2  # of one that another device made, and so has no place in the order of the one that sent it",
        "places are counted from 1 on: whatever is below nought is none",
    ),
    (
        "intake/sync/log.py",
        "OUTDATED = 0  # the office's apply_version while its tables have to be made anew",
        "",
        "it is the number of no version, whichever it is",
    ),
    (
        "intake/sync/log.py",
        "self, operation: Operation, logged: Logged, answer: dict[str, Any], *, erased: bool = False",
        "self, operation: Operation, logged: Logged, answer: dict[str, Any], *, erased: bool = True",
        "who appends says it",
    ),
    (
        "intake/sync/rebuild.py",
        "IN_HAND_LIMIT = 2000  # operations whose records are held in memory at once",
        "",
        "what comes out is the same; it is only a matter of memory",
    ),
    (
        "intake/sync/rebuild.py",
        "if len(rows) == 1:",
        "if len(rows) <= 1:",
        "there is no part of no rows: one of two or more has two halves",
    ),
    (
        "intake/cataloguing/queue.py",
        "",
        "def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:",
        "of an edit it is the operation itself that is asked, also where a value is settled on",
    ),
    (
        "intake/cataloguing/queue.py",
        'if value["state"] != "described":',
        'if value["state"] > "described":',
        "it is the first of the three states",
    ),
    (
        "intake/tagging/rolls.py",
        "",
        "def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:",
        "the same of who gets a roll",
    ),
    (
        "intake/examination/cautions.py",
        "",
        "def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:",
        "the same of what was decided of one",
    ),
    (
        "intake/examination/cautions.py",
        'Stop(caution.still_allowed or [], decided=False) for caution in (said, row) if caution.level == "red"',
        'Stop(caution.still_allowed or [], decided=False) for caution in (said, row) if caution.level >= "red"',
        "red is the last of the three levels",
    ),
    (
        "intake/examination/cautions.py",
        'decided = is_decided(same, name) and same.value(name)["decision"] == "returned"',
        'decided = is_decided(same, name) and same.value(name)["decision"] >= "returned"',
        "it is the last of the four decisions",
    ),
    (
        "intake/photos/store.py",
        "WRITERS = 4  # so many photos wait for the disk side by side",
        "",
        "what is written is the same, only sooner or later",
    ),
    (
        "intake/photos/parts.py",
        "WRITTEN_AT_ONCE = 1024 * 1024",
        "",
        "what is written is the same, in more pieces or in fewer",
    ),
    (
        "intake/photos/parts.py",
        "folder.mkdir(parents=True, exist_ok=True)",
        "folder.mkdir(parents=False, exist_ok=True)",
        "it lies in the folder of the store that it is given, which made that",
    ),
    *(
        (
            "web/local/held.ts",
            "onTheirWay.set(name, (onTheirWay.get(name) ?? 1) - 1);",
            f"onTheirWay.set(name, (onTheirWay.get(name) ?? {other}) - 1);",
            "it was counted before the write began; the type alone asks for another number",
        )
        for other in ("(1 + 1)", "0")
    ),
    *(
        (
            "web/local/keeping.ts",
            '.sort((a, b) => (a.confirmed_at ?? "").localeCompare(b.confirmed_at ?? ""));',
            f'.sort((a, b) => (a.confirmed_at ?? "{one}").localeCompare(b.confirmed_at ?? "{other}"));',
            "what is at the office has the time at which it was confirmed; the type alone asks for another text",
        )
        for one, other in (("otherwise", ""), ("", "otherwise"))
    ),
    (
        "web/local/keeping.ts",
        "const { quota = 0, usage = 0 } = (await navigator.storage?.estimate?.()) ?? {};",
        "const { quota = 0, usage = (0 + 1) } = (await navigator.storage?.estimate?.()) ?? {};",
        "a browser says both or neither, and of neither nothing is worked out",
    ),
    (
        "web/sync/round.ts",
        "if (Math.abs(behind(officeTime)) > TAKEN_MS)",
        "if (Math.abs(behind(officeTime)) >= TAKEN_MS)",
        "a clock that is off by just so much may be put right or left: neither is known to be the truer",
    ),
    (
        "web/sync/send_operations.ts",
        "const BATCH_BYTES = 512 * 1024;",
        "const BATCH_BYTES = (512 + 1) * 1024;",
        "a batch may be so much larger: no line is known to the kibibyte",
    ),
    (
        "web/sync/read.ts",
        "let toldHolding = -1;",
        "let toldHolding = -(1 + 1);",
        "no device holds less than nothing: either says that the office was told of none yet",
    ),
    (
        "web/local/told.ts",
        "const isAsTold = (here.office_seq ?? 0) <= (known.visit.office_seq ?? 0);",
        "const isAsTold = (here.office_seq ?? (0 + 1)) <= (known.visit.office_seq ?? 0);",
        "what the office tells has its number there, which is 1 at the least",
    ),
    (
        "web/sync/sync.ts",
        'round.officeTime = "";',
        "",
        "whatever asks for it has heard it in the same round, or nothing of the round was answered",
    ),
    (
        "web/job/custody.ts",
        'const holder = (inner: ThingRecord, piece?: string) => byId.get(containerIdOf(inner, piece) ?? "");',
        'const holder = (inner: ThingRecord, piece?: string) => byId.get(containerIdOf(inner, piece) ?? "otherwise");',
        "no container has either for its id",
    ),
    (
        "web/job/origins.ts",
        'const origin = value.origin ?? "";',
        'const origin = value.origin ?? "otherwise";',
        "only what has an origin is asked about",
    ),
    (
        "web/local/photos.ts",
        "if (error instanceof StorageFull && (await makeRoom(2 * bytes))) return store();",
        "if (error instanceof StorageFull && (await makeRoom((2 + 1) * bytes))) return store();",
        "what is made room for is the picture, and more than it needs either way",
    ),
    (
        "web/job/unsettled.ts",
        'tests: ["no-response", "works-in-part", "not-done", "works"],',
        'tests: ["no-response", "works-in-part", "not-done", "otherwise"],',
        "it is the least of the four, ranked or not",
    ),
    (
        "web/local/changes.ts",
        'changes.filter(({ store }) => store !== "photo_bytes").map(({ store, key }) => [store, key]),',
        'changes.filter(({ store }) => store !== "otherwise").map(({ store, key }) => [store, key]),',
        "another tab keeps no picture's bytes in memory: it would read them and pass over them, which is only slower",
    ),
    (
        "web/local/store_opened.ts",
        'const item_id = opened.record_ids[0] ?? "";',
        "",
        "an entry comes with its record; the type alone asks for another text",
    ),
    (
        "web/job/with_owner.ts",
        'return [...listed(oneThing(thing), "moves/")].sort((a, b) => (key(a) < key(b) ? -1 : 1));',
        'return [...listed(oneThing(thing), "moves/")].sort((a, b) => (key(a) <= key(b) ? -1 : 1));',
        "no two moves have one id",
    ),
    (
        "web/job/one_thing.ts",
        'return gone === "taken-back" ? 2 : gone ? 0 : 1;',
        'return gone === "taken-back" ? (2 + 1) : gone ? 0 : 1;',
        "it is still the heaviest",
    ),
    (
        "web/job/naming.ts",
        "counts.set(word, (counts.get(word) ?? 0) + 1);",
        "counts.set(word, (counts.get(word) ?? 0) + (1 + 1));",
        "twice as many of each come in the same order",
    ),
    (
        "intake/custody/containers.py",
        "return False",
        "return True",
        "an opening never ends as a disagreement, whatever this says",
    ),
    (
        "web/job/closing.ts",
        'return { kind: "one-name", words, at: "#/day", key: keyOf("one-name", people[0]?.person_id ?? "") };',
        'return { kind: "one-name", words, at: "#/day", key: keyOf("one-name", people[0]?.person_id ?? "otherwise") };',
        "there are two of them at least; the type alone asks for another text",
    ),
    (
        "web/job/operation.ts",
        'return String(member(op, saysOf(op)?.record ?? "record_id") ?? "");',
        'return String(member(op, saysOf(op)?.record ?? "record_id") ?? "otherwise");',
        "no record has either for its id",
    ),
    (
        "web/job/date_forms.ts",
        'const end = endAt(yearOf(found[1] ?? "", found[2]));',
        'const end = endAt(yearOf(found[1] ?? "otherwise", found[2]));',
        "what was found has its digits; the type alone asks for another text",
    ),
    (
        "web/job/typed_names.ts",
        'const isCount = count > 0 && figures.length < 4 && !figures.startsWith("0") && !isUnit(things, english);',
        'const isCount = count > 0 && figures.length <= 4 && !figures.startsWith("0") && !isUnit(things, english);',
        "a number of four figures is in figures either way",
    ),
    (
        "web/job/day_facts.ts",
        ".map((people) => people.sort((a, b) => (a.person_id < b.person_id ? -1 : 1)));",
        ".map((people) => people.sort((a, b) => (a.person_id <= b.person_id ? -1 : 1)));",
        "no two people have one id",
    ),
    (
        "web/job/described.ts",
        "return OF_ENTRY.has(key) && !isOwn && (seqs.get(set.operation_id) ?? 0) > described;",
        "return OF_ENTRY.has(key) && !isOwn && (seqs.get(set.operation_id) ?? 0) >= described;",
        "the operation that described it set nothing else of it",
    ),
    (
        "web/job/unmeasured.ts",
        'return Boolean(extent_mm || extent_percent || extent_words?.trim() || SIZE.test(note ?? ""));',
        'return Boolean(extent_mm || extent_percent || extent_words?.trim() || SIZE.test(note ?? "otherwise"));',
        "neither is a size",
    ),
    (
        "web/job/denied_words.ts",
        'const way = isThing ? "thing" : signOn(term, zone) ? `sign ${term?.sign_prep ?? "of"}` : "that";',
        'const way = isThing ? "thing" : signOn(term, zone) ? `sign ${term?.sign_prep ?? "otherwise"}` : "that";',
        "no term has either for its own, and what is denied alike is only put together by it",
    ),
    (
        "web/job/kinds_read.ts",
        "return says.longest?.[member.slice(dot + 1)] ?? 0;",
        "return says.longest?.[member.slice(dot + 1)] ?? (0 + 1);",
        "only a member that takes text is asked about; the type alone asks for another number",
    ),
    (
        "web/job/one_thing.ts",
        "joinedOnce.set(record, fields);",
        "",
        "what is joined each time is the same, only later",
    ),
    (
        "web/local/unsent.ts",
        'if (stay.length < all.length) await tx.remember("unsent", Object.fromEntries(stay));',
        'if (stay.length <= all.length) await tx.remember("unsent", Object.fromEntries(stay));',
        "what is written then is what stood there",
    ),
    (
        "intake/sync/ready.py",
        "KEPT_BYTES = 96 * 1024 * 1024",
        "",
        "what is sent is the same; it is only a matter of memory",
    ),
    (
        "intake/sync/ready.py",
        'circle = asker.day_id, tuple(asker.parts(own="", asked=False))',
        'circle = asker.day_id, tuple(asker.parts(own="visit", asked=False))',
        "who differs in what is their own keeps it apart, and is sent the same",
    ),
    (
        "intake/sync/ready.py",
        "self._circles.popitem(last=False)",
        "self._circles.popitem(last=True)",
        "what is sent is the same, only sooner or later",
    ),
    *(
        (
            "intake/custody/receipt_lines.py",
            line,
            line.replace("or 0", f"or {other}"),
            "neither stands on a receipt",
        )
        for line, other in (
            ('severity = finding["severity"] or 0', " -1"),
            ('severity = (finding["severity"] or 0) - VISIBLE', "1"),
            ('severity = (finding["severity"] or 0) - VISIBLE', " -1"),
        )
    ),
    (
        "intake/custody/loads.py",
        """part = f", {part_words(thing, tag)}" if (tag.get("of") or 1) > 1 else \"\"""",
        """part = f", {part_words(thing, tag)}" if (tag.get("of") or 1) != 1 else \"\"""",
        "nothing is of less than one",
    ),
    (
        "intake/records/record.py",
        "others: Callable[[], list[Record]] = field(default=list, compare=False, repr=False)",
        "",
        "no record is compared with another or printed, and who reads a day says which others there are",
    ),
    *(
        (
            "web/sync/send_operations.ts",
            'if (outcome === "waiting") waits = true;',
            line,
            "only whether both came is asked, and both are found all the same",
        )
        for line in (
            'if (!(outcome === "waiting")) waits = true;',
            'if (outcome !== "waiting") waits = true;',
        )
    ),
    (
        "intake/cataloguing/listing.py",
        "def list_state(item: Record, fields: Said, *, is_stopped: bool) -> str:",
        "def list_state(item: Record, fields: Said, /, is_stopped: bool) -> str:",
        "who calls it names what it is told by name",
    ),
    (
        "intake/cataloguing/sentences.py",
        "SentenceKeys = Annotated[list[SentenceKey], Field(max_length=400)]",
        "SentenceKeys = Annotated[list[SentenceKey], Field(max_length= 399)]",
        "a sentence speaks of some fields of one record: the bound is only against what is none",
    ),
    (
        "web/sync/send_operations.ts",
        "round.officeTime = answered.office_time;",
        "",
        "the feed that is read in the same round says it as well; what was answered goes a round sooner or later",
    ),
    (
        "web/job/sealed.ts",
        "return [...crossed.values()].sort((one, other) => (one.thing.record_id < other.thing.record_id ? -1 : 1));",
        "return [...crossed.values()].sort((one, other) => (one.thing.record_id <= other.thing.record_id ? -1 : 1));",
        "each thing is there once, and no two have one id",
    ),
    *(
        (
            "intake/access/devices.py",
            'return (row["devices"], row["paired_at"]) if row else (0, None)',
            f'return (row["devices"], row["paired_at"]) if row else ({one}, None)',
            "whoever counts has a row; the type alone asks for another",
        )
        for one in (" 1", " -1")
    ),
    (
        "intake/records/in_hand.py",
        "self.tx, record_id, kind, day_id, source.office_seq, whole, new=True",
        "self.tx, record_id, kind, day_id, source.office_seq, whole, new=False",
        "nothing of it stands in the tables yet: who asks them finds nothing, only later",
    ),
    (
        "intake/examination/cautions.py",
        'if caution["level"] == "amber"',
        'if caution["level"] <= "amber"',
        "it comes before the other two by its letters",
    ),
    (
        "intake/sync/chain.py",
        "HEARD_EVERY = 2000  # rows",
        "",
        "how often it is heard of, and how many rows are read at once, changes nothing of what is said",
    ),
    (
        "intake/custody/kept_closings.py",
        "KEPT_BYTES = 16 * 1024 * 1024",
        "",
        "a bound by the size of the machine: that there is one is tried, and what is kept no longer is made anew",
    ),
    (
        "intake/sync/rebuild.py",
        'newest = tx.value("SELECT max(office_seq) FROM operation_log") or 0',
        'newest = tx.value("SELECT max(office_seq) FROM operation_log") or -1',
        "of an empty log nothing is placed; only whoever watches is told of less than nothing",
    ),
    (
        "intake/disk.py",
        "put(file, view, directly=len(view) // PAGE * PAGE if DIRECT else 0)",
        "put(file, view, directly=len(view) // PAGE * PAGE if not DIRECT else 0)",
        "the bytes are the same, only the memory that they pass through is another",
    ),
    (
        "web/job/closing_reasons.ts",
        "const sorted = lines.sort((a, b) => (a.key < b.key ? -1 : 1));",
        "const sorted = lines.sort((a, b) => (a.key <= b.key ? -1 : 1));",
        "there is one line of each key, or the same line again",
    ),
    (
        "web/job/changed_since.ts",
        '"closed",',
        '"otherwise",',
        "a closing is no later than itself; it is named beside the others for whoever reads",
    ),
    *(
        (
            "web/sync/full_phone.ts",
            'const heardTo = { scope: "", from: 0, to: 0 };',
            f'const heardTo = {{ scope: "", from: {start}, to: {to} }};',
            "no device's scope is empty, so that none of the rest is read before it is set",
        )
        for start, to in (("(0 + 1)", "0"), ("0", "(0 + 1)"))
    ),
    (
        "web/local/told.ts",
        "const isAsTold = (here.office_seq ?? 0) <= (known.visit.office_seq ?? 0);",
        "const isAsTold = (here.office_seq ?? 0) <= (known.visit.office_seq ?? (0 + 1));",
        "whatever the office tells has its place; the type alone asks for another",
    ),
)


def means_nothing(path: str, old: str, new: str) -> bool:
    return any(
        (path, old) == (module, was) and becomes in ("", new) for module, was, becomes, _ in MEANS_NOTHING
    )
