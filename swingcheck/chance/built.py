"""Variants of a scene built together: corners about the axis, and what the closed slab shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.assembly import Shape, corners_of, hinges_alike, shape_of, with_one_hinge
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.outcomes import KINDS
from swingcheck.errors import GeometryError
from swingcheck.geometry.frames import axis_frame
from swingcheck.geometry.solid import Bools, Floats, Ints
from swingcheck.model import Scene
from swingcheck.swing.margins import (
    HINGE,
    STATIONS,
    STRIKE,
    leg_gaps,
    placed,
    stop_gaps,
    upright_points,
)

SOME_CHANGE = 1e-3  # inches or radians: what a measurement changes is told by at least so much


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Built:
    """Variants built: ``corners`` (c, 3, n) about the axis, open, as their closing starts.

    ``arm`` (n,) is from the axis to the strike edge; the margins (n,) are the
    closed slab's, at their least, and ``hinge_stop`` (2, n) at the top and at
    its least, nan without a stop. ``odd`` (n,) tells which have a shape of
    their own, or none, and ``spare`` what each part has left of it (m, n).
    """

    corners: Floats
    arm: Floats
    hinge_margin: Floats
    strike_margin: Floats
    hinge_stop: Floats
    odd: Bools
    spare: list[list[Floats]]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Builder:
    """Builds variants of the shape that one of them has, the ``middle`` one.

    ``kinds`` (parts,) tell what each part is, an index of ``KINDS``.
    """

    middle: Scene
    measurements: tuple[Measurement, ...]
    shape: Shape

    @property
    def kinds(self) -> Ints:
        """What each part is (parts,), an index of ``KINDS``."""
        return np.array([KINDS.index(part.own.kind) for part in self.shape.parts])

    @property
    def movers(self) -> int:
        """How many of the parts move: the first ones."""
        return sum(part.moves for part in self.shape.parts)

    def thinned(self, corners: Ints, sure: Sequence[frozenset[int]]) -> Builder:
        """Return what builds some of the corners alone: :meth:`.Shape.thinned`."""
        return replace(self, shape=self.shape.thinned(corners, sure))

    def built(self, values: Floats) -> Built:
        """Return variants (n, d) built."""
        scene = changed(self.middle, self.measurements, values.T)
        found = corners_of(self.shape, scene)
        start, direction = found.line
        arm, margins = _read(scene, found.line, found.place)
        moves = self.shape.corner_part < self.movers
        return Built(
            corners=_about(found.points, moves, start, direction, self.middle.swing.start),
            arm=np.broadcast_to(arm, (len(values),)),
            hinge_margin=margins[0],
            strike_margin=margins[1],
            hinge_stop=margins[2:],
            odd=~found.built,
            spare=found.spare,
        )


def builder_of(
    scene: Scene, measurements: tuple[Measurement, ...], middle: Floats, half: Floats
) -> Builder | None:
    """Return what builds variants within so much (d,) of a middle one (d,).

    None where the middle one cannot be built. Hinges that stay alike whatever
    is changed are built once.
    """
    own = changed(scene, measurements, middle)
    each = middle + np.diag(np.maximum(half, SOME_CHANGE))
    if hinges_alike(own) and hinges_alike(changed(own, measurements, each.T)):
        own = with_one_hinge(own)
    try:
        return Builder(middle=own, measurements=measurements, shape=shape_of(own))
    except GeometryError:
        return None


def changed(scene: Scene, measurements: tuple[Measurement, ...], values: Floats) -> Scene:
    """Return a scene with other values (d,) of measurements, or many in one (d, n)."""
    for each, value in zip(measurements, values, strict=True):
        scene = each.changed(scene, value if np.ndim(value) else float(value))
    return scene


def _read(scene: Scene, line: Floats, place: Floats) -> tuple[Floats, Floats]:
    """Return the arm (n,) from the axis to the strike edge, and margins (4, n).

    The least along either leg, and of the hinge stop at the top and the least.
    """
    slab, count = scene.slab, place.shape[2:]
    start, direction = line
    arris = placed(place, upright_points(slab, STRIKE, (0.5,), 0.0))[0]
    away = arris - start - direction * ((arris[2] - start[2]) / direction[2])
    sides = [placed(place, upright_points(slab, side, STATIONS, 0.0)) for side in (HINGE, STRIKE)]
    read = [leg_gaps(scene, side, own).min(axis=0) for side, own in enumerate(sides)]
    stop = np.full((2, *count), np.nan)
    if scene.stop is not None:
        gaps = stop_gaps(scene, scene.stop, HINGE, place, sides[HINGE])
        stop = np.stack([gaps[0], gaps.min(axis=0)])
    margins = np.stack([np.broadcast_to(each, count) for each in (*read, *stop)])
    return np.hypot(away[0], away[1]), margins


def _about(points: Floats, moves: Bools, start: Floats, direction: Floats, angle: float) -> Floats:
    """Return corners (c, 3, n) with the axis on z, pointing down, those that move at an angle."""
    rotation, shift = axis_frame(start, -direction)
    found = np.einsum("ij...,kj...->ki...", rotation, points) + shift
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = found[moves, 0], found[moves, 1]
    found[moves, 0], found[moves, 1] = cos * x + sin * y, cos * y - sin * x
    return found
