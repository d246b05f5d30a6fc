"""A finding has a size or none was measured: nought is no size."""

from __future__ import annotations

import pytest

from tests.builders import a_finding
from tests.door import Door


@pytest.mark.parametrize("size", ["extent_mm", "extent_mm_across"])
@pytest.mark.parametrize("mm", [0, -0.5])
async def test_a_finding_of_nought_or_less_is_refused(door: Door, size: str, mm: float) -> None:
    """Common practice: "a chip of 0 mm" in print says that nothing is there."""
    item = await door.item()
    sizes = {"extent_mm": 40, size: mm}
    assert await door.refused(a_finding(door.ids, item["item_id"], "rim", **sizes)) == "unreadable"
