"""Records of arrays: one row of every array tells of one thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any, Self

import numpy as np

from swingcheck.geometry.solid import Bools, Ints


class Rows:
    """A dataclass of arrays (n, ...) that are picked and joined as one."""

    __slots__ = ()

    def picked(self, rows: Ints | Bools) -> Self:
        """Return some of the rows."""
        return type(self)(*(values[rows] for values in self._columns()))

    @classmethod
    def joined(cls, parts: Sequence[Self]) -> Self:
        """Return the rows of several records, one after the other."""
        columns = zip(*(part._columns() for part in parts), strict=True)
        return cls(*(np.concatenate(column) for column in columns))

    def _columns(self) -> list[Any]:
        own: Any = self
        return [getattr(self, one.name) for one in fields(own)]
