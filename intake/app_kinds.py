"""The app's table of kinds, written from the office's own models into web/job/kinds.ts.

What a kind says of itself in Python (its record, the field it sets, how long its words may be ...) the app reads from
this table, so that it is said once. `python -m intake.app_types` writes the file, and a test holds it current.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, get_args

from intake.app_lines import STEP, assigned, text, union
from intake.arrival.days import CURRENCIES
from intake.arrival.items import DATE_CERTAINTIES, MAKER_CERTAINTIES
from intake.custody.moves import OF_OWNER, RecordMove
from intake.edits import Edit
from intake.examination import stopped
from intake.examination.findings import TOLD, RecordFinding
from intake.families import FAMILIES, family_of
from intake.operation import FIELD_KINDS, KINDS, HandsOn, Opening, Operation
from intake.sync.kinds import READ_OPERATION, STEPS

FILE = Path(__file__).parents[1] / "web" / "job" / "kinds.ts"
HEAD = """/**
 * What each kind of operation says of itself, and which kind sets the fields of a family.
 *
 * Written by `python -m intake.app_types` from the office's models. Change the models, then write it anew.
 */
import type { Kind } from "./operations.ts";

export interface KindSays {
  /** The member that has the id of the record which it changes or opens. */
  record: string;
  /** Whether it opens that record. */
  opens?: true;
  /** The roles of device that may make it; the manager's may make every kind. */
  roles: readonly string[];
  /** The field that it sets; what stands in [ ] is left out if its member is null. */
  field?: string;
  /** The members that make the field's value, or the one member that is all of it. */
  value?: readonly string[] | string;
  /** Members of it that stand in the value only if something was said with them. */
  if_said?: readonly string[];
  /** What members are that a device left out; null if nothing is said here. */
  left_out?: Readonly<Record<string, unknown>>;
  /** Fields that it sets and that are never set again: a second one is refused. */
  once?: readonly string[];
  /** Whether one that was never tried to send may be changed in place. */
  replaceable?: true;
  /** Its words that stay out of the log and may be erased; salt is among them. `lines.words` are those of each line. */
  personal?: readonly string[];
  /** Of a kind that sets any of several fields, those whose words are personal. */
  personal_fields?: readonly string[];
  /** Of a kind some of whose words are personal: those that are where the place in another member is the owner's. */
  of_owner?: Readonly<Record<string, string>>;
  /** Of a kind whose words are personal at times: the member that says so, and by which word. */
  personal_if?: Readonly<Record<string, string>>;
  /** Whether it says what hands have done to a thing, and of which stops its device had heard by then. */
  hands_on?: true;
  /** Whether it is a word on what stood by then, so that nothing said before it is changed in place. */
  on_what_stood?: true;
  /** Whether it is taken whoever made it. */
  always_taken?: true;
  /** The most characters of a member's text, or of each text in its list. */
  longest?: Readonly<Record<string, number>>;
}
"""


TYPES = """type KindsThatSay<Member extends string> = {
  [K in Kind]: (typeof KINDS)[K] extends Readonly<Record<Member, unknown>> ? K : never;
}[Kind];
/** The kinds that open a record, those that set one field, and those that do something else. */
export type OpeningKind = KindsThatSay<"opens">;
export type EditKind = KindsThatSay<"field">;
export type OtherKind = Exclude<Kind, OpeningKind | EditKind>;
"""


CURRENCIES_FILE = Path(__file__).parents[1] / "web" / "job" / "currencies.ts"


def app_currencies() -> str:
    """The currencies that a day may have, as the app's file."""
    return "\n".join(
        [
            "/** The currencies that money comes in (ISO 4217), as the office knows them.",
            " *",
            " * Written by `python -m intake.app_types`; see `intake/arrival/days.py`.",
            " */",
            "export const CURRENCIES =",
            text(" ".join(sorted(CURRENCIES)), ";\n"),
        ]
    )


