"""How closely a person works, and the errors that come of it.

Every plus-or-minus of the bench is taken for a limit that is kept, with errors
near it less likely than small ones: a symmetric triangular distribution on
``[-a, a]``, whose standard deviation is ``a / sqrt(6)``. That is how the Guide
to the Expression of Uncertainty in Measurement (JCGM 100:2008, 4.3.9; from
memory) has it where only bounds are known and values near the middle are the
likelier; and as no draw goes past a tolerance, the worst case at the tolerance
corners and the chance speak of the same slab. Whoever overruns a tolerance one
time in twenty should state a wider one.

Errors are independent of each other. One is the same at every station and
every hinge that it goes for: a jig that is set off is off three times. What
has no tolerance (twist, plumb, the heights of the leaves) is as measured.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swingcheck.chance.measurements import Along, Dimension, dimension
from swingcheck.chance.values import Lean, measured
from swingcheck.geometry.solid import Floats
from swingcheck.model import EdgeShape, Scene

SETTING = "hinge.slab.setback"
"""The dimension that the jig sets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """A plus-or-minus (inches or radians) that one dimension of the scene is held to.

    ``words`` is what the dimension is called at the bench.
    """

    words: str
    dimension: Dimension
    amount: float


def tolerances(scene: Scene) -> tuple[Tolerance, ...]:
    """Return what each dimension of a scene is held to; those held exactly are left out.

    The slab's setback, its mortises and the jamb's (read with the same gauge),
    every bevel that is planed and the width it is ripped to; and, as closely
    as this person measures, the opening's width, the rabbets and the jamb
    leaves' setback from the stop.
    """
    shop = scene.shop
    found = [
        ("slab width", dimension(scene, "slab.width"), shop.rip_tolerance),
        ("opening width", _measured("opening.width"), shop.measuring_tolerance),
    ]
    if scene.hinge.count:
        found += [
            ("slab setback", dimension(scene, SETTING), shop.setback_tolerance),
            ("slab depth", dimension(scene, "hinge.slab.depth"), shop.depth_tolerance),
            ("jamb setback", dimension(scene, "hinge.jamb.setback"), shop.measuring_tolerance),
            ("jamb depth", dimension(scene, "hinge.jamb.depth"), shop.depth_tolerance),
        ]
    edges = {"hinge": scene.slab.hinge_edge, "strike": scene.slab.strike_edge}
    found += [
        (f"{name} edge bevel", dimension(scene, f"slab.{name}_edge.bevel"), shop.bevel_tolerance)
        for name, edge in edges.items()
        if edge.shape is EdgeShape.BEVEL
    ]
    if scene.stop is not None:
        corners = {"hinge": Lean.TOP, "strike": Lean.BOTTOM}
        found += [
            (f"{name} rabbet", _rabbet(name, end), shop.measuring_tolerance)
            for name, end in corners.items()
        ]
    return tuple(
        Tolerance(words=words, dimension=own, amount=amount)
        for words, own, amount in found
        if amount > 0
    )


def _rabbet(side: str, end: Lean) -> Dimension:
    """Return the rabbet on a leg, with the head's at that corner."""
    return _measured(f"opening.rabbet.{side}", Along(path="opening.rabbet.head", lean=end))


def _measured(path: str, *also: Along) -> Dimension:
    """Return a dimension that is read off the opening and cut by nobody."""
    return Dimension(key=path, words=path, along=(Along(path=path), *also), more="", less="")


def drawn_errors(scene: Scene, held: Sequence[Tolerance], count: int, seed: int) -> Floats:
    """Return random errors (count, len(held)), inches and radians.

    A setback or a depth that would come out under 0 is 0. The first draws are
    the same however many there are.
    """
    random = np.random.default_rng(seed)
    amounts = np.array([each.amount for each in held])
    shares = random.uniform(-0.5, 0.5, (count, len(held), 2)).sum(axis=2)
    return kept_above_nothing(scene, held, shares * amounts)


def kept_above_nothing(scene: Scene, held: Sequence[Tolerance], errors: Floats) -> Floats:
    """Return errors (n, d), those of setbacks and depths no greater than they are themselves."""
    kept = errors.copy()
    for k, each in enumerate(held):
        path = each.dimension.along[0].path
        if path.startswith("hinge."):
            kept[:, k] = np.maximum(kept[:, k], -min(measured(scene, path)))
    return kept
