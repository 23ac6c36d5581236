"""What was drawn or counted, as long as what it rests on stays equal."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Result = TypeVar("Result")


class Remembered(Generic[Result]):
    """The newest result for each of some keys.

    Results rest on values that cannot be hashed, such as the days of a record; these are compared, which
    costs next to nothing where they are the same objects.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._results: dict[Hashable, tuple[object, Result]] = {}

    def get(self, key: Hashable, basis: object, make: Callable[[], Result]) -> Result:
        """The result for a key; made anew where it rests on something else than before."""
        found = self._results.get(key)
        if found is not None and found[0] == basis:
            return found[1]
        if len(self._results) >= self._most:
            self._results.clear()
        result = make()
        self._results[key] = basis, result
        return result
