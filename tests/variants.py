"""Made-up doors whose parts shift and lean by a few numbers: many variants, one shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.geometry.contact import Contact, first_contact
from swingcheck.geometry.many.reach import Skins, convex_edges
from swingcheck.geometry.solid import Floats, Ints, Solid
from swingcheck.geometry.solids import loft, plate, rounded_outline
from tests.shapes import box

QUARTER = np.pi / 2
CLOSING = np.diag([1.0, -1.0, -1.0])  # the axis points down, so that closing is counter-clockwise
OPEN = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
MOVERS = 2


def twisted_leg(random: np.random.Generator) -> Solid:
    """Return a leg whose face is twisted otherwise at each of five heights."""
    rings = []
    for z in (0, 20, 40, 60, 81):
        t = random.uniform(-0.02, 0.02)
        section = ((0, -5), (0, -0.4), (-1, -0.4), (-1, -5))
        turn = np.array([[np.cos(t), -np.sin(t)], [np.sin(t), np.cos(t)]])
        rings.append([[*(turn @ corner - [0.1, 0.0]), z] for corner in section])
    return loft("leg", np.array(rings))


@dataclass(frozen=True, eq=False)
class Door:
    """Solids, the first two moving, whose corners are affine and a little bent in six numbers."""

    solids: Sequence[Solid]
    lean: Floats
    shift: Floats
    bend: Floats

    @property
    def count(self) -> int:
        return len(self.shift)

    @property
    def half(self) -> Floats:
        return np.ones(self.count)

    def corners_at(self, off: Floats) -> Floats:
        """Return the corners (c, 3, n) about the axis, open, as the closing starts."""
        found = []
        for k, solid in enumerate(self.solids):
            p = solid.vertices.T + np.einsum("nd,dij,vj->niv", off, self.lean[:, k], solid.vertices)
            p += (off @ self.shift[:, k])[:, :, None]
            p += np.einsum("nd,ne,dei->ni", off, off, self.bend[:, :, k])[:, :, None]
            found.append(CLOSING @ (OPEN @ p if k < MOVERS else p))
        return np.ascontiguousarray(np.concatenate(found, axis=2).transpose(2, 1, 0))

    @property
    def starts(self) -> Ints:
        return np.cumsum([0, *(len(solid.vertices) for solid in self.solids)])

    def skins(self, off: Floats) -> Skins:
        """Return what the corners are joined to, its edges as convex in any of some variants."""
        triangles = np.concatenate(
            [solid.faces + low for solid, low in zip(self.solids, self.starts[:-1], strict=True)]
        )
        return Skins(
            triangles=triangles,
            edges=convex_edges(triangles, self.corners_at(off)),
            owner=np.repeat(np.arange(len(self.solids)), np.diff(self.starts)),
            movers=MOVERS,
        )

    def one_at_a_time(self, off: Floats) -> Contact | None:
        """Return the first contact of a variant off by (d,), its solids built and turned."""
        points, starts = self.corners_at(off[None])[:, :, 0], self.starts
        solids = [
            Solid(points[low:high], solid.faces)
            for solid, low, high in zip(self.solids, starts[:-1], starts[1:], strict=True)
        ]
        return first_contact(
            solids[:MOVERS],
            solids[MOVERS:],
            point=np.zeros(3),
            direction=np.array([0.0, 0.0, 1.0]),
            start=0.0,
            stop=QUARTER,
        )


def made_up_door(seed: int, *, lean: float = 2e-4, bend: float = 3e-4) -> Door:
    """Return a door that pinches, strikes, drags or closes, by its numbers."""
    random = np.random.default_rng(seed)
    frame = np.array([[0.0, 0, 1, 0.2], [-1, 0, 0, -0.3], [0, 1, 0, 40]])
    outline = rounded_outline("leaf", (0, -1.7), (1.2, 1.7), (0.6, 0, 0, 0.6))
    solids = (
        box((0.3, -1.8, 0.6), (29.9, -0.4, 80.0)),
        plate("leaf", outline, frame, 0.1),
        twisted_leg(random),
        box((30.1, -5, 0), (31, -0.4, 81)),
        box((-1, -5, 80.3), (31, -0.4, 82)),
        box((0, -3, 0), (0.4375, -1.79, 81)),
        box((29.66, -3, 0), (30.1, -1.8, 81)),
        box((-20, -40, -1), (50, 40, 0)),
    )
    count = 6
    return Door(
        solids=solids,
        lean=random.normal(size=(count, len(solids), 3, 3)) * lean,
        shift=random.normal(size=(count, len(solids), 3)) * 0.01,
        bend=random.normal(size=(count, count, len(solids), 3)) * bend,
    )


def drawn(door: Door, count: int, seed: int) -> Floats:
    """Return numbers (count, d) of variants, likelier near the middle of the box."""
    random = np.random.default_rng(seed)
    return door.half * random.uniform(-0.5, 0.5, (count, door.count, 2)).sum(axis=2)
