"""An operation: one small immutable fact made on a device or at the desk. This is its envelope."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, ConfigDict, Field

UUID_PATTERN = r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"
INSTANT_PATTERN = r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?Z$"

Identifier = Annotated[str, Field(pattern=UUID_PATTERN, examples=["017f22e2-79b0-7cc3-98c4-dc0c0c07398f"])]
Instant = Annotated[str, Field(pattern=INSTANT_PATTERN, examples=["2026-03-14T10:05:00.000Z"])]
Word = Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,59}$", examples=["soft-toy"])]
Line = Annotated[str, Field(max_length=400)]
Prose = Annotated[str, Field(max_length=8000)]
Digest = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
Count = Annotated[int, Field(ge=0, le=100_000)]


class Operation(BaseModel):
    """The envelope that every kind shares.

    Units: `made_at` is UTC by the device's clock, which may be wrong and never decides what is true;
    `device_seq` counts 1, 2, 3 ... on each device without a gap.
    Errors: an unknown field is refused, so that an older office never drops a newer phone's words.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    #: The fields whose words are kept apart from the log and can be erased.
    personal: ClassVar[tuple[str, ...]] = ()
    #: The roles that may make this kind; the manager may make every kind.
    roles: ClassVar[frozenset[str]] = frozenset({"table"})

    operation_id: Identifier
    made_at: Instant
    made_by: Annotated[str, Field(max_length=80)]
    device_id: Annotated[str, Field(max_length=80)]
    device_seq: Annotated[int, Field(ge=1, le=2**53 - 1)]

    @property
    def record_id(self) -> str:
        """The one record that this operation touches."""
        raise NotImplementedError


class Edit(Operation):
    """An operation that sets one field. `seen` is the operation whose value the editor was looking at."""

    seen: Identifier | None

    def edited(self) -> tuple[str, Any]:
        """The field's name and the value it gets."""
        raise NotImplementedError
