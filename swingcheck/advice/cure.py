"""A change that cures a fault: what to do at the bench, and the same for a scene's file.

A slab that is thicker than its frame was made for needs a set of changes. The
stops go back until the slab's wide face closes where the jamb's edge is; the
jamb's mortises stay where they were cut. So that the pins stay where they were
to the wide face, the slab's leaves are set farther from its stop-side face by
what the stops move. Then the hinges are made wide enough for the wanted swing
past the trim, and the strike edge is bevelled until the slab closes: a thicker
slab's narrow-face arris swings wider. The set is swung in full before it is
offered.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import floor, inf, tan

from swingcheck.advice.open_width import open_width_needed
from swingcheck.advice.search import first_good
from swingcheck.advice.sure import is_sure, met_most, share_of
from swingcheck.assembly import PartKind
from swingcheck.chance.measurements import Measurement, measurements
from swingcheck.chance.risk import Share
from swingcheck.chance.values import measured
from swingcheck.errors import GeometryError
from swingcheck.model import Scene
from swingcheck.swing.decide import TRIM
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import SLACK, trial
from swingcheck.units import angle_text, length_text, rounded_up

Said = tuple[str, tuple[float, ...]]
"""Words with a ``{}`` for each of some lengths, and those, inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """A change that cures the fault: bench words, and the same as ``--set`` would take it.

    ``words`` are in the scene's unit; ``frame`` is the same with a ``{}`` for
    each of ``lengths``, inches. ``chance`` is the share of ``drawn`` doors that swing with
    it as they will be: cut, painted, in the wettest month; ``None`` where it is not known.
    """

    words: str
    settings: tuple[tuple[str, str], ...]
    frame: str = ""
    lengths: tuple[float, ...] = ()
    chance: float | None = None
    drawn: int = 0

    def said_in(self, unit: str) -> str:
        """Return the words with their lengths in ``"in"`` or ``"mm"``."""
        if not self.lengths:
            return self.words
        return self.frame.format(*(length_text(length, unit) for length in self.lengths))


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One measurement of a scene set to another value, inches or radians."""

    measurement: Measurement
    before: Scene
    value: float

    @property
    def by(self) -> float:
        """How much more it is than it was."""
        return self.value - self.measurement.value(self.before)

    @property
    def size(self) -> float:
        """How big it is, inches: of a bevel, across the slab's thickness."""
        angle = self.measurement.is_angle
        return self.before.slab.thickness * tan(abs(self.by)) if angle else abs(self.by)

    @property
    def after(self) -> Scene:
        """The scene with the change."""
        return self.measurement.changed(self.before, self.value)

    def said(self) -> Said:
        """Return what to do at the bench."""
        own, by = self.measurement, abs(self.by)
        act = own.more if self.by > 0 else own.less
        if own.is_angle:
            return act.format(by=angle_text(by), to=f", to {angle_text(self.value)}"), ()
        if len(set(measured(self.after, own.along[0].path))) > 1:
            return act.format(by="{}", to=""), (by,)
        return act.format(by="{}", to=", to {}"), (by, self.value)


def cure_of(
    changes: Sequence[Change],
    said: Sequence[Said],
    *,
    lead: Said = ("", ()),
    tail: Said = ("", ()),
    joint: str = "; ",
) -> Cure:
    """Return changes, each of the scene that the one before it comes to, as one cure.

    ``said`` is what to do, joined by ``joint``; ``lead`` goes before and ``tail``
    after it.
    """
    first, *rest = (frame for frame, _ in said)
    joined = first + "".join(f"{joint}{frame[0].lower()}{frame[1:]}" for frame in rest)
    frame = lead[0] + joined + tail[0]
    lengths = tuple(length for _, own in (lead, *said, tail) for length in own)
    settings: dict[str, str] = {}
    for change in changes:
        settings |= dict(change.measurement.settings(change.before, change.value))
    unit = changes[0].before.unit
    words = frame.format(*(length_text(length, unit) for length in lengths))
    return Cure(words=words, settings=tuple(settings.items()), frame=frame, lengths=lengths)


def with_share(cure: Cure, share: Share | None) -> Cure:
    """Return a cure that knows how many doors swing with it."""
    return cure if share is None else replace(cure, chance=share.swinging, drawn=share.drawn)


#: How far a slab's face stands off its stop where nothing else is wanted, inches.
#: What 5/16 in of setback on the jamb less 1/4 in on the slab leaves.
OFF_STOP_IN = 1 / 16

#: How much is ripped off an edge at the most, inches.
MOST_CHANGE = {"slab.width": 3 / 8}


