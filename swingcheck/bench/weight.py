"""What a slab weighs, and where it balances: from its sizes, its wood and how it is built."""

from __future__ import annotations

import numpy as np

from swingcheck.assembly.rebates import arch_waste, lip_rebates
from swingcheck.assembly.slab import slab_blank, slab_bottom
from swingcheck.bench.materials import (
    BOTTOM_RAIL,
    CONSTRUCTIONS,
    LOCK_RAIL,
    SKIN,
    SKINS_LB,
    TOP_RAIL,
    construction_of,
    material,
    nearest_materials,
    panel_density,
)
from swingcheck.geometry.booleans import cut
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.model import Scene, Slab, Stations

KILOGRAMS = 0.45359237
"""Kilograms in a pound, by its definition."""

SQUARE_INCHES = 144.0
"""Square inches in a square foot."""

LOCK_RAIL_UP = 36.0
"""A lock rail's centre over the floor without a lock, inches. Common practice, no source."""


def shaped_slab(slab: Slab) -> Solid:
    """Return a slab with its edges, ends and lip shaped, before it is mortised or bored."""
    return cut("slab", slab_blank(slab), [*lip_rebates(slab), *arch_waste(slab)])


def centroid(solid: Solid) -> Floats:
    """Return a solid's centroid (3,), from its tetrahedra with the origin.

    Examples
    --------
    >>> from swingcheck.geometry.solids import box
    >>> centroid(box("block", (0, 0, 0), (2, 4, 6))).tolist()
    [1.0, 2.0, 3.0]
    """
    a, b, c = (solid.vertices[solid.faces[:, k]] for k in range(3))
    volumes = np.einsum("ij,ij->i", a, np.cross(b, c))
    found: Floats = volumes @ (a + b + c) / (4 * volumes.sum())
    return found


def slab_weight(scene: Scene) -> float | None:
    """Return the slab's weight in pounds, without hardware; ``None`` where it is not known.

    With its glass, where it has any.
    """
    bare = _without_glass(scene.slab)
    return None if bare is None else bare + (glass_added(scene.slab) or 0.0)


def glass_added(slab: Slab) -> float | None:
    """Return what a slab's glass weighs more than what it replaces, pounds.

    In a stile and rail slab it stands in place of a panel. ``None`` where what
    it replaces is not known.
    """
    if slab.glass is None:
        return 0.0
    built, replaced = construction_of(slab), face_weight(slab)
    if built is None or replaced is None:
        return None
    pane = slab.glass.thickness / 12 * panel_density("glass")
    return (pane - replaced * built.panel) * slab.glass.width * slab.glass.height / SQUARE_INCHES


def hollowed_by_panels(slab: Slab) -> float:
    """Return how much thinner panels take from a stile and rail slab, cubic inches."""
    built = construction_of(slab)
    if built is None or not built.is_framed:
        return 0.0
    high = sum(slab.height) / 2 - TOP_RAIL - LOCK_RAIL - BOTTOM_RAIL
    wide = _mean(slab.width) - 2 * (built.strip or 0.0)
    return max(high, 0.0) * max(wide, 0.0) * slab.thickness * (1 - built.panel)


def face_weight(slab: Slab) -> float | None:
    """Return what a square foot of a slab weighs where it is not panelled, pounds, or ``None``."""
    built = construction_of(slab)
    if built is None:
        return None
    if built.face is not None:
        return built.face
    if built.core is not None:
        return SKINS_LB + built.core * max(slab.thickness - 2 * SKIN, 0.0) / 12
    own = material(slab.material)
    return None if own is None or own.density is None else slab.thickness / 12 * own.density


def weight_basis(scene: Scene) -> str:
    """Return in a few words what the weight was worked out from, or why there is none."""
    slab = scene.slab
    built, face = construction_of(slab), face_weight(slab)
    if built is None:
        return f"no weight known for {slab.construction!r}; known are {', '.join(CONSTRUCTIONS)}"
    if face is None:
        near = nearest_materials(slab.material)
        hint = (
            f"nearest known: {', '.join(near)}" if near else "known are woods by their names, MDF"
        )
        return f"no density known for {slab.material!r}; {hint}"
    if built.core is not None or built.face is not None:
        return f"{built.name}, {face:.1f} lb a square foot"
    density, own = face * 12 / slab.thickness, material(slab.material)
    return f"{own.name if own else ''}, {built.name}, {density:.0f} lb a cubic foot"


def centre_of_gravity(scene: Scene) -> Floats:
    """Return the centre of gravity (3,) of a slab, slab frame, without hardware.

    The shaped slab, in one density; thinner panels between stiles and rails,
    and glass in place of what it replaces, are masses laid on it. Where the
    material is not known its own centre is told.
    """
    slab = scene.slab
    centre = centroid(shaped_slab(slab))
    weight, face = _without_glass(slab), face_weight(slab)
    if weight is None or face is None:
        return centre
    masses, centres = [weight], [centre]
    if hollow := hollowed_by_panels(slab) / slab.thickness / SQUARE_INCHES * face:
        masses += [hollow, -hollow]
        centres += [centre, np.array([centre[0], centre[1], _panels_up(scene)])]
    glass = slab.glass
    if glass is not None:
        masses.append(glass_added(slab) or 0.0)
        centres.append(
            np.array([glass.across + glass.width / 2, centre[1], glass.up + glass.height / 2])
        )
    found: Floats = np.average(centres, axis=0, weights=masses)
    return found


def _without_glass(slab: Slab) -> float | None:
    """Return what a slab would weigh with its glass filled in, pounds, or ``None``."""
    face = face_weight(slab)
    if face is None:
        return None
    volume = shaped_slab(slab).volume - hollowed_by_panels(slab)
    return volume / slab.thickness / SQUARE_INCHES * face


def _panels_up(scene: Scene) -> float:
    """Return how high the middle of a stile and rail slab's panels is, over its bottom."""
    top = sum(scene.slab.height) / 2 - TOP_RAIL
    over_floor = LOCK_RAIL_UP if scene.lock is None else scene.lock.height
    rail = over_floor - slab_bottom(scene)
    high = top - BOTTOM_RAIL - LOCK_RAIL
    if high <= 0:
        return (top + BOTTOM_RAIL) / 2
    return ((top**2 - BOTTOM_RAIL**2) / 2 - LOCK_RAIL * rail) / high


def _mean(stations: Stations) -> float:
    """Return the mean along evenly spaced stations, straight from one to the next."""
    if len(stations) == 1:
        return stations[0]
    inner = sum(stations) - (stations[0] + stations[-1]) / 2
    return inner / (len(stations) - 1)
