"""How much of the opening is clear with the slab open."""

from __future__ import annotations

from math import pi

from swingcheck.assembly import Assembly, PartKind
from swingcheck.swing.found import Touch


def clear_width(assembly: Assembly, opening: Touch | None) -> float | None:
    """Return the clear width at 90 degrees, inches; None where the slab opens less far."""
    if opening is not None and abs(opening.angle) < pi / 2 - 1e-9:
        return None
    return clear_width_at(assembly, pi / 2)


def clear_width_at(assembly: Assembly, angle: float) -> float:
    """Return the clear width straight through at a swing angle, inches.

    Face of stop to the slab's face: the narrowest between the strike side (its
    stop, or the leg without one) and whichever reaches farther in on the hinge
    side, the slab or the hinge stop. On a pair it is past the active slab alone,
    to the inactive one closed. Handles do not count.
    """
    slab = assembly.axis.turned(assembly.moving[0].solid, angle)
    kinds = {part.kind: part.solid.bounds for part in assembly.fixed}
    strike = kinds.get(PartKind.STRIKE_STOP, kinds[PartKind.STRIKE_LEG])[0, 0]
    hinge = kinds.get(PartKind.HINGE_STOP, kinds[PartKind.HINGE_LEG])[1, 0]
    if PartKind.INACTIVE in kinds:
        strike = kinds[PartKind.INACTIVE][0, 0]
    return float(strike - max(hinge, slab.bounds[1, 0]))
