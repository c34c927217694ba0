"""What a slab needs that is thicker than its frame was made for, as one set of changes.

The stops go back until the slab's wide face closes where the jamb's edge is;
the jamb's mortises stay where they were cut. So that the pins stay where they
were to the wide face, the slab's leaves are set farther from its stop-side
face by what the stops move. Then the hinges are made wide enough for the
wanted swing past the trim, and the strike edge is bevelled until the slab
closes: a thicker slab's narrow-face arris swings wider. The set is swung in
full before it is offered.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from swingcheck.advice.cure import Cure
from swingcheck.advice.open_width import open_width_needed
from swingcheck.chance.measurements import Measurement, measurements
from swingcheck.chance.spans import STEEPEST
from swingcheck.chance.values import measured
from swingcheck.errors import GeometryError
from swingcheck.model import Scene
from swingcheck.swing.kept_parts import Variants
from swingcheck.swing.trial import SLACK, Trial, trial, wanted_of
from swingcheck.units import angle_text, length_text

#: How far a slab's face stands off its stop where nothing else is wanted, inches.
#: What 5/16 in of setback on the jamb less 1/4 in on the slab leaves.
OFF_STOP = 1 / 16


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    """One change of the set: the scene before it, and the value that it is set to."""

    measurement: Measurement
    before: Scene
    value: float

    @property
    def after(self) -> Scene:
        """The scene with the change."""
        return self.measurement.changed(self.before, self.value)

    @property
    def is_change(self) -> bool:
        """Whether it changes anything."""
        return abs(self.value - self.measurement.value(self.before)) > SLACK


def is_too_thick(scene: Scene) -> bool:
    """Tell whether the slab cannot close flush in its rabbet, wherever its leaves are let in."""
    if scene.stop is None or scene.pivot is not None or scene.slab.lip is not None:
        return False
    return scene.slab.thickness > min(scene.opening.rabbet.hinge) + wanted_of(scene).flush + SLACK


def thick_set(scene: Scene, variants: Variants | None = None) -> tuple[Cure, ...]:
    """Return the set of changes that hangs a slab too thick for its frame; none where it cannot be.

    Parameters
    ----------
    scene : Scene
        The opening and its slab.
    variants : Variants, optional
        Where parts of earlier scenes are kept.

    Returns
    -------
    tuple of Cure
        One, or none: the jamb may not be deep enough to move the stops, or no
        bevel may be steep enough.
    """
    known = {each.key: each for each in measurements(scene)}
    kept = variants or Variants()
    steps = _deeper(scene, known)
    if not steps:
        return ()
    try:
        steps += _wider(steps[-1].after, known, kept)
        steps += _bevelled(steps[-1].after, known, kept)
        found = trial(steps[-1].after, kept)
    except GeometryError:
        return ()
    return (_remedy(scene, steps, found),) if found.fits else ()


def _deeper(scene: Scene, known: dict[str, Measurement]) -> list[_Step]:
    """Return the stops moved back, and the slab's leaves set as much farther from its face."""
    if not {"opening.rabbet", "hinge.slab.setback"} <= known.keys():
        return []
    stops, leaves = known["opening.rabbet"], known["hinge.slab.setback"]
    now, mark = stops.value(scene), stops.step(scene)
    least = min(scene.opening.rabbet.hinge)
    by = mark * ceil((scene.slab.thickness + OFF_STOP - least) / mark - 1e-6)
    if now + by > stops.span(scene)[1] + SLACK:
        return []
    moved = _Step(measurement=stops, before=scene, value=now + by)
    setback = leaves.value(moved.after) + by
    if setback > leaves.span(moved.after)[1] + SLACK:
        return []
    return [moved, _Step(measurement=leaves, before=moved.after, value=setback)]


def _wider(scene: Scene, known: dict[str, Measurement], kept: Variants) -> list[_Step]:
    """Return the hinges made wide enough for the wanted swing; none where they are."""
    needed = open_width_needed(scene, variants=kept)
    if needed is None or needed.least <= scene.hinge.open_width or "hinge.open_width" not in known:
        return []
    return [_Step(measurement=known["hinge.open_width"], before=scene, value=needed.stock)]


def _bevelled(scene: Scene, known: dict[str, Measurement], kept: Variants) -> list[_Step]:
    """Return the strike edge bevelled by whole marks until the slab fits; none where it does."""
    bevel = known.get("slab.strike_edge.bevel")
    if bevel is None or trial(scene, kept).fits:
        return []
    step = bevel.step(scene)
    first = ceil(bevel.value(scene) / step + 1e-6)
    for mark in range(first, round(STEEPEST / step) + 1):
        tried = _Step(measurement=bevel, before=scene, value=mark * step)
        if trial(tried.after, kept).fits:
            return [tried]
    return []


def _remedy(scene: Scene, steps: Sequence[_Step], found: Trial) -> Cure:
    settings: dict[str, str] = {}
    for step in steps:
        settings |= dict(step.measurement.settings(step.before, step.value))
    thick = length_text(scene.slab.thickness, scene.unit)
    told = [_words(step) for step in steps if step.is_change]
    jamb = length_text(found.scene.hinge.jamb.setbacks[0], scene.unit)
    told.insert(1, f"leave the jamb's mortises, now {jamb} from the stop")
    told = [told[0], *(f"{words[0].lower()}{words[1:]}" for words in told[1:])]
    words = f"All together, for a slab {thick} thick in this frame: " + "; ".join(told)
    return Cure(words=words, settings=tuple(settings.items()))


def _words(step: _Step) -> str:
    measurement, scene = step.measurement, step.before
    text = angle_text if measurement.is_angle else (lambda value: length_text(value, scene.unit))
    by = abs(step.value - measurement.value(scene))
    after = measured(step.after, measurement.along[0].path)
    to = f", to {text(step.value)}" if len(set(after)) == 1 else ""
    act = measurement.more if step.value > measurement.value(scene) else measurement.less
    return act.format(by=text(by), to=to)
