"""Where a jamb leg's face stands at any height, in the opening frame.

A leg is seen in plan at one height: its pull-side edge, the direction along
its face from there to the stop side, and the normal out of the face into the
opening. With no twist the hinge leg's face runs along -y and its normal is +x;
positive twist narrows the stop side.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, sin

import numpy as np

from swingcheck.geometry.solid import Floats
from swingcheck.model import Opening, Stations, station_value


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LegPlan:
    """A leg in plan at one height.

    ``edge`` (2,) is the pull-side edge of the face, ``along`` (2,) the unit
    direction from it to the stop side, ``normal`` (2,) the unit normal out of
    the face into the opening, and ``rabbet`` the distance along the face to
    the stop's face.
    """

    edge: Floats
    along: Floats
    normal: Floats
    rabbet: float

    def at(self, along: float, out: float) -> Floats:
        """Return the plan point (2,) this far along the face and out of it."""
        return self.edge + along * self.along + out * self.normal


LegPlanAt = Callable[[float], LegPlan]


def hinge_leg_plan(opening: Opening, z: float) -> LegPlan:
    """Return the hinge leg in plan at height ``z``."""
    fraction = _fraction_from_top(opening.height[0], z)
    leg = opening.hinge_leg
    twist = station_value(leg.twist, fraction)
    return LegPlan(
        edge=np.array([station_value(leg.plumb, fraction), station_value(leg.cross, fraction)]),
        along=np.array([sin(twist), -cos(twist)]),
        normal=np.array([cos(twist), sin(twist)]),
        rabbet=station_value(opening.rabbet.hinge, fraction),
    )


def strike_leg_plan(opening: Opening, z: float) -> LegPlan:
    """Return the strike leg in plan at height ``z``."""
    fraction = _fraction_from_top(opening.height[1], z)
    leg = opening.strike_leg
    twist = station_value(leg.twist, fraction)
    if len(opening.width) == 1:
        x = opening.width[0] - station_value(leg.plumb, fraction)
    else:
        hinge = _fraction_from_top(opening.height[0], z)
        x = station_value(opening.hinge_leg.plumb, hinge) + station_value(opening.width, fraction)
    return LegPlan(
        edge=np.array([x, station_value(leg.cross, fraction)]),
        along=np.array([-sin(twist), -cos(twist)]),
        normal=np.array([-cos(twist), sin(twist)]),
        rabbet=station_value(opening.rabbet.strike, fraction),
    )


def hinge_leg_heights(opening: Opening) -> tuple[float, ...]:
    """Return the heights at which the hinge leg was measured, lowest first."""
    leg = opening.hinge_leg
    return _heights(opening.height[0], leg.plumb, leg.cross, leg.twist, opening.rabbet.hinge)


def strike_leg_heights(opening: Opening) -> tuple[float, ...]:
    """Return the heights at which the strike leg was measured, lowest first."""
    leg = opening.strike_leg
    own = _heights(
        opening.height[1], leg.plumb, leg.cross, leg.twist, opening.rabbet.strike, opening.width
    )
    if len(opening.width) == 1:
        return own
    return tuple(sorted({*own, *_heights(opening.height[0], opening.hinge_leg.plumb)}))


def leg_plan(opening: Opening, side: int, z: float) -> LegPlan:
    """Return the hinge (0) or strike (1) leg in plan at height ``z``."""
    return (hinge_leg_plan, strike_leg_plan)[side](opening, z)


def leg_heights(opening: Opening, side: int) -> tuple[float, ...]:
    """Return the heights at which the hinge (0) or strike (1) leg was measured, lowest first."""
    return (hinge_leg_heights, strike_leg_heights)[side](opening)


def _fraction_from_top(height: float, z: float) -> float:
    return (height - z) / height


def _heights(height: float, *measured: Stations) -> tuple[float, ...]:
    found = {0.0, height}
    for stations in measured:
        last = len(stations) - 1
        found.update(height * (1 - k / last) for k in range(last + 1) if last)
    return tuple(sorted(found))
