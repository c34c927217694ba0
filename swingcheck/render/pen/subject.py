"""What a picture shows: the slab that the verdict speaks of, at the moment it speaks of.

The check says which contact decides and whose it is (`Found.decided`). Here
that slab is taken into its own opening's frame and posed, so that no sheet
has to know whether it is this one, on the pull or the push side, a pair's
inactive slab, a Dutch door's lower one, or this one with a neighbour's in
its way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swingcheck.assembly import BESIDE, Assembly, Axis, Other, Part, PartKind, assemble
from swingcheck.assembly.second_slab import placed
from swingcheck.geometry.booleans import in_common
from swingcheck.geometry.solid import Floats
from swingcheck.model import Relation
from swingcheck.swing.found import Clearance, Found, OtherFound, Point, Side, Together, Touch, Way
from swingcheck.swing.swung import swung, touch

SAME_ANGLE_RAD = 1e-6
"""Swing angles nearer to each other than this are the same."""

NOTHING = Side(blocked_by=(), closing=None, opening=None)
"""What a swing meets where nothing is told of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """A moment of the swing.

    ``angle`` is the swing angle in radians, negative on the push side;
    ``touch`` what touches there, or ``None``, and ``seated`` whether that is
    only the slab resting on its stop. A slab that overlaps something instead
    has not moved yet: its names are ``overlaps``, and ``shared`` is a point in
    the middle of both.
    """

    angle: float
    touch: Touch | None = None
    seated: bool = False
    overlaps: tuple[str, ...] = ()
    shared: Point | None = None

    @property
    def closed(self) -> bool:
        """Whether the slab is drawn closed, so that no ghost is wanted under it."""
        return abs(self.angle) < SAME_ANGLE_RAD

    @property
    def at(self) -> Point | None:
        """Where it touches or overlaps, to be ringed; ``None`` where it does neither."""
        return self.shared if self.touch is None else self.touch.point

    @property
    def span(self) -> tuple[float, float]:
        """The lowest and highest touching height, inches."""
        if self.touch is not None:
            return self.touch.span
        return (self.shared[2],) * 2 if self.shared is not None else (0.0, 0.0)

    @property
    def against(self) -> tuple[str, ...]:
        """Names of what it touches or overlaps."""
        return self.overlaps if self.touch is None else (self.touch.against,)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Subject:
    """What a picture shows: a slab in its opening at a pose, and the verdict's words over it.

    ``assembly`` is that slab's, in its own opening's frame, with all that it
    may meet among ``fixed``; ``ends`` is what its swing meets, and
    ``clearances`` the certified least of its closing, where they are known;
    ``slab`` its name where it is a further slab of the scene, and ``push`` says
    that it is shown on the push side of a double-acting slab. ``turned`` is how
    far open a neighbour's slab stands, which it meets. ``ghosts`` are other
    slabs, closed.
    """

    assembly: Assembly
    pose: Pose
    caption: str = ""
    ends: Side = NOTHING
    clearances: tuple[Clearance, ...] = ()
    slab: str = ""
    push: bool = False
    turned: float | None = None
    ghosts: tuple[Part, ...] = ()

    @property
    def begin(self) -> float:
        """Where its closing starts, radians; negative on the push side."""
        start = self.assembly.scene.swing.start
        return -start if self.push else start

    @property
    def unit(self) -> str:
        """The scene's unit."""
        return self.assembly.scene.unit


def subject_of(found: Found, caption: str, angle: float | None = None) -> Subject:
    """Return what a picture of a check shows.

    The contact that the verdict speaks of; where the slab swings, its seat,
    or the slab closed.

    The ``caption`` is the check's words; with an ``angle`` this slab is shown so far open
    instead, radians.
    """
    shown = _decisive(found, caption)
    if angle is None or abs(shown.pose.angle - angle) < SAME_ANGLE_RAD:
        return shown
    return replace(_plain(found, caption), pose=_met_at(found, angle))


def _plain(found: Found, caption: str) -> Subject:
    """Return this slab as the subject, at its seat or closed."""
    return Subject(
        assembly=assemble(found.scene),
        pose=_met_at(found, found.closing.angle if found.closing and found.seated else 0.0),
        caption=caption,
        ends=found,
        clearances=found.clearances,
    )


def _decisive(found: Found, caption: str) -> Subject:
    """Return the slab and the moment that the verdict speaks of."""
    decided = found.decided
    plain = _plain(found, caption)
    if decided.way is None:
        return plain
    met = decided.touch
    if decided.slab:
        further = next(each for each in plain.assembly.others if each.name == decided.slab)
        ends = next(each for each in found.others if each.name == decided.slab)
        if decided.way is Way.TOGETHER:
            return _together(plain, further, ends.together)
        plain = _of_further(plain, further, ends)
        met = met and _in_frame(met, further.frame)
    elif decided.push and found.push is not None:
        plain = replace(plain, ends=found.push, push=True)
    if met is not None:
        return replace(plain, pose=Pose(angle=met.angle, touch=met))
    return replace(plain, pose=_overlapping(plain.assembly, plain.begin, decided.blocked_by))


