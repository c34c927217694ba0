"""Where a slab hangs: the line its pins make, and the closed slab's place about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from swingcheck.assembly.leaves import hinge_barrel_parts
from swingcheck.assembly.legs import LegPlan, in_frame, leg_plan
from swingcheck.assembly.parts import Axis, Hang, Part
from swingcheck.assembly.pins import jamb_pins, slab_pins
from swingcheck.assembly.pivots import pivot_pin_parts, pivots_on_jamb, pivots_on_slab
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.frames import turn_between, turning
from swingcheck.geometry.sizes import Sizes, applied, columns, point, variants
from swingcheck.geometry.solid import Floats, crossed
from swingcheck.model import Scene, Slab, hung_top, station_value

#: A closing turn smaller than this is rounding, radians.
_ROUNDING_RAD = 1e-15


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """A way to hang a slab: the pins of the jamb and the slab, and the metal that is drawn.

    Pins are (pins, 3, n) for n variants.

    The jamb's in the opening frame, the slab's in its own. ``on_line`` is
    where the jamb carries a line rather than a pin at each height.
    """

    jamb_pins: Callable[[Scene], Floats]
    slab_pins: Callable[[Scene], Floats]
    barrels: Callable[[Scene, Hang], tuple[Part, ...]]
    on_line: bool = False


HINGES = Hanging(jamb_pins=jamb_pins, slab_pins=slab_pins, barrels=hinge_barrel_parts)
PIVOTS = Hanging(
    jamb_pins=pivots_on_jamb, slab_pins=pivots_on_slab, barrels=pivot_pin_parts, on_line=True
)


def hanging(scene: Scene) -> Hanging:
    """Return the way a scene's slab is hung."""
    return HINGES if scene.pivot is None else PIVOTS


def hang(scene: Scene) -> Hang:
    """Return where a scene's slab hangs."""
    hung = hung_lines(scene)
    start, direction = hung.line[..., 0]
    axis = Axis(point=start, direction=direction, rise=scene.hinge.rise_rate)
    jamb, place = hung.jamb_pins[..., 0], hung.place[..., 0]
    placed = hung.slab_pins[..., 0] @ place[:, :3].T + place[:, 3]
    if hanging(scene).on_line:
        jamb = np.array([axis.at(float(z)) for z in placed[:, 2]])
    return Hang(axis=axis, place=place, jamb_pins=jamb, slab_pins=placed)


class Hung(NamedTuple):
    """Where n variants of a slab hang.

    ``line`` (2, 3, n) is a point of the pin line and its direction, ``place``
    (3, 4, n) takes the slab frame to the opening frame, closed; ``jamb_pins``
    and ``slab_pins`` (pins, 3, n) stand each in its own frame.
    """

    line: Floats
    place: Floats
    jamb_pins: Floats
    slab_pins: Floats


def hung_lines(scene: Scene) -> Hung:
    """Return where n variants of a slab hang."""
    own = hanging(scene)
    jamb, slab = own.jamb_pins(scene), own.slab_pins(scene)
    line, slab_line = pin_line(jamb), pin_line(slab)
    place = closed_place(scene, line, slab_line)
    return Hung(line=line, place=place, jamb_pins=jamb, slab_pins=slab)


def pin_line(pins: Floats) -> Floats:
    """Return the upright line of least squares through pins (k, 3, ...), inches.

    Its point and its direction, (2, 3, ...). The departures that count are
    across the pins, so ``x`` and ``y`` are each fitted on height. The line's
    point is at the pins' mean height.

    Examples
    --------
    >>> pin_line(np.array([[0.0, 1, 70], [0, 1, 40], [0, 1, 10]])).tolist()
    [[0.0, 1.0, 40.0], [0.0, 0.0, 1.0]]
    """
    middle = pins.mean(axis=0)
    away = pins - middle
    height = away[:, 2:]
    spread = np.maximum((height * height).sum(axis=0), np.finfo(np.float64).tiny)
    slope = (height * away[:, :2]).sum(axis=0) / spread
    # Pins that stand in one plumb line must give exactly z: their mean may be rounded.
    slope = np.where(np.ptp(pins[:, :2], axis=0) == 0, 0.0, slope)
    direction = point(*slope, 1.0)
    return np.stack([middle, direction / np.sqrt((direction**2).sum(axis=0))])


