"""The few sentences that stand on a picture."""

from __future__ import annotations

from swingcheck.assembly import Assembly, PartKind
from swingcheck.render.plan.pose import PlanCut, Pose
from swingcheck.units import angle_text, fraction_text

NEAR = 0.25
"""A contact within this of the section's height is at it, inches."""


def contact_words(pose: Pose, height: float, unit: str) -> str:
    """Return what touches what, and how far from the section where it is not in it."""
    if pose.blocked_by:
        return f"The slab overlaps {named(pose.blocked_by)} before it has moved"
    touch = pose.touch
    if touch is None:
        return ""
    what = touch.feature if touch.by_kind is PartKind.SLAB else touch.by
    verb = "rests on" if pose.seated else "touches"
    words = f"{what[:1].upper()}{what[1:]} {verb} {named((touch.against,))} here"
    low, high = touch.span
    if low - NEAR <= height <= high + NEAR:
        return words
    return f"{words}, {rough_length(touch.point[2], unit)} above the floor"


def section_words(assembly: Assembly, cut: PlanCut, pose: Pose) -> str:
    """Return the line under the headline: the moment, the height, how it is seen."""
    scene = assembly.scene
    height = rough_length(cut.height, scene.unit)
    return (
        f"{moment_words(pose)}. Plan section {height} above the floor;"
        f" you stand at the bottom, on the pull side, hinges on your {scene.hinges_on}."
    )


def rough_length(value: float, unit: str) -> str:
    """Return a length that says where, not how much: to 1/8 in or a whole millimetre.

    Examples
    --------
    >>> rough_length(40.94, "in"), rough_length(40.94, "mm")
    ('41 in', '1040 mm')
    """
    if unit == "mm":
        return f"{value * 25.4:.0f} mm"
    return f"{fraction_text(value, 8)} in"


def moment_words(pose: Pose) -> str:
    """Return which moment of the swing is drawn."""
    angle = angle_text(pose.angle)
    if pose.blocked_by:
        return f"Drawn where the closing starts, {angle} open"
    if pose.closed:
        return "Drawn closed"
    if pose.touch is None:
        return f"Drawn {angle} open"
    if pose.seated:
        return f"Drawn resting on its stop, {angle} from closed"
    return f"Drawn at first contact, {angle} open"


def named(names: tuple[str, ...]) -> str:
    """Return parts as words of a sentence.

    Examples
    --------
    >>> named(("hinge stop",)), named(("head", "the top hinge"))
    ('the hinge stop', 'the head and the top hinge')
    """
    *most, last = [name if name.startswith("the ") else f"the {name}" for name in names]
    return f"{', '.join(most)} and {last}" if most else last