def thick_set(scene: Scene) -> tuple[Cure, ...]:
    """Return the set of changes that hangs a slab too thick for its frame; none where it cannot be.

    The jamb may not be deep enough to move the stops, or no bevel steep enough.
    """
    known = {each.key: each for each in measurements(scene)}
    kept = Variants()
    steps = _deeper(scene, known)
    if not steps:
        return ()

    def fits(scene: Scene) -> bool:
        return trial(scene, kept).fits

    try:
        steps += _wider(steps[-1].after, known, kept)
        steps += _until(fits, steps[-1].after, known.get("slab.strike_edge.bevel"), 1)
        steps += _surer(steps[-1].after, known, kept)
    except GeometryError:
        return ()
    after = steps[-1].after
    return (with_share(_set_of(scene, steps), share_of(after)),) if fits(after) else ()


#: What frees more of the doors of a part that they meet, in the order that it is tried.
_SURER = {
    PartKind.STRIKE_LEG: (("slab.strike_edge.bevel", 1), ("slab.width", -1)),
    **dict.fromkeys(TRIM, (("hinge.open_width", 1),)),
}

#: How often what most doors meet is looked for.
ROUNDS = 5


def _surer(scene: Scene, known: dict[str, Measurement], kept: Variants) -> list[Change]:
    """Return further changes until doors swing often enough: what most of them meet goes first."""
    steps: list[Change] = []
    for _ in range(ROUNDS):
        here = steps[-1].after if steps else scene
        share = share_of(here)
        if share is None or is_sure(share):
            break
        kinds = met_most(share)

        def free(tried: Scene, kinds: Sequence[PartKind] = kinds) -> bool:
            share = share_of(tried) if trial(tried, kept).fits else None
            return share is not None and (is_sure(share) or met_most(share) != kinds)

        ways = _SURER.get(kinds[0], ()) if kinds else ()
        found = (_until(free, here, known.get(key), sense) for key, sense in ways)
        further = next(filter(None, found), [])
        if not further:
            break
        steps += further
    return steps


def _until(
    good: Callable[[Scene], bool], scene: Scene, own: Measurement | None, sense: int
) -> list[Change]:
    """Return the least change by whole marks that is good; none where it is so, or never is."""
    if own is None or good(scene):
        return []
    step, (low, high), now = own.step(scene), own.span(scene), own.value(scene)
    most = min(abs((high if sense > 0 else low) - now), MOST_CHANGE.get(own.key, inf))
    values = [now + sense * k * step for k in range(1, floor(most / step + 1e-9) + 1)]
    tries = [Change(measurement=own, before=scene, value=value) for value in values]
    found = first_good(lambda k: good(tries[k].after), len(tries))
    return [] if found is None else [tries[found]]


def _deeper(scene: Scene, known: dict[str, Measurement]) -> list[Change]:
    """Return the stops moved back, and the slab's leaves set as much farther from its face."""
    if not {"opening.rabbet", "hinge.slab.setback"} <= known.keys():
        return []
    stops, leaves = known["opening.rabbet"], known["hinge.slab.setback"]
    now, mark = stops.value(scene), stops.step(scene)
    least = min(scene.opening.rabbet.hinge)
    by = rounded_up(scene.slab.thickness + OFF_STOP_IN - least, mark)
    if now + by > stops.span(scene)[1] + SLACK:
        return []
    moved = Change(measurement=stops, before=scene, value=now + by)
    setback = leaves.value(moved.after) + by
    if setback > leaves.span(moved.after)[1] + SLACK:
        return []
    return [moved, Change(measurement=leaves, before=moved.after, value=setback)]


def _wider(scene: Scene, known: dict[str, Measurement], kept: Variants) -> list[Change]:
    needed = open_width_needed(scene, variants=kept)
    if needed is None or needed.least <= scene.hinge.open_width or "hinge.open_width" not in known:
        return []
    return [Change(measurement=known["hinge.open_width"], before=scene, value=needed.stock)]


def _each_once(changes: Sequence[Change]) -> list[Change]:
    """Return changes with those of one measurement as one, where the first of them stood."""
    found: dict[str, Change] = {}
    for each in changes:
        first = found.get(each.measurement.key, each)
        found[each.measurement.key] = replace(first, value=each.value)
    return list(found.values())


def _set_of(scene: Scene, changes: Sequence[Change]) -> Cure:
    """Return the changes as one set; the jamb's mortises are named after the stops that move."""
    changes = _each_once(changes)
    jamb = changes[-1].after.hinge.jamb.setbacks[0]
    said = [change.said() for change in changes if abs(change.by) > SLACK]
    said.insert(1, ("leave the jamb's mortises, now {} from the stop", (jamb,)))
    lead = ("All together, for a slab {} thick in this frame: ", (scene.slab.thickness,))
    return cure_of(changes, said, lead=lead)
