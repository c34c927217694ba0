"""What the slab weighs on its hinges, and which hinges the published rules ask for.

Sources of the rules, and what was read of each:

- Number: NFPA 80, two up to 60 in of height and one more for each further 30
  in or fraction. Read in a quotation of its 1968 wording.
- Number, older: three over 7 ft high or 4 ft wide. Radford's Cyclopedia of
  Construction (1909), read.
- Leaf length by thickness and width: recommendation of the Door and Hardware
  Institute; read in secondary text only, the standard itself was not.
- Open width: the pin halfway out to the trim's face, up to the next stock size;
  with square edges that is The Building Trades Pocketbook's rule (c. 1899, read):
  twice the thickness less twice the setback, plus what the trim stands out.
- Door mass grades: EN 1935:2002, read in secondary text only. Its adjusted mass:
  three suppliers' tables that agree, which name its annex; they add what a wide
  slab and a closer ask for to the mass, and do not multiply.

The loads are statics: a rigid slab on hinges alike. Upright it is shared
evenly where every hinge is let in true; a slab hung on one of them has all of
it there. Across, the couple of the weight about the pin line is resisted in
proportion to each hinge's distance from their middle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot, inf

import numpy as np

from swingcheck.assembly import Assembly, bare_assembly
from swingcheck.assembly.hang import pin_line
from swingcheck.assembly.pins import slab_pins
from swingcheck.bench.sizing import on_slab
from swingcheck.bench.weight import KILOGRAMS, centre_of_gravity, slab_weight
from swingcheck.geometry.solid import Floats
from swingcheck.model import Closer, Scene
from swingcheck.model.hinge import (
    hinge_count,
    stock_open_width,
    usual_gauge,
    usual_leaf_length,
)
from swingcheck.swing.margins import pins_found

_SETTLED_IN, _MOST_TURNS = 1e-9, 12

GRADES = ((0, 10), (1, 20), (2, 40), (3, 60), (4, 80), (5, 100), (6, 120), (7, 160))
"""EN 1935, door mass: grade and test door's mass in kg. Read in secondary text only."""

