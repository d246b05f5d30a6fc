"""What is worked out the first time that it is asked for, and remembered."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # which is the same to whoever reads it
    from functools import cached_property

    worked_out_once = cached_property
else:

    class worked_out_once:
        """A property that is worked out once, for what is made and asked for every operation.

        That of the standard library takes a lock each time it has to work before Python 3.12, which is half of what
        such a property costs.
        """

        def __init__(self, work: Callable[[Any], Any]) -> None:
            self._work = work
            self.__doc__ = work.__doc__

        def __set_name__(self, owner: type, name: str) -> None:
            self._name = name

        def __get__(self, of: Any, owner: type | None = None) -> Any:
            if of is None:
                return self
            result = of.__dict__[self._name] = self._work(of)
            return result
