"""Which variants are clear where their turn starts.

The middle variant is clear there. In any other that the bounds hold, only
pairs that can meet without a turn can have come together; each is held apart
by the direction along which it is farthest apart in the middle one. A pair
that is apart along one direction in both is so in all between, for corners go
nearly straight from one to the other.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from swingcheck.geometry.many.reach import CORNER_MOVES, EDGES, Pairs, Skins
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Bools, Floats, Ints, crossed

APART_IN = 1e-6
"""Nearer than this along its direction, a pair is not held to be apart, inches."""


@dataclass(frozen=True, slots=True, eq=False)
class Starts(Rows):
    """Pairs that may meet at the start: corners (k, 3) of what moves and stands, and ways (k, 3).

    A feature of fewer corners tells one of them again.
    """

    moving: Ints
    fixed: Ints
    way: Floats

    def numbered(self, number: Ints) -> Starts:
        """Return the same pairs with corners numbered anew."""
        return replace(self, moving=number[self.moving], fixed=number[self.fixed])

    def clear(self, corners: Floats) -> Bools:
        """Tell in which variants (n,) every pair is apart, by their corners (c, 3, n)."""
        near, far = (
            np.einsum("pi,pkin->pkn", self.way, corners[part]) for part in (self.moving, self.fixed)
        )
        clear: Bools = (far.min(axis=1) - near.max(axis=1) > APART_IN).all(axis=0)
        return clear


def starts(skins: Skins, pairs: Pairs, middle: Floats) -> Starts:
    """Return the pairs that may meet at the start, by the middle variant's corners (c, 3)."""
    near = pairs.picked(np.flatnonzero(pairs.earliest <= 0.0))
    moving = [_corners(skins, kind, row, kind == CORNER_MOVES) for kind, row in _told(near, True)]
    fixed = [_corners(skins, kind, row, _is_under(kind)) for kind, row in _told(near, False)]
    ways = [_apart(middle[a], middle[b]) for a, b in zip(moving, fixed, strict=True)]
    return Starts(
        np.array(moving, dtype=np.int64).reshape(-1, 3),
        np.array(fixed, dtype=np.int64).reshape(-1, 3),
        np.array(ways).reshape(-1, 3),
    )


def _told(pairs: Pairs, moves: bool) -> list[tuple[int, int]]:
    rows = pairs.moving if moves else pairs.fixed
    return list(zip(pairs.kind.tolist(), rows.tolist(), strict=True))


def _is_under(kind: int) -> bool:
    return kind not in (CORNER_MOVES, EDGES)


def _corners(skins: Skins, kind: int, row: int, is_corner: bool) -> Ints:
    """Return a feature's corners (3,)."""
    if is_corner:
        return np.full(3, row)
    return skins.edges[row][[0, 1, 1]] if kind == EDGES else skins.triangles[row]


def _apart(moving: Floats, fixed: Floats) -> Floats:
    """Return the unit way (3,) along which two features (3, 3) are farthest apart."""
    ours, theirs = (np.roll(part, -1, axis=0) - part for part in (moving, fixed))
    between = (fixed[None] - moving[:, None]).reshape(-1, 3)
    across = crossed(ours[:, None], theirs[None]).reshape(-1, 3)
    sides = np.concatenate([ours, theirs])
    beside = crossed(sides[:, None], crossed(between[None], sides[:, None])).reshape(-1, 3)
    flat = np.concatenate([crossed(part[:1], part[1:2]) for part in (ours, theirs)])
    within = crossed(flat[:, None], sides[None]).reshape(-1, 3)
    ways = np.concatenate([between, across, beside, flat, within])
    length = np.linalg.norm(ways, axis=1)
    ways = ways[length > 1e-9] / length[length > 1e-9, None]
    ways = np.concatenate([ways, -ways])
    gaps = (ways @ fixed.T).min(axis=1) - (ways @ moving.T).max(axis=1)
    found: Floats = ways[int(gaps.argmax())]
    return found
