"""Where a slab hangs: the line its pins make, and the closed slab's place about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.assembly.leaves import hinge_barrel_parts
from swingcheck.assembly.legs import LegPlan, Sizes, along_way, leg_plan, plan_points
from swingcheck.assembly.parts import Axis, Hang, Part
from swingcheck.assembly.pins import jamb_pins, slab_pins
from swingcheck.assembly.pivots import pivot_pin_parts, pivots_on_jamb, pivots_on_slab
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.frames import turn_between, turning
from swingcheck.geometry.solid import Floats, crossed
from swingcheck.model import Scene, Slab, hung_top, station_value

#: A closing turn smaller than this is rounding, radians.
_ROUNDING_RAD = 1e-15


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """A way to hang a slab: the pins (n, 3) of the jamb and the slab, and the metal that is drawn.

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
    own = hanging(scene)
    jamb, slab = own.jamb_pins(scene), own.slab_pins(scene)
    axis = replace(pin_line(jamb), rise=scene.hinge.rise_rate)
    place = closed_place(scene, axis, pin_line(slab))
    placed = slab @ place[:, :3].T + place[:, 3]
    if own.on_line:
        jamb = np.array([axis.at(float(z)) for z in placed[:, 2]])
    return Hang(axis=axis, place=place, jamb_pins=jamb, slab_pins=placed)


def pin_line(pins: Floats) -> Axis:
    """Return the upright line of least squares through pins (n, 3), inches.

    The departures that count are across the pins, so ``x`` and ``y`` are each
    fitted on height. The line's point is at the pins' mean height.

    Examples
    --------
    >>> line = pin_line(np.array([[0.0, 1, 70], [0, 1, 40], [0, 1, 10]]))
    >>> line.point.tolist(), line.direction.tolist()
    ([0.0, 1.0, 40.0], [0.0, 0.0, 1.0])
    """
    middle = pins.mean(axis=0)
    away = pins - middle
    height = away[:, 2]
    slope = (height @ away[:, :2]) / (height @ height)
    # Pins that stand in one plumb line must give exactly z: their mean may be rounded.
    slope[np.ptp(pins[:, :2], axis=0) == 0] = 0.0
    direction = np.array([slope[0], slope[1], 1.0])
    return Axis(point=middle, direction=direction / np.linalg.norm(direction))


def stop_line(hinge: LegPlan, strike: LegPlan, projection: Sizes) -> Floats:
    """Return the plan direction (..., 2) from the hinge stop's face to the strike stop's.

    Each face is taken at the middle of its stand-out.
    """
    across = strike.at(strike.rabbet, projection / 2) - hinge.at(hinge.rabbet, projection / 2)
    line: Floats = across / np.linalg.norm(across, axis=-1, keepdims=True)
    return line


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ClosedPlan:
    """The closed slab in plan, or n variants of it, where its pins are plumb.

    ``across`` (..., 2) is the unit direction of its width, ``out`` (..., 2)
    the one out of its wide face, and ``origin`` (..., 2) where the slab
    frame's stands, opening frame.
    """

    origin: Floats
    across: Floats
    out: Floats

    def at(self, x: Sizes, y: Sizes) -> Floats:
        """Return a point (..., 2) of the slab frame in the opening frame."""
        return self.origin + along_way(x, self.across) + along_way(y, self.out)


def closed_plan(across: Floats, pin: Floats, slab_pin: Floats) -> ClosedPlan:
    """Return the slab closed in plan, parallel to the stops.

    Parameters
    ----------
    across : (..., 2) float64
        The line across the stops: :func:`stop_line`.
    pin, slab_pin : (..., 2) float64
        The pin as the jamb's leaf carries it, opening frame, and as the
        slab's does, slab frame.
    """
    out = plan_points(-across[..., 1], across[..., 0])
    origin = pin - along_way(slab_pin[..., 0], across) - along_way(slab_pin[..., 1], out)
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


def closed_place(scene: Scene, axis: Axis, slab_line: Axis) -> Floats:
    """Return the (3, 4) matrix from the slab frame to the opening frame, closed.

    Parameters
    ----------
    scene : Scene
        The opening and its slab.
    axis : Axis
        The jamb's pin line, opening frame.
    slab_line : Axis
        The slab's pin line, slab frame.

    Notes
    -----
    The lines are laid on each other; the slab is turned about them until its
    stop-side face is parallel in plan, at mid-height, to the line across the
    stops, and slid along them until its top at the hinge edge hangs as far
    below the head as the head margin leaves.
    """
    opening, projection = scene.opening, scene.stop.projection if scene.stop else 0.0
    hinge, strike = (leg_plan(opening, side, opening.height[side] / 2) for side in (0, 1))
    across = np.append(stop_line(hinge, strike, projection), 0.0)
    rotation = turn_between(slab_line.direction, axis.direction)
    rotation = _closing_turn(axis.direction, rotation @ stop_side(scene.slab), across) @ rotation
    shift = axis.point - rotation @ slab_line.point
    top = rotation @ [0.0, 0.0, scene.slab.height[0]] + shift
    shift = shift + axis.direction * ((hung_top(opening, scene.slab) - top[2]) / axis.direction[2])
    return np.column_stack([rotation, shift])


def _closing_turn(direction: Floats, normal: Floats, across: Floats) -> Floats:
    """Return the turn about ``direction`` that sets ``normal`` square in plan to ``across``.

    Turned by ``t`` the normal's part along ``across`` is
    ``(a - c) cos t + b sin t + c`` (Rodrigues); of its two zeros the one wanted
    leaves the face looking to the stop side.
    """
    c = (direction @ normal) * (direction @ across)
    a, b = normal @ across - c, crossed(direction, normal) @ across
    reach = np.hypot(a, b)
    turns = [float(np.arctan2(b, a) + sign * np.arccos(-c / reach)) for sign in (1.0, -1.0)]
    turns = [(t + np.pi) % (2 * np.pi) - np.pi for t in turns]
    turn = min(turns, key=abs)
    return turning(direction, 0.0 if abs(turn) < _ROUNDING_RAD else turn)
