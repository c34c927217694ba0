"""A check, and what to do about what it found."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from swingcheck.assembly import FITTED
from swingcheck.errors import GeometryError, WorkError
from swingcheck.model import Scene
from swingcheck.swing.check import check
from swingcheck.swing.decide import SAME_ANGLE_RAD, SLACK, TRIM, wanted_of
from swingcheck.swing.fit import with_chance
from swingcheck.swing.found import FitWord, Found, Verdict

if TYPE_CHECKING:
    from swingcheck.advice.cure import Cure
    from swingcheck.advice.open_width import OpenWidth


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a check found, and what to do about it.

    ``cures`` let a slab swing that does not, or are the set that one too thick
    for its frame needs; ``hinges`` is what the wanted swing needs, where trim
    or a wall stops the slab short of it.
    """

    found: Found
    cures: tuple[Cure, ...] = ()
    hinges: OpenWidth | None = None


def checked(scene: Scene, *, step: float | None = None) -> Found:
    """Return a scene's check, its fit with the chance that it swings as it will be.

    That is cut, painted and in its wettest month; asked only where nothing else is
    against it. See :func:`swingcheck.swing.check.check`.
    """
    found = check(scene, step=step)
    if found.fit.word is not FitWord.GOOD:
        return found
    told = chance_of(found.scene)
    return found if told is None else replace(found, fit=with_chance(found.fit, *told))


def chance_of(scene: Scene, *, few: bool = False) -> tuple[float, int] | None:
    """Return the chance that a slab swings as it will be, and of how many drawn.

    ``None`` where it cannot be built so. With ``few`` as few are drawn as a chance is
    told of, and none one at a time.
    """
    from swingcheck.bench.painted import in_its_wettest_month
    from swingcheck.chance.risk import share_swinging

    try:
        return share_swinging(in_its_wettest_month(scene), few=few)
    except (GeometryError, WorkError):
        return None


def answered(scene: Scene, *, step: float | None = None) -> Answer:
    """Return a scene's check with its cures; see :func:`swingcheck.swing.check.check`."""
    found = checked(scene, step=step)
    cures = tuple(_with_chance(scene, cure) for cure in cures_of(found))
    return Answer(found=found, cures=cures, hinges=hinges_needed(found))


def _with_chance(scene: Scene, cure: Cure) -> Cure:
    """Return a cure with its chance; without where each draw would be swung alone."""
    if scene.source is None:
        return cure
    told = chance_of(scene.with_(dict(cure.settings)), few=True)
    return cure if told is None else replace(cure, chance=told[0])


def cures_of(found: Found) -> tuple[Cure, ...]:
    """Return what cures a fault, or the set that a slab too thick for its frame needs."""
    if is_too_thick(found.scene):
        from swingcheck.advice.cure import thick_set

        together = thick_set(found.scene)
        if together:
            return together
    if found.verdict is Verdict.SWINGS:
        return ()
    from swingcheck.advice.cures import second_slab_cures, single_cures

    return second_slab_cures(found) if found.decided.slab else single_cures(found.scene)


def is_too_thick(scene: Scene) -> bool:
    """Tell whether the slab cannot close flush in its rabbet, wherever its leaves are let in."""
    if scene.stop is None or scene.pivot is not None or scene.slab.lip is not None:
        return False
    return scene.slab.thickness > min(scene.opening.rabbet.hinge) + wanted_of(scene).flush + SLACK


def hinges_needed(found: Found) -> OpenWidth | None:
    """Return the hinges that the wanted swing needs, where trim stops the slab short of it."""
    opening, wanted = found.opening, found.scene.swing.wanted
    if opening is None or opening.by_kind in FITTED or opening.against_kind not in TRIM:
        return None
    if opening.angle >= wanted - SAME_ANGLE_RAD:
        return None
    from swingcheck.advice.open_width import open_width_needed

    return open_width_needed(found.scene)
