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
from swingcheck.assembly.pins import jamb_leaf_frame, slab_leaf_frame
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
    pieces: tuple[Part, ...]
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

    ``hinge`` is counted from the top.
    """
    back = np.array([0.0, 2 * APART, 0.0])
    scene = assembly.scene
    jamb = _let_in(scene.hinge.jamb, hinge, jamb_leaf_frame(scene, hinge))
    slab = _let_in(scene.hinge.slab, hinge, _swung_frame(assembly, hinge, back))
    half = scene.hinge.leaf_length / 2 + BEYOND
    middle = float(jamb.frame[2, 3])
    out = jamb.away + back / 2
    jamb_leaf = _only(assembly.fixed, PartKind.JAMB_LEAF, hinge)
    slab_leaf = _only(assembly.moving, PartKind.SLAB_LEAF, hinge)
    pieces = (
        *_frame_pieces(assembly, middle, half),
        _swung(assembly, _slab_piece(assembly, hinge, half), back),
        _shifted(jamb_leaf, jamb.away),
        _swung(assembly, slab_leaf, back + slab.away),
        _shifted(_only(barrel_parts(assembly), PartKind.BARREL, hinge), out),
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


def _frame_pieces(assembly: Assembly, middle: float, half: float) -> list[Part]:
    """Return the hinge leg and its stop about a leaf, cut short."""
    push = -max(assembly.scene.opening.rabbet.hinge) - STOP_SHOWN
    low, high = np.array([-np.inf, push, middle - half]), np.array([np.inf, np.inf, middle + half])
    kinds = (PartKind.HINGE_LEG, PartKind.HINGE_STOP)
    shown = [part for part in assembly.fixed if part.kind in kinds]
    return [replace(part, solid=clipped(part.solid, low, high)) for part in shown]


def _slab_piece(assembly: Assembly, hinge: int, half: float) -> Part:
    """Return the slab's hinge edge about a leaf, cut short."""
    slab, middle = assembly.moving[0], float(assembly.slab_pins[hinge, 2])
    edge = float(slab.solid.bounds[0, 0]) + SLAB_SHOWN
    low, high = np.array([-np.inf, -np.inf, middle - half]), np.array([edge, np.inf, middle + half])
    return replace(slab, solid=clipped(slab.solid, low, high))


def _swung(assembly: Assembly, part: Part, shift: Floats) -> Part:
    """Return a part of the slab swung right back, and shifted."""
    level = replace(assembly.axis, rise=0.0)
    return _shifted(replace(part, solid=level.turned(part.solid, pi)), shift)


def _shifted(part: Part, shift: Floats) -> Part:
    return replace(part, solid=part.solid.moved(np.eye(3), shift))


def _only(parts: Sequence[Part], kind: PartKind, hinge: int) -> Part:
    (found,) = [part for part in parts if part.kind is kind and part.hinge == hinge]
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
