"""A check, and what to do about what it found."""

from __future__ import annotations

from dataclasses import dataclass

from swingcheck.advice.cure import Cure
from swingcheck.advice.cures import single_cures
from swingcheck.advice.open_width import OpenWidth, open_width_needed
from swingcheck.advice.thick_slab import is_too_thick, thick_set
from swingcheck.assembly import FITTED
from swingcheck.model import Scene
from swingcheck.swing.check import check
from swingcheck.swing.decide import SAME_ANGLE_RAD
from swingcheck.swing.found import Found, Verdict
from swingcheck.swing.verdict import TRIM


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


def answered(scene: Scene, *, start: float | None = None, step: float | None = None) -> Answer:
    """Return a scene's check with its cures; see :func:`swingcheck.swing.check.check`."""
    found = check(scene, start=start, step=step)
    return Answer(found=found, cures=cures_of(found), hinges=hinges_needed(found))


def cures_of(found: Found) -> tuple[Cure, ...]:
    """Return what cures a fault, or the set that a slab too thick for its frame needs."""
    together = thick_set(found.scene) if is_too_thick(found.scene) else ()
    if together or found.verdict is Verdict.SWINGS:
        return together
    return single_cures(found.scene)


def hinges_needed(found: Found) -> OpenWidth | None:
    """Return the hinges that the wanted swing needs, where trim stops the slab short of it."""
    opening, wanted = found.opening, found.scene.swing.wanted
    if opening is None or opening.by_kind in FITTED or opening.against_kind not in TRIM:
        return None
    return open_width_needed(found.scene) if opening.angle < wanted - SAME_ANGLE_RAD else None