def app_kinds() -> str:
    """The whole file."""
    assert STEPS, "all kinds are gathered"
    schemas: dict[str, Any] = READ_OPERATION.json_schema()["$defs"]
    kinds = {name: says(KINDS[name], schemas) for name in sorted(KINDS)}
    return "\n".join(
        [
            HEAD,
            "export const KINDS = {",
            *(assigned(f"{name}: ", table, ",", STEP) for name, table in kinds.items()),
            "} as const satisfies Record<Kind, KindSays>;\n",
            "/** The kind whose rules hold for the fields of a family, by the kind of record that can be stopped. */",
            "export const FIELD_KINDS = {",
            *(assigned(f"{record}: ", fields, ",", STEP) for record, fields in field_kinds().items()),
            "} as const;\n",
            *still_had(),
            "/** What fields are called, or what the names of several begin with. */",
            f"export type FamilyKey =\n  | {chr(10).join(f'  | {json.dumps(key)}' for key in sorted(FAMILIES))[4:]};\n",
            TYPES,
            "/** How near the maker stands, and how sure a date is, as the office takes it. */",
            union("export type MakerCertainty =", [json.dumps(word) for word in MAKER_CERTAINTIES], ";"),
            union("export type DateCertainty =", [json.dumps(word) for word in DATE_CERTAINTIES], ";\n"),
        ]
    )


def still_had() -> list[str]:
    """What a stopped item may still have, and the kinds that carry it."""
    carried = {still: sorted(stopped.KINDS[still]) for still in get_args(stopped.Still)}
    once_decided = [still for still in carried if still in stopped.ONCE_DECIDED]
    return [
        "/** What a stopped item may still have, by the kinds of operation that carry it. */",
        assigned("export const STILL_CARRIED = ", carried, " as const;"),
        "export type Still = keyof typeof STILL_CARRIED;",
        "/** The kinds that a stopped item always takes. */",
        assigned("export const ALWAYS_TAKEN: readonly string[] = ", sorted(stopped.ALWAYS), ";"),
        "/** What it may have besides once whoever was called has decided. */",
        assigned("export const ONCE_DECIDED: readonly Still[] = ", once_decided, ";\n"),
    ]


def field_kinds() -> dict[str, dict[str, str]]:
    """The kinds that set fields of what a caution can be raised on, by kind of record and family."""
    found: dict[str, dict[str, str]] = {record: {} for record in sorted(KINDS["raise_caution"].record_kinds)}
    for (record, key), setting in sorted(FIELD_KINDS.items()):
        if record in found:
            found[record][key] = setting.kind_name()
    return found


def says(kind: type[Operation], schemas: dict[str, Any]) -> dict[str, Any]:
    """What one kind says of itself; what is usual is left out."""
    table: dict[str, Any] = {"record": kind.record_member, "roles": sorted(kind.roles)}
    if issubclass(kind, Opening):
        table["opens"] = True
    if issubclass(kind, Edit):
        table["field"] = kind.field_name
        table["value"] = kind.whole_value or kind.value_members
        left_out = {
            name: kind.model_fields[name].default
            for name in kind.value_members
            if not kind.model_fields[name].is_required() and kind.model_fields[name].default is not None
        }
        if kind.if_said:
            table["if_said"] = kind.if_said
        if left_out:
            table["left_out"] = left_out
    if once := [name for name in kind.field_templates() if family_of(name).once]:
        table["once"] = once
    if kind.replaceable:
        table["replaceable"] = True
    if kind.on_what_stood:
        table["on_what_stood"] = True
    if kind.always_taken:
        table["always_taken"] = True
    if issubclass(kind, HandsOn):
        table["hands_on"] = True
    if kind.personal:
        table["personal"] = kind.personal
        if kind.field_name == "{field}":
            table["personal_fields"] = [key for key, family in sorted(FAMILIES.items()) if family.erasable]
        if kind is RecordMove:
            table["of_owner"] = OF_OWNER
        if kind is RecordFinding:
            table["personal_if"] = {"certainty": TOLD}
    longest = {
        member: most
        for name, schema in schemas[kind.__name__]["properties"].items()
        if name not in Operation.model_fields
        for member, most in longest_texts(name, schema, schemas).items()
    }
    if longest:
        table["longest"] = longest
    return table


def longest_texts(name: str, schema: dict[str, Any], models: dict[str, Any]) -> dict[str, int]:
    """The most characters of a member's texts, by its name; of one that is a model, of each of that one's members."""
    if "$ref" in schema:
        held = models[schema["$ref"].rsplit("/", 1)[-1]]["properties"]
        return {
            f"{name}.{inner}": most for inner, of in held.items() if (most := longest_text(of)) is not None
        }
    most = longest_text(schema)
    return {} if most is None else {name: most}


def longest_text(schema: dict[str, Any]) -> int | None:
    """The most characters of a text, of the text among several choices, or of each text in a list."""
    for inner in (schema, *schema.get("anyOf", ()), schema.get("items", {})):
        if inner.get("type") == "string" and "maxLength" in inner:
            return int(inner["maxLength"])
    return None
