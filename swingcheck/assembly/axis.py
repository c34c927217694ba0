"""The pin line from the hinges as let in, and where it puts the closed slab."""

from __future__ import annotations

import numpy as np

from swingcheck.assembly.legs import hinge_leg_plan, strike_leg_plan
from swingcheck.assembly.parts import Axis
from swingcheck.assembly.warp import warp_at
from swingcheck.geometry.frames import turn_between, turning
from swingcheck.geometry.solid import Floats
from swingcheck.model import Opening, Scene, Slab, hung_top, station_value


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


def stop_line(opening: Opening, projection: float) -> Floats:
    """Return the plan direction (2,) from the hinge stop's face to the strike stop's, mid-height.

    Each face is taken at the middle of its stand-out.
    """
    hinge = hinge_leg_plan(opening, opening.height[0] / 2)
    strike = strike_leg_plan(opening, opening.height[1] / 2)
    across = strike.at(strike.rabbet, projection / 2) - hinge.at(hinge.rabbet, projection / 2)
    return across / np.linalg.norm(across)


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
    projection = scene.stop.projection if scene.stop else 0.0
    across = np.append(stop_line(scene.opening, projection), 0.0)
    rotation = turn_between(slab_line.direction, axis.direction)
    rotation = _closing_turn(axis.direction, rotation @ stop_side(scene.slab), across) @ rotation
    shift = axis.point - rotation @ slab_line.point
    top = rotation @ [0.0, 0.0, scene.slab.height[0]] + shift
    wanted = hung_top(scene.opening, scene.slab)
    shift = shift + axis.direction * ((wanted - top[2]) / axis.direction[2])
    return np.column_stack([rotation, shift])


def _closing_turn(direction: Floats, normal: Floats, across: Floats) -> Floats:
    """Return the turn about ``direction`` that sets ``normal`` square in plan to ``across``.

    Turned by ``t`` the normal's part along ``across`` is
    ``(a - c) cos t + b sin t + c`` (Rodrigues); of its two zeros the one wanted
    leaves the face looking to the stop side.
    """
    c = (direction @ normal) * (direction @ across)
    a, b = normal @ across - c, np.cross(direction, normal) @ across
    reach = np.hypot(a, b)
    turns = [float(np.arctan2(b, a) + sign * np.arccos(-c / reach)) for sign in (1.0, -1.0)]
    turns = [(t + np.pi) % (2 * np.pi) - np.pi for t in turns]
    turn = min(turns, key=abs)
    return turning(direction, 0.0 if abs(turn) < 1e-15 else turn)
