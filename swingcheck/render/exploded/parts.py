"""One hinge pulled apart: the wood it is let in to, its leaves, its barrel, and the ways back.

The slab is swung right back, so that its hinge edge and the jamb's face lie
side by side, and both mortises can be looked into.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import pi

import numpy as np

from swingcheck.assembly import Assembly, Part, PartKind, barrel_parts, hinge_name
from swingcheck.assembly.pins import (
    jamb_leaf_frame,
    slab_leaf_frame,
)
from swingcheck.geometry.booleans import clipped
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.model import LeafLayout

BEYOND = 1.0
"""Wood shown above and below a leaf, inches."""

SLAB_SHOWN, STOP_SHOWN = 2.1, 0.8
"""Slab shown from its hinge edge on, and stop from its face on, inches."""

PULLED = 2.6
"""How far a leaf is pulled out of its mortise, inches."""

APART = 1.5
"""How far each leaf is pulled off the barrel, inches."""

FAR = 100.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A part where the drawing shows it."""

    kind: PartKind
    solid: Solid


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LetIn:
    """A leaf and its mortise on the drawing.

    ``frame`` (3, 4) is the leaf frame in its mortise and ``away`` (3,) how far
    the leaf is pulled out; the sizes are the scene's, inches.
    """

    frame: Floats
    away: Floats
    setback: float
    depth: float
    top: float

    def at(self, across: float, along: float, out: float = 0.0, *, pulled: bool = False) -> Floats:
        """Return a point (3,) of the leaf frame: from the buried edge, from mid-length, out."""
        place: Floats = self.frame @ [across, along, out, 1.0]
        return place + self.away if pulled else place


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Exploded:
    """A hinge pulled apart, in the opening frame.

    ``ways`` (n, 2, 3) are the dashed lines along which parts go together,
    ``pin`` (2, 3) the ends of the pin line.
    """

    name: str
    pieces: tuple[Piece, ...]
    jamb: LetIn
    slab: LetIn
    barrel: Floats
    pin: Floats
    ways: Floats

    @property
    def solids(self) -> list[Solid]:
        """The pieces' solids."""
        return [piece.solid for piece in self.pieces]


def exploded_hinge(assembly: Assembly, hinge: int) -> Exploded:
    """Return one of the scene's hinges pulled apart.

    Parameters
    ----------
    assembly : Assembly
        The slab in its opening; it hangs on hinges.
    hinge : int
        Which, counted from the top.
    """
    back = np.array([0.0, 2 * APART, 0.0])
    scene = assembly.scene
    jamb = _let_in(scene.hinge.jamb, hinge, jamb_leaf_frame(scene, hinge))
    slab = _let_in(scene.hinge.slab, hinge, _swung_frame(assembly, hinge, back))
    half = scene.hinge.leaf_length / 2 + BEYOND
    middle = float(jamb.frame[2, 3])
    out = jamb.away + back / 2
    barrel = _only(barrel_parts(assembly), PartKind.BARREL, hinge)
    pieces = (
        *_frame_pieces(assembly, middle, half),
        _slab_piece(assembly, hinge, half, back),
        Piece(
            kind=PartKind.JAMB_LEAF,
            solid=_shifted(_only(assembly.fixed, PartKind.JAMB_LEAF, hinge), jamb.away),
        ),
        Piece(kind=PartKind.SLAB_LEAF, solid=_slab_leaf(assembly, hinge, back + slab.away)),
        Piece(kind=PartKind.BARREL, solid=_shifted(barrel, out)),
    )
    centre = assembly.axis.at(middle) + out
    return Exploded(
        name=hinge_name(scene, hinge),
        pieces=pieces,
        jamb=jamb,
        slab=slab,
        barrel=centre,
        pin=centre + np.outer([-half - 0.2, half + 0.2], assembly.axis.direction),
        ways=_ways(assembly, jamb, slab, centre),
    )


def _let_in(layout: LeafLayout, hinge: int, frame: Floats) -> LetIn:
    return LetIn(
        frame=frame,
        away=PULLED * frame[:, 2],
        setback=layout.setbacks[hinge],
        depth=layout.depths[hinge],
        top=layout.tops[hinge],
    )


def _swung_frame(assembly: Assembly, hinge: int, back: Floats) -> Floats:
    """Return a slab's leaf frame (3, 4) with the slab swung right back."""
    own = slab_leaf_frame(assembly.scene, hinge)
    turn, shift = replace(assembly.axis, rise=0.0).move(pi)
    frame = turn @ assembly.place[:, :3] @ own
    frame[:, 3] += turn @ assembly.place[:, 3] + shift + back
    frame[:, 1] *= np.sign(frame[2, 1])  # along the barrel, up
    return frame


def _frame_pieces(assembly: Assembly, middle: float, half: float) -> list[Piece]:
    """Return the hinge leg and its stop about a leaf, cut short."""
    opening = assembly.scene.opening
    push = -max(opening.rabbet.hinge) - STOP_SHOWN
    low = np.array([-FAR, push, middle - half])
    high = np.array([FAR, FAR, middle + half])
    kinds = (PartKind.HINGE_LEG, PartKind.HINGE_STOP)
    return [
        Piece(kind=part.kind, solid=clipped(part.solid, low, high))
        for part in assembly.fixed
        if part.kind in kinds
    ]


def _slab_piece(assembly: Assembly, hinge: int, half: float, back: Floats) -> Piece:
    """Return the slab's hinge edge about a leaf, cut short and swung right back."""
    slab = assembly.moving[0].solid
    edge = float(slab.bounds[0, 0])
    middle = float(assembly.slab_pins[hinge, 2])
    low = np.array([-FAR, -FAR, middle - half])
    high = np.array([edge + SLAB_SHOWN, FAR, middle + half])
    return Piece(kind=PartKind.SLAB, solid=_swung(assembly, clipped(slab, low, high), back))


def _slab_leaf(assembly: Assembly, hinge: int, shift: Floats) -> Solid:
    return _swung(assembly, _only(assembly.moving, PartKind.SLAB_LEAF, hinge), shift)


def _swung(assembly: Assembly, solid: Solid, shift: Floats) -> Solid:
    return _shifted(replace(assembly.axis, rise=0.0).turned(solid, pi), shift)


def _shifted(solid: Solid, shift: Floats) -> Solid:
    return solid.moved(np.eye(3), shift)


def _only(parts: Sequence[Part], kind: PartKind, hinge: int) -> Solid:
    (found,) = [part.solid for part in parts if part.kind is kind and part.hinge == hinge]
    return found


def _ways(assembly: Assembly, jamb: LetIn, slab: LetIn, barrel: Floats) -> Floats:
    """Return the lines along which the parts go together."""
    hinge = assembly.scene.hinge
    half = hinge.leaf_length / 2
    lines = []
    for leaf, reach in ((jamb, hinge.jamb_reach), (slab, hinge.slab_reach)):
        middle = 0.45 * reach
        for along in (-half, half):
            lines.append([leaf.at(middle, along), leaf.at(middle, along, pulled=True)])
        knuckle = reach - hinge.barrel / 2
        for along in (-0.6 * half, 0.6 * half):
            start = leaf.at(knuckle, along, hinge.leaf_thickness / 2, pulled=True)
            height = (start[2] - barrel[2]) / assembly.axis.direction[2]
            lines.append([start, barrel + height * assembly.axis.direction])
    return np.array(lines)
