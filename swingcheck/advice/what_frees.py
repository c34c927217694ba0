"""What may free a slab of each kind of part: which measurements, which way, and how far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from swingcheck.assembly import PartKind
from swingcheck.swing.found import Point, Verdict
from swingcheck.swing.trial import SLACK, Limit, Trial

#: A margin that differs by more than this from top to bottom is out of parallel, inches.
OUT_OF_PARALLEL_IN = 1 / 64


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A measurement that may free a slab of a part: which way, and how far at the most.

    Inches; of a bevel across the slab's thickness.
    """

    key: str
    sense: float
    most: float


def touched(before: Trial) -> tuple[PartKind, ...]:
    """Return the kinds of part that a cure has to do with."""
    if before.touch is None:
        return before.blocked_kinds
    if before.verdict is Verdict.PINCHES:
        return (PartKind.HINGE_STOP,)
    return (before.touch.against_kind,)


#: The limit that a contact with a part is about.
ABOUT = {
    PartKind.HINGE_STOP: Limit.HINGE_STOP,
    PartKind.STRIKE_LEG: Limit.STRIKE_MARGIN,
    PartKind.HINGE_LEG: Limit.HINGE_MARGIN,
    PartKind.HEAD: Limit.HEAD_MARGIN,
}


def ways(before: Trial, kinds: Sequence[PartKind]) -> list[Way]:
    """Return what may free a slab of parts of some kinds, in the order that it is tried."""
    found: dict[str, Way] = {}
    for kind in kinds:
        for key, sense, most in _WAYS.get(kind, ()):
            for named in _named(key, before, kind):
                found.setdefault(named, Way(key=named, sense=sense, most=most))
    return list(found.values())


def _named(key: str, before: Trial, kind: PartKind) -> list[str]:
    """Return keys with the end that has the less room, or each leaf where they are not alike."""
    if "{end}" in key:
        end = _worse_end(before, kind)
        return [key.format(end=end)] if end else []
    if "{leaf}" in key:
        _, side, name = key.split("[")[0].split(".")
        cut = getattr(getattr(before.scene.hinge, side), f"{name}s")
        return [key.format(leaf=k) for k in range(len(cut)) if max(cut) - min(cut) > SLACK]
    return [key]


def _worse_end(before: Trial, kind: PartKind) -> str:
    """Return at which end a margin is the less, ``top`` or ``bottom``; empty where it is alike."""
    margins = before.margins
    own: Point | None = {
        PartKind.STRIKE_LEG: margins.strike,
        PartKind.HINGE_LEG: margins.hinge,
        PartKind.HINGE_STOP: margins.hinge_stop,
    }.get(kind, (margins.bottom[1], 0.0, margins.bottom[0]))
    if own is None or abs(own[0] - own[2]) < OUT_OF_PARALLEL_IN:
        return ""
    return "top" if own[0] < own[2] else "bottom"


_SET_BACK = (("hinge.slab.setback", -1, 3 / 8), ("hinge.jamb.setback", 1, 3 / 8))
_SET_BACK_A_LEAF = tuple(
    (f"{key}{place}", sense, most)
    for place in (".{end}", "[{leaf}]")
    for key, sense, most in _SET_BACK
)
_LET_IN = (("hinge.slab.depth", 1, 3 / 16), ("hinge.jamb.depth", 1, 3 / 16))
_LET_IN_A_LEAF = tuple(
    (f"{key}{place}", sense, most)
    for place in (".{end}", "[{leaf}]")
    for key, sense, most in _LET_IN
)

_OFF_THE_GROUND = (
    ("slab.height", -1, 3 / 2),
    ("slab.head_margin", -1, 1 / 2),
    ("hinge.slab.depth.top", 1, 3 / 16),
    ("hinge.jamb.depth.top", 1, 3 / 16),
)
_OFF_AN_EDGE = (
    ("slab.width", -1, 1 / 2),
    ("slab.width.{end}", -1, 1 / 2),
    ("slab.strike_edge.bevel", 1, inf),
)
_OUT_FARTHER = (("hinge.open_width", 1, 4.0), ("hinge.slab.setback", 1, 3 / 8))

_WAYS: dict[PartKind, tuple[tuple[str, float, float], ...]] = {
    PartKind.HINGE_STOP: (
        *_SET_BACK,
        ("opening.rabbet.hinge", 1, 3 / 8),
        *_SET_BACK_A_LEAF,
        ("opening.rabbet", 1, 3 / 8),
    ),
    PartKind.STRIKE_LEG: (*_OFF_AN_EDGE, *_LET_IN, *_LET_IN_A_LEAF),
    PartKind.INACTIVE: (*_OFF_AN_EDGE, *_LET_IN),
    PartKind.HINGE_LEG: (
        ("slab.hinge_edge.bevel", 1, inf),
        ("hinge.slab.depth", -1, 3 / 16),
        ("hinge.jamb.depth", -1, 3 / 16),
        *((key, -sense, most) for key, sense, most in _LET_IN_A_LEAF),
        ("hinge.screw_proud", -1, 1 / 4),
    ),
    PartKind.JAMB_LEAF: (
        ("hinge.screw_proud", -1, 1 / 4),
        ("slab.hinge_edge.bevel", 1, inf),
        ("hinge.closed_gap", 1, 1 / 8),
    ),
    PartKind.FLOOR: _OFF_THE_GROUND,
    PartKind.CARPET: _OFF_THE_GROUND,
    PartKind.THRESHOLD: _OFF_THE_GROUND,
    PartKind.HEAD: (
        ("slab.top", -1, 1.0),
        ("slab.head_margin", 1, 1 / 2),
        ("slab.top.strike", -1, 1.0),
    ),
    PartKind.STRIKE_STOP: (
        ("opening.rabbet.strike", 1, 1 / 2),
        *_SET_BACK,
        ("opening.rabbet", 1, 3 / 8),
    ),
    PartKind.HEAD_STOP: (
        ("opening.rabbet.head", 1, 1 / 2),
        *_SET_BACK,
        *_SET_BACK_A_LEAF,
        ("opening.rabbet", 1, 3 / 8),
    ),
    PartKind.CASING: _OUT_FARTHER,
    PartKind.WALL: _OUT_FARTHER,
    PartKind.WALL_RETURN: _OUT_FARTHER,
    PartKind.BASEBOARD: _OUT_FARTHER,
}
"""For each kind of part: the measurements that may free the slab of it, which way, how far."""
