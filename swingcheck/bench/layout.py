"""Marks for the leaves: on the slab, transferred from the jamb, and on the jamb itself.

The slab's marks are where its leaves meet the jamb's with the slab hung at its
head margin: with everything plumb that is the jamb's mark less the head
margin. Marks run from one end, the slab's top at the hinge edge and the head
at the hinge leg, so that no error is carried from one hinge to the next.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swingcheck.assembly import hinge_name
from swingcheck.assembly.legs import hinge_leg_plan
from swingcheck.assembly.pins import slab_leaf_plan
from swingcheck.bench.hung import closed_slab
from swingcheck.bench.screws import Screw, screw_for, screw_holes
from swingcheck.bench.woods import wood_kind
from swingcheck.model import Scene
from swingcheck.swing.found import AxisFound
from swingcheck.swing.margins import pins_found


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleMark:
    """A pilot hole's centre: ``down`` as its leaf is marked, and from the arris."""

    down: float
    from_arris: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafMark:
    """One leaf on one side.

    ``top`` and ``bottom`` run down from the slab's top or the head;
    ``setback`` is from the stop side to the buried edge, and ``run`` from the
    wide-face arris (the jamb's pull-side edge) to it, both along the surface;
    ``depth`` is square to that.
    """

    top: float
    bottom: float
    setback: float
    run: float
    depth: float
    holes: tuple[HoleMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeMarks:
    """One hinge: its leaf on the jamb, its leaf on the slab, and how true its pin is.

    ``told`` is the slab's mark in the scene and ``too_low`` how far that
    stands below the transferred one; ``apart`` how far the pins of the two
    leaves are from each other across the pin line, and ``off_line`` the
    farther of them from it. ``lines_up``: all three are within the tolerance.
    """

    name: str
    jamb: LeafMark
    slab: LeafMark
    told: float
    too_low: float
    apart: float
    off_line: float
    lines_up: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Every hinge from the top, the screw for its holes, and the drill.

    ``wood`` says for which the ``pilot`` is.
    """

    hinges: tuple[HingeMarks, ...]
    screw: Screw
    wood: str
    pilot: float


def layout(scene: Scene) -> Layout:
    """Return the marks for every leaf of a scene."""
    hung = closed_slab(scene)
    pins = pins_found(hung)
    # A mark farther down the slab lowers its pin by the cosine between slab and pin line.
    cosine = float(hung.place[:, 2] @ hung.axis.direction)
    screw, wood = screw_for(scene.hinge), wood_kind(scene.slab.material)
    return Layout(
        hinges=tuple(
            _hinge_marks(scene, pins, k, scene.hinge.slab.tops[k] + pins.up_down[k] / cosine)
            for k in range(scene.hinge.count)
        ),
        screw=screw,
        wood=wood,
        pilot=screw.pilot(wood),
    )


def slab_run(scene: Scene, k: int) -> float:
    """Return from the wide-face arris to hinge ``k``'s buried edge, along the hinge edge.

    On a round edge, from the wide face, square to it.
    """
    slab, leaves = scene.slab, scene.hinge.slab
    leaf = slab_leaf_plan(
        slab.thickness, slab.hinge_edge.lean, leaves.setbacks[k], leaves.depths[k]
    )
    return float(np.hypot(*leaf.surface))


def jamb_run(scene: Scene, k: int) -> float:
    """Return from the jamb's pull-side edge to hinge ``k``'s buried edge, at its mid-length."""
    opening, hinge = scene.opening, scene.hinge
    middle = opening.height[0] - hinge.jamb.tops[k] - hinge.leaf_length / 2
    return hinge_leg_plan(opening, middle).rabbet - hinge.jamb.setbacks[k]


def _hinge_marks(scene: Scene, pins: AxisFound, k: int, top: float) -> HingeMarks:
    """Return a hinge's marks; ``top`` is where its leaf on the slab meets the jamb's."""
    jamb, slab = scene.hinge.jamb, scene.hinge.slab
    too_low, apart, off = slab.tops[k] - top, pins.apart[k], pins.off_line[k]
    return HingeMarks(
        name=hinge_name(scene, k),
        jamb=_leaf_mark(scene, jamb.tops[k], jamb.setbacks[k], jamb_run(scene, k), jamb.depths[k]),
        slab=_leaf_mark(scene, top, slab.setbacks[k], slab_run(scene, k), slab.depths[k]),
        told=slab.tops[k],
        too_low=too_low,
        apart=apart,
        off_line=off,
        lines_up=max(abs(too_low), apart, off) <= scene.shop.pin_tolerance,
    )


def _leaf_mark(scene: Scene, top: float, setback: float, run: float, depth: float) -> LeafMark:
    holes = tuple(
        HoleMark(down=top + hole.down, from_arris=run - hole.out)
        for hole in screw_holes(scene.hinge)
    )
    return LeafMark(
        top=top,
        bottom=top + scene.hinge.leaf_length,
        setback=setback,
        run=run,
        depth=depth,
        holes=holes,
    )