CLOSER_MASS = {Closer.NONE: 0.0, Closer.PLAIN: 0.20, Closer.BACK_CHECK: 0.75}
"""EN 1935, adjusted mass: the share of the slab's that a closer adds. Read in secondary text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """What the hinges carry, pounds.

    ``pull`` is level, away from the leg, one a hinge and negative where the
    slab pushes; ``upright`` is each hinge's share, ``worst`` a hinge's load
    with all of the upright load on it. ``reach`` is from the pin line to the
    centre of gravity, inches.
    """

    reach: float
    pull: tuple[float, ...]
    upright: float
    worst: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeRules:
    """Which hinges the published rules ask for; ``None`` where a rule says nothing.

    ``count`` is NFPA 80's, ``older_count`` Radford's; ``gauge`` the leaf's
    thickness where it is to be heavy; ``open_width`` the least, and
    ``stock_width`` the next stock size; ``trim`` is what the casing stands out
    for it. ``adjusted_mass`` is in kg, ``grade`` EN 1935's.
    """

    count: int
    older_count: int
    leaf_length: float | None
    gauge: float | None
    open_width: float | None
    stock_width: float | None
    trim: float
    adjusted_mass: float | None
    grade: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """The slab's weight, where it balances, its loads and its hinges.

    ``weight`` in pounds with its glass, ``None`` where it is not known, and
    then so are the loads. ``balance`` is the centre of gravity: from the hinge
    edge, from the wide face and up from the bottom.
    """

    weight: float | None
    balance: tuple[float, float, float]
    loads: Loads | None
    rules: HingeRules


def hanging(scene: Scene) -> Hanging:
    """Return the slab's weight and centre of gravity, its hinges' loads and the rules."""
    weight = slab_weight(scene)
    balance = centre_of_gravity(scene)
    return Hanging(
        weight=weight,
        balance=(float(balance[0]), -float(balance[1]), float(balance[2])),
        loads=None if weight is None else hinge_loads(scene, weight, balance),
        rules=hinge_rules(scene, weight),
    )


def hinge_loads(scene: Scene, weight: float, balance: Floats) -> Loads:
    """Return what each hinge carries of a slab that hangs still.

    ``weight`` is in pounds; ``balance`` (3,) its centre of gravity, slab frame.
    With the couple ``M = weight * reach`` and hinges at heights ``z``, a hinge
    pulls ``M (z - mean) / sum((z - mean)^2)``: for two hinges ``S`` apart, and for
    three evenly spaced over ``S``, that is ``M / S`` at the top.
    """
    pins = slab_pins(scene)[..., 0]
    start, direction = pin_line(pins)
    away = balance - start
    reach = hypot(*(away - (away @ direction) * direction))
    high = pins[:, 2] - pins[:, 2].mean()
    pull = weight * reach * high / (high @ high)
    upright = weight / len(pins)
    return Loads(
        reach=reach,
        pull=tuple(pull.tolist()),
        upright=upright,
        worst=hypot(weight, float(np.abs(pull).max())),
    )


def hinge_rules(scene: Scene, weight: float | None) -> HingeRules:
    """Return the hinges that the published rules ask for."""
    slab = scene.slab
    height, width = max(slab.height), max(slab.width)
    least = least_open_width(scene)
    length, is_recommended = usual_leaf_length(slab.thickness, width)
    gauge, is_heavy = usual_gauge(slab.thickness, length)
    mass = None
    if weight is not None:
        mass = adjusted_mass(weight * KILOGRAMS, width, height, scene.site.closer)
    return HingeRules(
        count=hinge_count(height),
        older_count=3 if height > 84.0 or width > 48.0 else 2,
        leaf_length=length if is_recommended else None,
        gauge=gauge if is_recommended and is_heavy else None,
        open_width=least,
        stock_width=None if least is None else stock_open_width(least),
        trim=trim_stand_out(bare_assembly(scene)),
        adjusted_mass=mass,
        grade=None if mass is None else hinge_grade(mass),
    )


def least_open_width(scene: Scene) -> float | None:
    """Return the least open width that lets the slab lie back past its trim, inches.

    Turned half round, the slab's wide face stands off its closed place by twice
    what the pin is proud of it; a wider hinge moves the pin out by half of what it
    is wider, as an edge leans. ``None`` for leaves that are not flat and alike.
    """
    if not scene.hinge.is_flat:
        return None
    hinge, short = scene.hinge, inf
    for _ in range(_MOST_TURNS):
        hung = bare_assembly(replace(scene, hinge=hinge))
        short = trim_stand_out(hung) - 2 * pins_found(hung).proud
        hinge = replace(hinge, open_width=hinge.open_width + short)
        if abs(short) < _SETTLED_IN:
            break
    return hinge.open_width


def trim_stand_out(hung: Assembly) -> float:
    """Return how far the casing stands beyond the wide face of the closed slab, inches.

    At mid-height of the hinge edge; at least 0.
    """
    scene = hung.scene
    if scene.casing is None:
        return 0.0
    wide_face = float(on_slab(hung, 0.0, 0.0, scene.slab.height[0] / 2)[1])
    return max(scene.casing.thickness - wide_face, 0.0)


def adjusted_mass(mass: float, width: float, height: float, closer: Closer) -> float:
    """Return the mass, kg, by which EN 1935 grades the hinges of a slab.

    A slab wider than half its height adds ``2 - H / W`` of the mass; a closer
    20 %, one with back-check 75 %.

    Examples
    --------
    >>> round(adjusted_mass(50.0, 1200.0, 2000.0, Closer.NONE), 1)
    66.7
    """
    return mass * (1 + max(0.0, 2 - height / width) + CLOSER_MASS[closer])


def hinge_grade(mass: float) -> int | None:
    """Return the least EN 1935 door mass grade for an adjusted mass in kg; ``None`` past them.

    Examples
    --------
    >>> hinge_grade(40.0), hinge_grade(40.1), hinge_grade(200.0)
    (2, 3, None)
    """
    return next((grade for grade, tested in GRADES if mass <= tested), None)
