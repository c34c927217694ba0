"""A check, and what to do about what it found."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from swingcheck.assembly import FITTED
from swingcheck.model import Scene
from swingcheck.swing.check import check
from swingcheck.swing.decide import SAME_ANGLE_RAD, SLACK, TRIM, wanted_of
from swingcheck.swing.fit import with_chance
from swingcheck.swing.found import FitWord, Found

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
    from swingcheck.advice.sure import share_of

    share = share_of(found.scene)
    if share is None:
        return found
    return replace(found, fit=with_chance(found.fit, share.swinging, share.drawn))


def answered(scene: Scene, *, step: float | None = None) -> Answer:
    """Return a scene's check with its cures; see :func:`swingcheck.swing.check.check`."""
    found = checked(scene, step=step)
    return Answer(found=found, cures=cures_of(found), hinges=hinges_needed(found))


def cures_of(found: Found) -> tuple[Cure, ...]:
    """Return what cures a fault, or makes a slab that swings swing often enough.

    Or the set that a slab too thick for its frame needs.
    """
    if found.fit.word is FitWord.GOOD:
        return ()
    if is_too_thick(found.scene):
        from swingcheck.advice.cure import thick_set

        together = thick_set(found.scene)
        if together:
            return together
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