def stop_line(hinge: LegPlan, strike: LegPlan, projection: Sizes) -> Floats:
    """Return the plan direction (2, ...) from the hinge stop's face to the strike stop's.

    Each face is taken at the middle of its stand-out.
    """
    across = strike.at(strike.rabbet, projection / 2) - hinge.at(hinge.rabbet, projection / 2)
    line: Floats = across / np.sqrt((across**2).sum(axis=0))
    return line


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClosedPlan:
    """The closed slab in plan, or n variants of it, where its pins are plumb.

    ``across`` (2, ...) is the unit direction of its width, ``out`` (2, ...)
    the one out of its wide face, and ``origin`` (2, ...) where the slab
    frame's stands, opening frame.
    """

    origin: Floats
    across: Floats
    out: Floats

    def at(self, x: Sizes, y: Sizes) -> Floats:
        """Return a point (2, ...) of the slab frame in the opening frame."""
        return in_frame(self.origin, (x, self.across), (y, self.out))


def closed_plan(across: Floats, pin: Floats, slab_pin: Floats) -> ClosedPlan:
    """Return the slab closed in plan, parallel to the stops.

    ``across`` (2, ...) is the line across the stops, :func:`stop_line`; ``pin`` (2, ...) the
    pin as the jamb's leaf carries it, opening frame, and ``slab_pin`` as the slab's does,
    slab frame.
    """
    out = point(-across[1], across[0])
    origin = in_frame(pin, (-slab_pin[0], across), (-slab_pin[1], out))
    return ClosedPlan(origin=origin, across=across, out=out)


def stop_side(slab: Slab) -> Floats:
    """Return which way (3,) the slab's stop-side face looks at mid-height, slab frame.

    A warped one's looks square to the straight line from edge to edge.
    """
    if slab.warp is None:
        return np.array([0.0, -1.0, 0.0])
    middle = slab.height[1] / 2
    width = station_value(slab.width, 0.5)
    off = warp_at(slab, width, middle) - warp_at(slab, 0.0, middle)
    return np.array([off, -width, 0.0]) / np.hypot(off, width)


def closed_place(scene: Scene, line: Floats, slab_line: Floats) -> Floats:
    """Return the matrix (3, 4, n) from the slab frame to the opening frame, closed.

    The jamb's pin ``line`` (2, 3, n), opening frame, and the slab's, slab frame, are laid
    on each other; the slab is turned about them until its stop-side face is parallel in
    plan, at mid-height, to the line across the stops, and slid along them until its top at
    the hinge edge hangs as far below the head as the head margin leaves.
    """
    opening, projection = scene.opening, scene.stop.projection if scene.stop else 0.0
    (start, direction), (slab_start, slab_direction) = line, slab_line
    hinge, strike = (leg_plan(opening, side, opening.height[side] / 2) for side in (0, 1))
    across = variants(point(*stop_line(hinge, strike, projection), 0.0), 1)
    rotation = turn_between(slab_direction, direction)
    normal = applied(rotation, variants(stop_side(scene.slab), 1))
    turn = turning(direction, _closing_turn(direction, normal, across))
    rotation = np.einsum("ij...,jk...->ik...", turn, rotation)
    shift = start - applied(rotation, slab_start)
    top = rotation[2, 2] * scene.slab.height[0] + shift[2]
    shift = shift + direction * ((hung_top(opening, scene.slab) - top) / direction[2])
    return columns(*rotation.swapaxes(0, 1), shift)


def _closing_turn(direction: Floats, normal: Floats, across: Floats) -> Floats:
    """Return the turn about ``direction`` that sets ``normal`` square in plan to ``across``.

    (3, n) each, and the turn (n,). Turned by ``t`` the normal's part along
    ``across`` is ``(a - c) cos t + b sin t + c`` (Rodrigues); of its two zeros
    the one wanted leaves the face looking to the stop side.
    """
    c = (direction * normal).sum(axis=0) * (direction * across).sum(axis=0)
    a = (normal * across).sum(axis=0) - c
    b = (crossed(direction.T, normal.T).T * across).sum(axis=0)
    aside = np.arccos(-c / np.hypot(a, b))
    one, other = (
        (np.arctan2(b, a) + way * aside + np.pi) % (2 * np.pi) - np.pi for way in (1.0, -1.0)
    )
    turn = np.where(np.abs(one) <= np.abs(other), one, other)
    return np.where(np.abs(turn) < _ROUNDING_RAD, 0.0, turn)
