"""`/openapi.json`: the service described from the same models that check it (OpenAPI 3.1)."""

from __future__ import annotations

import inspect
import re
from collections.abc import Awaitable, Callable
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from intake.access.checks import DeviceCheck
from intake.access.routes import NewCode, NobodyElse, Pairing
from intake.errors import every_error
from intake.operation import KINDS
from intake.sync.kinds import READ_OPERATION
from intake.sync.routes import Batch, PhotosAsked
from intake.sync.standing import OfficeStanding

BODIES: dict[str, type[BaseModel]] = {
    "/pairing": Pairing,
    "/pairing/codes": NewCode,
    "/devices/check": DeviceCheck,
    "/devices/heard": NobodyElse,
    "/sync/operations": Batch,
    "/sync/photos": PhotosAsked,
}
#: Whose answers say where the office stands, and so may be told what the device was told last.
SAYING_WHERE = ("/pairing/me", "/sync/operations", "/sync/bundle", "/sync/feed")
KNOWN = ["known_seq", "known_chain", "proof", "before_loss"]
NUMBERS = {
    "after",
    "before",
    "limit",
    "holding",
    "to_send",
    "waits",
    "known_seq",
    "count",
    "counts",
    "pieces",
    "start",
    "dots_per_inch",
}
QUERIES = {
    "/sync/feed": ["after", "limit", "day_id", "table_id", "by", "holding", "to_send", "waits"],
    "/readings": ["before"],
    "/queue": [
        *("words", "state", "class_id", "table_id", "worst", "only", "day_id"),
        *("after", "limit", "counts", "items"),
    ],
    "/labels.pdf": [
        "sheet",
        "kind",
        "first",
        "count",
        "pieces",
        "start",
        "dots_per_inch",
        "caution",
        "day_id",
        "print_id",
    ],
    "/labels/calibration.pdf": ["sheet"],
}
REF = "#/components/schemas/{model}"
WITH_STANDING = {
    "content": {
        "application/json": {
            "schema": {
                "type": "object",
                "required": ["office"],
                "properties": {"office": {"$ref": REF.format(model="OfficeStanding")}},
            }
        }
    }
}
PROBLEM = {
    "type": "object",
    "required": ["type", "title", "status", "detail", "code", "hint"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "code": {
            "type": "string",
            "enum": list(every_error()),
            "description": "stable: it never changes once shipped",
        },
        "hint": {"type": "string", "description": "what to do next"},
    },
}


def describe_service(routes: list[Route]) -> Callable[[Request], Awaitable[Response]]:
    """The handler of `/openapi.json` for these routes."""
    document = cache(lambda: openapi_document(routes))  # at the first question: a start does not wait for it

    async def get_openapi(request: Request) -> Response:
        """GET /openapi.json: this document."""
        return JSONResponse(document())

    return get_openapi


def openapi_document(routes: list[Route]) -> dict[str, Any]:
    """The whole document. Operations stand in it as one schema told apart by `kind`."""
    models: list[type[BaseModel]] = [*BODIES.values(), OfficeStanding, *KINDS.values()]
    _, schemas = models_json_schema([(model, "validation") for model in models], ref_template=REF)
    components = dict(schemas.get("$defs", {}))
    operation = READ_OPERATION.json_schema(ref_template=REF)
    operation.pop("$defs", None)
    components["Operation"] = operation
    components["Problem"] = PROBLEM
    components["Batch"]["properties"]["operations"]["items"] = {"$ref": "#/components/schemas/Operation"}
    paths: dict[str, dict[str, Any]] = {}
    for route in routes:
        path = re.sub(r":\w+}", "}", route.path)
        for method in sorted(
            (route.methods or set()) - ({"HEAD"} if "GET" in (route.methods or ()) else set())
        ):
            paths.setdefault(path, {})[method.lower()] = describe_route(route, path)
    return {
        "openapi": "3.1.0",
        "info": {"title": "The valuation-day intake desk", "version": "1"},
        "paths": paths,
        "components": {
            "schemas": components,
            "securitySchemes": {"device": {"type": "apiKey", "in": "cookie", "name": "intake"}},
        },
        "security": [{"device": []}],
    }


def describe_route(route: Route, path: str) -> dict[str, Any]:
    """One route: its words, parameters, body and what it may answer."""
    lines = (inspect.getdoc(route.endpoint) or "").splitlines()
    summary = lines[0].split(": ", 1)[-1] if lines else route.name
    parameters = [
        {"name": name, "in": "path", "required": True, "schema": {"type": "string"}}
        for name in re.findall(r"{(\w+)}", path)
    ] + [
        {
            "name": name,
            "in": "query",
            "required": False,
            "schema": {"type": "integer", "minimum": int(name == "limit"), "maximum": 10**12}
            if name in NUMBERS
            else {"type": "string"},
        }
        for name in [*QUERIES.get(path, []), *(KNOWN if path in SAYING_WHERE else [])]
    ]
    described: dict[str, Any] = {
        "operationId": route.name,
        "summary": summary,
        "parameters": parameters,
        "responses": {
            "2XX": {"description": "as asked", **(WITH_STANDING if path in SAYING_WHERE else {})},
            "4XX": {
                "description": "a person decides, or the device tries later: see `code` and `hint`",
                "content": {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}},
            },
        },
    }
    if path in BODIES:
        schema = {"$ref": f"#/components/schemas/{BODIES[path].__name__}"}
        described["requestBody"] = {"required": True, "content": {"application/json": {"schema": schema}}}
    elif path == "/sync/bundle" or "patch_photo" in route.name:
        described["requestBody"] = {"required": True, "content": {"application/octet-stream": {}}}
    return described
