"""``arch``, of a head and of a slab's top: what is usual under an arched head, and limits."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist, sqrt

from swingcheck.model import Opening, Scene, head_arc, rise_of, slab_arc
from swingcheck.model.arch import head_ends
from swingcheck.scenefile.broken import SLACK_IN, Broken, left_out
from swingcheck.scenefile.filling import Filling
from swingcheck.units import length_text


def arched_heights(
    filling: Filling,
    opening: Opening,
    slab_at: tuple[float, float],
    head_margin: float,
    bottom: float,
) -> tuple[tuple[float, float], str] | None:
    """Return the heights of a slab under an arched head, and why; None under a straight one.

    ``slab_at`` is how far the slab's edges stand from the hinge leg, at the head,
    ``bottom`` how high it hangs above the finished floor. The slab's arc has the
    head's centre and the head margin less radius, so that the margin is the same
    all along it. Where that is narrower than the slab, as under a half circle,
    its top is a half circle of its own.
    """
    arc = head_arc(opening)
    if arc is None:
        return None
    radius = arc.radius - head_margin
    ends = [arc.start[0] + each for each in slab_at]
    margin = filling.length(head_margin)
    if all(abs(end - arc.across) < radius for end in ends):
        up = [arc.up + sqrt(radius**2 - (end - arc.across) ** 2) - bottom for end in ends]
        return (up[0], up[1]), f"{margin} under the head, square to it, all along"
    side = arc.crown - head_margin - (slab_at[1] - slab_at[0]) / 2 - bottom
    return (side, side), f"a half circle, {margin} under the head at its crown"


def slab_rise(
    filling: Filling,
    opening: Opening,
    width: float,
    height: tuple[float, float],
    head_margin: float,
) -> float:
    """Return how much the slab's top rises over its heights: under an arched head, as that does."""
    arc, given = head_arc(opening), filling.said("slab.arch")
    if given is not None or arc is None:
        return given or 0.0
    ends = (0.0, height[0]), (width, height[1])
    radius = max(arc.radius - head_margin, dist(*ends) / 2)
    return filling.number("slab.arch", rise_of(*ends, radius), "the head's arc less the margin")


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of an arched head or an arched slab."""
    opening, slab = scene.opening, scene.slab
    slab_ends = (0.0, slab.height[0]), (slab.width[0], slab.height[1])
    for of, part, arc, ends in (
        ("opening", opening, head_arc(opening), head_ends(opening)),
        ("slab", slab, slab_arc(slab), slab_ends),
    ):
        half, lower = dist(*ends) / 2, min(ends[0][1], ends[1][1])
        if arc is not None and (part.arch > half + SLACK_IN or arc.up > lower + SLACK_IN):
            words = f"at most a half circle over its lower end, {length_text(half, scene.unit)}"
            yield Broken(
                key=f"{of}.arch",
                value=length_text(part.arch, scene.unit),
                expected=words,
                others=(f"{of}.width", f"{of}.height"),
            )
    if slab.arch and not opening.arch:
        yield left_out("slab.arch", "the head is straight", "opening.arch")
    if slab.arch and slab.head_edge.bevel:
        why = "a bevelled arch is not modelled"
        yield left_out("slab.head_edge", why, "slab.arch", value="bevelled")
