"""The app's types for operations, written from the office's own models into web/job/operations.ts.

`python -m intake.app_types` writes the file, and beside it the table of kinds, what fields are called and lists that
the office has, too. The build holds them current (`--check`), and `tsc` holds the app to them: a kind that changes here
does not compile there until the app follows.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from intake import app_kinds, app_lists, field_words
from intake.app_lines import STEP, union
from intake.operation import Operation
from intake.sync.kinds import READ_OPERATION

FILE = Path(__file__).parents[1] / "web" / "job" / "operations.ts"
HEAD = """/**
 * The kinds of operations as the office reads them.
 *
 * Written by `python -m intake.app_types` from the office's models. Change the models, then write it anew.
 */
"""
ENVELOPE = list(Operation.model_fields)
SCALARS = {"string": "string", "integer": "number", "number": "number", "boolean": "boolean", "null": "null"}


def app_types() -> str:
    """The whole file: one interface a kind, with the models that kinds hold, and the union of all kinds."""
    schemas: dict[str, Any] = READ_OPERATION.json_schema()["$defs"]
    shared = Operation.model_json_schema()
    kinds = {name: schema for name, schema in schemas.items() if "kind" in schema["properties"]}
    return "\n".join(
        [
            HEAD,
            interface("Envelope", "What every kind shares.", "", shared["properties"], shared["required"]),
            *(in_types(name, schema, "kind" in schema["properties"]) for name, schema in schemas.items()),
            "export type Operation =\n  | " + "\n  | ".join(kinds) + ";\n",
            'export type Kind = Operation["kind"];\n',
        ]
    )


def in_types(name: str, schema: dict[str, Any], is_kind: bool) -> str:
    """One model as an interface; a kind leaves out what stands in the envelope."""
    properties = {
        key: value for key, value in schema["properties"].items() if not (is_kind and key in ENVELOPE)
    }
    extending = " extends Envelope" if is_kind else ""
    return interface(name, schema.get("description", ""), extending, properties, schema.get("required", []))


def interface(name: str, says: str, extending: str, properties: dict[str, Any], required: list[str]) -> str:
    lines = [f"/** {says.splitlines()[0]} */"] if says else []
    lines.append(f"export interface {name}{extending} {{")
    lines += [
        union(f"{key}{'' if key in required else '?'}:", choices(value), ";", STEP)
        for key, value in properties.items()
    ]
    return "\n".join([*lines, "}\n"])


def choices(schema: dict[str, Any]) -> list[str]:
    """A JSON schema as a type: the choices of it, mostly one. Raises KeyError for what no model has had so far."""
    if "$ref" in schema:
        return [str(schema["$ref"]).rsplit("/", 1)[-1]]
    if "const" in schema:
        return [json.dumps(schema["const"])]
    if "enum" in schema:
        return [json.dumps(value) for value in schema["enum"]]
    if "anyOf" in schema:
        return list(dict.fromkeys(choice for each in schema["anyOf"] for choice in choices(each)))
    if schema["type"] == "array":
        held = choices(schema["items"])
        return [f"({' | '.join(held)})[]" if len(held) > 1 else f"{held[0]}[]"]
    return [SCALARS[schema["type"]]]


#: What is written into each file.
WRITTEN: dict[Path, Callable[[], str]] = {
    FILE: app_types,
    app_kinds.FILE: app_kinds.app_kinds,
    app_kinds.CURRENCIES_FILE: app_kinds.app_currencies,
    field_words.FILE: field_words.app_field_words,
    app_lists.RECEIPT_FILE: app_lists.app_receipt_lists,
    app_lists.FAILED_FILE: app_lists.app_receipt_failed,
    app_lists.COUNTED_FILE: app_lists.app_receipt_counted,
    app_lists.DESCRIBED_FILE: app_lists.app_described_by,
    app_lists.TIMES_FILE: app_lists.app_day_times,
}


def outdated() -> list[Path]:
    """The files that say otherwise than the models, or are not there."""
    return [file for file, make in WRITTEN.items() if not file.exists() or file.read_text("utf-8") != make()]


def main(words: Sequence[str]) -> int:
    if "--check" not in words:
        for file, make in WRITTEN.items():
            file.write_text(make(), "utf-8")
        return 0
    files = outdated()
    for file in files:
        print(f"error: {file.relative_to(FILE.parents[2])} is not what the office's models say")
    return 1 if files else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
