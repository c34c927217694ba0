"""Pairs of features that can meet, made ready to be looked at block by block."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.many.reach import CORNER_MOVES, EDGES, FACE_MOVES, Pairs, Skins
from swingcheck.geometry.solid import Ints

BLOCK = 192  # pairs looked at together
DOUBT_RAD = 1e-8  # turns that differ by less may come in another order one at a time
TIE_RAD = 1e-10  # turns that differ by less are one


@dataclass(frozen=True, slots=True, eq=False)
class Lot:
    """Some pairs of one kind: rows of the features that move and that stand, and the latter."""

    kind: int
    first: Ints
    second: Ints
    movers: Ints
    rest: Ints
    owner: Ints


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Tier:
    """Pairs that can meet, made ready to be looked at.

    ``corners`` (k,) are the only ones that they use, and ``number`` (c,) tells
    the place of each among them, by which ``skins`` number them.
    """

    corners: Ints
    number: Ints
    skins: Skins
    pairs: Pairs
    blocks: tuple[tuple[float, tuple[Lot, ...]], ...]


_CORNER, _FACE, _EDGE = range(3)
_MOVING = np.array([_CORNER, _FACE, _EDGE])  # what moves in a pair, by its kind
_FIXED = np.array([_FACE, _CORNER, _EDGE])


def tier(skins: Skins, pairs: Pairs) -> Tier:
    """Return pairs, by their earliest turn, made ready to be looked at."""
    told = ((pairs.moving, _MOVING[pairs.kind]), (pairs.fixed, _FIXED[pairs.kind]))
    used = [
        np.unique(np.concatenate([rows[what == each] for rows, what in told]))
        for each in (_CORNER, _FACE, _EDGE)
    ]
    triangles, edges = skins.triangles[used[_FACE]], skins.edges[used[_EDGE]]
    corners = np.unique(np.concatenate([used[_CORNER], triangles.ravel(), edges.ravel()]))
    number = np.full(len(skins.owner), -1)
    number[corners] = np.arange(len(corners))
    places = [number, *(_places(used[each]) for each in (_FACE, _EDGE))]
    moving, fixed = (np.zeros_like(rows) for rows, _ in told)
    for out, (rows, what) in zip((moving, fixed), told, strict=True):
        for each in (_CORNER, _FACE, _EDGE):
            out[what == each] = places[each][rows[what == each]]
    own = Skins(
        triangles=number[triangles],
        edges=number[edges],
        owner=skins.owner[corners],
        movers=skins.movers,
    )
    numbered = Pairs(pairs.kind, moving, fixed, pairs.earliest)
    return Tier(
        corners=corners,
        number=number,
        skins=own,
        pairs=numbered,
        blocks=tuple(_blocks(own, numbered)),
    )


def _places(used: Ints) -> Ints:
    """Return at which place of ``used`` (k,), rising, each of its numbers stands."""
    places = np.zeros(used.max(initial=0) + 1, dtype=np.int64)
    places[used] = np.arange(len(used))
    return places


def _blocks(skins: Skins, pairs: Pairs) -> Iterator[tuple[float, tuple[Lot, ...]]]:
    """Yield blocks of pairs: the earliest turn, and a lot of each kind that there is."""
    for part in chunks(len(pairs.kind), BLOCK):
        block = pairs.picked(np.arange(part.start, part.stop))
        lots = (
            _lot(skins, block.picked(block.kind == kind), kind)
            for kind in (CORNER_MOVES, FACE_MOVES, EDGES)
            if (block.kind == kind).any()
        )
        yield float(block.earliest[0]), tuple(lots)


def _lot(skins: Skins, pairs: Pairs, kind: int) -> Lot:
    moving, first = np.unique(pairs.moving, return_inverse=True)
    fixed, second = np.unique(pairs.fixed, return_inverse=True)
    corners: tuple[Ints, Ints] = (
        moving if kind == CORNER_MOVES else _corners(skins, kind)[moving],
        fixed if kind == FACE_MOVES else _corners(skins, kind)[fixed],
    )
    lead = corners[1] if kind == FACE_MOVES else corners[1][:, 0]
    return Lot(kind, first.reshape(-1), second.reshape(-1), *corners, skins.owner[lead][second])


def _corners(skins: Skins, kind: int) -> Ints:
    return skins.edges if kind == EDGES else skins.triangles


def chunks(count: int, size: int) -> Iterator[slice]:
    """Yield slices of so many variants at a time."""
    for low in range(0, count, size):
        yield slice(low, min(low + size, count))
