"""Solids that turn about a line, and fixed ones, with that line on z.

What the contact and the clearance of a turn are worked out from is made here
once, whichever way the solids turn and however far.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from swingcheck.geometry.features import Features, gathered
from swingcheck.geometry.frames import axis_frame, turn_about_z
from swingcheck.geometry.rows import Rows
from swingcheck.geometry.solid import Floats, Ints, Solid, crossed, face_normals
from swingcheck.geometry.sweep import Sweep, corner_sweep, edge_sweep, face_sweep


@dataclass(frozen=True, slots=True, eq=False)
class Planes(Rows):
    """Faces as planes: ``normals @ x = offsets``, and their borders.

    ``normals`` (n, 3) are units, ``inward`` (n, 3, 3) the ways square to each
    side into the face, ``borders`` (n, 3) how far along these each side is.
    """

    normals: Floats
    offsets: Floats
    inward: Floats
    borders: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Lines(Rows):
    """Edges as lines: a point, the unit way along and its moment (n, 3), how long it is (n,)."""

    point: Floats
    along: Floats
    moment: Floats
    length: Floats


class Around:
    """Features about z, what they are made of and what they sweep, each worked out once."""

    def __init__(self, own: Features) -> None:
        self.own = own
        self.corner_owner = own.owner[own.corner]
        self.edge_owner = own.owner[own.edge[:, 0]]
        self.face_owner = own.owner[own.face[:, 0]]

    @cached_property
    def corners(self) -> Floats:
        """Corners (n, 3)."""
        return self.own.corners

    @cached_property
    def edges(self) -> Floats:
        """End points of edges (n, 2, 3)."""
        return self.own.edges

    @cached_property
    def planes(self) -> Planes:
        """The faces as planes."""
        points = self.own.faces
        across = face_normals(points)
        normals = across / np.sqrt(np.einsum("ij,ij->i", across, across))[:, None]
        sides = points[:, [1, 2, 0]] - points
        sides /= np.sqrt(np.einsum("ijk,ijk->ij", sides, sides))[:, :, None]
        inward = crossed(normals[:, None, :], sides)
        return Planes(
            normals=normals,
            offsets=np.einsum("ij,ij->i", normals, points.mean(axis=1)),
            inward=inward,
            borders=np.einsum("ijk,ijk->ij", inward, points),
        )

    @cached_property
    def lines(self) -> Lines:
        """The edges as lines."""
        point = self.edges[:, 0]
        along = self.edges[:, 1] - point
        length = np.sqrt(np.einsum("ij,ij->i", along, along))
        along = along / length[:, None]
        return Lines(point, along, crossed(point, along), length)

    @cached_property
    def corner_sweep(self) -> Sweep:
        """What the corners sweep."""
        return corner_sweep(self.corners)

    @cached_property
    def edge_sweep(self) -> Sweep:
        """What the edges sweep."""
        return edge_sweep(self.edges)

    @cached_property
    def face_sweep(self) -> Sweep:
        """What the faces sweep."""
        return face_sweep(self.own.faces)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Which features of those that turn meet which of those that stay."""

    mover: str
    rest: str


EDGES = Kind(mover="edge", rest="edge")
CORNER_MOVES = Kind(mover="corner", rest="face")
FACE_MOVES = Kind(mover="face", rest="corner")


class Turning:
    """Moving and fixed features with the turning axis on z, up.

    ``movers`` stand where turns begin, ``start`` radians from where they were
    given, and climb by ``rise`` inches a radian. A point ``p`` of the own frame
    stands at ``rotation @ p + shift``.
    """

    def __init__(
        self,
        movers: Around,
        rest: Around,
        *,
        start: float,
        rise: float,
        rotation: Floats,
        shift: Floats,
    ) -> None:
        self.movers, self.rest = movers, rest
        self.start, self.rise = start, rise
        self.rotation, self.shift = rotation, shift

    def own_frame(self, points: Floats) -> Floats:
        """Return points (n, 3) in the frame that the solids were given in."""
        own: Floats = (points - self.shift) @ self.rotation
        return own

    def sweeps(self, kind: Kind) -> tuple[Sweep, Sweep]:
        """Return what the moving features and the fixed ones of a kind sweep."""
        mover: Sweep = getattr(self.movers, f"{kind.mover}_sweep")
        rest: Sweep = getattr(self.rest, f"{kind.rest}_sweep")
        return mover, rest

    def owners(self, kind: Kind) -> tuple[Ints, Ints]:
        """Return the solids that the moving features and the fixed ones of a kind belong to."""
        mover: Ints = getattr(self.movers, f"{kind.mover}_owner")
        rest: Ints = getattr(self.rest, f"{kind.rest}_owner")
        return mover, rest


def turning_about(
    moving: Sequence[Solid | Features],
    fixed: Sequence[Solid | Features],
    *,
    point: Floats,
    direction: Floats,
    start: float,
    rise: float = 0.0,
) -> Turning:
    """Return solids ready to be turned about a line, and those that stay; some of each.

    What is given is as for :func:`.first_contact`; turns begin at ``start``.
    """
    rotation, shift = axis_frame(point, np.asarray(direction, dtype=np.float64))
    turn = turn_about_z(start)
    lifted = turn @ shift + [0.0, 0.0, rise * start]
    return Turning(
        Around(gathered(moving).moved(turn @ rotation, lifted)),
        Around(gathered(fixed).moved(rotation, shift)),
        start=start,
        rise=rise,
        rotation=rotation,
        shift=shift,
    )