def _met_at(found: Found, angle: float) -> Pose:
    """Return the slab so far open, with what it first touches there, if anything."""
    touches = [each for each in (found.closing, found.opening) if each is not None]
    met = next((each for each in touches if abs(each.angle - angle) < SAME_ANGLE_RAD), None)
    return Pose(angle=angle, touch=met, seated=met is found.closing and found.seated)


def _of_further(shown: Subject, further: Other, ends: OtherFound) -> Subject:
    """Return a further slab as the subject, in its own frame, the first one out of its way."""
    own, first = further.assembly, shown.assembly
    fixed = [part for part in first.fixed if part.kind not in BESIDE or part in own.fixed]
    alone = replace(
        own,
        moving=(
            replace(own.moving[0], kind=PartKind.SLAB),
            *_leaves(own.moving[1:], PartKind.SLAB_LEAF),
        ),
        fixed=_leaves(fixed, PartKind.JAMB_LEAF),
    )
    back = _inverse(further.frame)
    beside = placed(replace(first, fixed=(), others=()), back)
    closed = beside.moving
    meets: tuple[Other, ...] = ()
    if further.relation is Relation.INACTIVE:
        meets = (replace(further, assembly=beside),)
    return replace(
        shown,
        assembly=replace(placed(alone, back), others=meets),
        ends=ends,
        clearances=(),
        slab=further.name,
        ghosts=tuple(part for part in closed if part.kind is PartKind.SLAB),
    )


def _leaves(parts: Sequence[Part], kind: PartKind) -> tuple[Part, ...]:
    """Return parts with the leaves of a further slab as its own, numbered from the top."""
    count = iter(range(len(parts)))
    return tuple(
        replace(part, kind=kind, hinge=next(count)) if part.kind is PartKind.OTHER_LEAF else part
        for part in parts
    )


def _together(shown: Subject, further: Other, found: Together) -> Subject:
    """Return this slab where it opens against a neighbour's that stands open, as both foul.

    The neighbour's stands in the middle of the widest span of its angles that
    is told, short of what is wanted of it.
    """
    first, limits = shown.assembly, further.assembly.scene.swing
    turned = found.angles[1]
    told = [foul for foul in found.fouls if foul.low < limits.wanted]
    if told:
        widest = max(told, key=lambda foul: foul.high - foul.low)
        turned = (widest.low + min(widest.high, limits.wanted)) / 2
    moving = further.assembly.moving
    posed = turned_parts(further.assembly.axis, moving, turned)
    alone = swung(replace(first, fixed=tuple(posed)))
    met = touch(alone.assembly, alone.contact(0.0, first.scene.swing.limit))
    stands = dict(zip(map(id, moving), posed, strict=True))
    ends = Side(blocked_by=(), closing=shown.ends.closing, opening=met, seated=shown.ends.seated)
    assembly = replace(first, fixed=tuple(stands.get(id(part), part) for part in first.fixed))
    pose = (
        Pose(angle=met.angle, touch=met)
        if met
        else _overlapping(assembly, 0.0, [part.name for part in moving])
    )
    return replace(shown, assembly=assembly, pose=pose, ends=ends, turned=turned, ghosts=moving[:1])


def _overlapping(assembly: Assembly, angle: float, names: Sequence[str]) -> Pose:
    """Return the slab where it overlaps parts, and the middle of the most that both fill."""
    most, middle, overlaps = 0.0, None, []
    for part in assembly.fixed:
        if part.name not in names:
            continue
        for mover in assembly.moving:
            volume, shared = in_common(assembly.axis.turned(mover.solid, angle), part.solid)
            if volume > 0.0 and part.name not in overlaps:
                overlaps.append(part.name)
            if volume > most:
                most, middle = volume, shared.mean(axis=0)
    x, y, z = (float(each) for each in (assembly.axis.point if middle is None else middle))
    return Pose(angle=angle, overlaps=tuple(overlaps or names), shared=(x, y, z))


def turned_parts(axis: Axis, parts: Sequence[Part], angle: float) -> list[Part]:
    """Return parts of a closed slab after it has turned by ``angle``."""
    return [replace(part, solid=axis.turned(part.solid, angle)) for part in parts]


def _inverse(frame: Floats) -> Floats:
    """Return the way back of a (3, 4) frame that only turns, mirrors and shifts."""
    turn = frame[:, :3].T
    return np.column_stack([turn, -turn @ frame[:, 3]])


def _in_frame(met: Touch, frame: Floats) -> Touch:
    """Return a contact in the frame that ``frame`` (3, 4) takes here, upright in both."""
    back = _inverse(frame)
    x, y, z = (float(each) for each in back[:, :3] @ met.point + back[:, 3])
    return replace(met, point=(x, y, z))
