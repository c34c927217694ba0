"""What is asked of the slab: ``[swing]``, and the margins ``[wanted]``."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, pi, radians

from swingcheck.model import PivotKind, PivotSet, Scene, Stop, Swing, Wanted
from swingcheck.scenefile.broken import Broken, beyond
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import Table, angle, flag, from_0
from swingcheck.scenefile.tables.floor import BOTTOM_MARGIN_IN
from swingcheck.scenefile.tables.slab import STRIKE_MARGIN_IN
from swingcheck.units import angle_text

_SAME_ANGLE_RAD = radians(1e-9)
_PLAIN, _LEAST = Swing(), Wanted()

SWING = Table(
    keys={
        "start": angle(0.0, 180.0, above=True),
        "wanted": angle(0.0, 180.0, above=True),
        "limit": angle(
            0.0, 270.0, above=True, usual=_PLAIN.limit, why="flat back against the wall"
        ),
        "seat": from_0(2.0, usual=_PLAIN.seat, why="a rest this near the seat is closed"),
        "both_ways": flag(),
    },
    ask="How far it must open, and where opening is no longer looked at: degrees.",
    sample={"wanted": "90", "limit": "180"},
)
WANTED = Table(
    keys={
        "strike": from_0(6.0),
        "bottom": from_0(12.0),
        "least_margin": from_0(1.0),
        "hinge_stop": from_0(1.0),
        "flush": from_0(12.0),
    },
    ask="The margins to cut for: along the strike leg, and over the floor through the swing. And\n"
    "what a setting may not go past: the least margin at the legs and head, the least to the\n"
    "hinge stop, and how far the wide face may stand proud or shy of the jamb's edge.",
    sample={
        "strike": STRIKE_MARGIN_IN,
        "bottom": BOTTOM_MARGIN_IN,
        "least_margin": _LEAST.least_margin,
        "hinge_stop": _LEAST.hinge_stop,
        "flush": _LEAST.flush,
    },
)


def read_swing(filling: Filling, pivot: PivotSet | None, stop: Stop | None) -> Swing:
    """Return what is asked of the swing, noting what is usual."""
    both_ways = filling.values.get("swing.both_ways")
    if both_ways is None:
        both_ways = stop is None and pivot is not None and pivot.kind is PivotKind.CENTRE
        if both_ways:
            filling.assume("swing.both_ways", "yes", "on centre pivots, and nothing to stop it")
    square = min(pi / 2, filling.number("swing.limit"))
    usual: Taken = {
        "start": (square, "closing is looked at from there"),
        "wanted": (square, "enough for most rooms"),
    }
    return filling.made_or_plain("swing", Swing, usual, both_ways=both_ways)


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be asked of the swing."""
    swing = scene.swing
    for name, angle_to in (("start", swing.start), ("wanted", swing.wanted)):
        if angle_to > swing.limit + _SAME_ANGLE_RAD:
            yield Broken(
                key=f"swing.{name}",
                value=angle_text(angle_to),
                expected=f"at most the limit, {angle_text(swing.limit)}",
                others=("swing.limit",),
            )
    reach = hypot(max(scene.slab.width), scene.slab.thickness)
    yield from beyond(scene, "swing.seat", "<", reach, "under the slab's width, {}", "slab.width")
    if swing.both_ways and scene.stop is not None:
        yield Broken(
            key="swing.both_ways",
            value="true",
            expected='false, or stop = "none": a slab that swings both ways has no stop',
        )
