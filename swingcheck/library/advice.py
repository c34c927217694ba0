"""What to do about a slab: its cures, how far a measurement may go, its least bevels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import atan, radians
from typing import Any, NamedTuple

from swingcheck.advice.answer import answered
from swingcheck.advice.bevel import LeastBevel, MarginTable, least_bevels, margin_tables
from swingcheck.advice.cure import Cure
from swingcheck.advice.judge import Judge
from swingcheck.advice.setback import Setting, recommended, surest
from swingcheck.advice.window import Window, window_of
from swingcheck.bench.painted import in_its_wettest_month
from swingcheck.bench.season import SeasonMargins, season_margins
from swingcheck.chance import measurements as registry
from swingcheck.chance.measurements import Measurement
from swingcheck.chance.risk import Risk
from swingcheck.chance.risk import risk as chance_risk
from swingcheck.model import Scene
from swingcheck.swing.found import Found
from swingcheck.units import MM_PER_INCH

WIDTHS_IN = {
    "in": (18.0, 24.0, 30.0, 36.0),
    "mm": tuple(width / MM_PER_INCH for width in (450, 600, 750, 900)),
}
"""Slab widths of the bevel table where none are given, inches, by the scene's unit."""

BEVELS_RAD = (0.0, radians(1), radians(2), radians(3), atan(1 / 16))
"""Bevels of the table where none are given; the last is 1/8 in 2."""


def cures(scene: Scene) -> tuple[Cure, ...]:
    """Return what to change so that the slab swings often enough, the surest first.

    Each was swung in full as it is rounded to the tape; ``cure.settings`` goes into
    :meth:`.Scene.with_`. None where it is good as it is. Raises GeometryError where
    the sizes leave nothing of a part.
    """
    return answered(scene).cures


def season(found: Found) -> SeasonMargins:
    """Return a checked slab's margins across the year, as the wood swells and shrinks."""
    return season_margins(found.scene, found.margins)


def risk(scene: Scene, *, as_cut: bool = False, **how: Any) -> Risk:
    """Return how likely the slab is to swing as it will be, and what decides it.

    Cut to its tolerances, painted, and in its wettest month; ``as_cut`` leaves paint and
    the year out. ``how`` is as for :func:`swingcheck.chance.risk.risk`. Raises WorkError
    where a draw cannot be built, or the work cannot be shared out.
    """
    found = chance_risk(scene if as_cut else in_its_wettest_month(scene), **how)
    return replace(found, as_cut=as_cut)


class Leeway(NamedTuple):
    """How far one measurement may go: the values that work, and the one to take, if any."""

    scene: Scene
    window: Window
    setting: Setting | None


def leeway(scene: Scene, key: str) -> Leeway:
    """Return how far a measurement may go before the slab no longer swings as wanted.

    Raises SceneError where the scene has no such measurement.

    Parameters
    ----------
    scene : Scene
        All else stays as it is.
    key : str
        As in the scene's file, such as ``hinge.slab.setback``; :func:`measurements` has them all.
    """
    judge = Judge(scene, registry.measurement(scene, key))
    window = window_of(judge)
    setting = recommended(judge, window, stay=not key.endswith(".setback"))
    if setting is not None and key.endswith(".setback"):
        setting, _ = surest(judge, window, setting)
    return Leeway(scene, window, setting)


class Measurements(NamedTuple):
    """A scene, and what of it can be left free."""

    scene: Scene
    free: Sequence[Measurement]


def measurements(scene: Scene) -> Measurements:
    """Return the measurements of a scene that :func:`leeway` takes."""
    return Measurements(scene, registry.measurements(scene))


class Bevels(NamedTuple):
    """The least bevel of each edge of a scene, and the strike margin that bevels ask for."""

    scene: Scene
    edges: tuple[LeastBevel, ...]
    tables: tuple[MarginTable, ...]


def bevel(
    scene: Scene,
    *,
    widths: Sequence[float] = (),
    thicknesses: Sequence[float] = (),
    bevels: Sequence[float] = (),
) -> Bevels:
    """Return the least bevel of each edge, and the least strike margin by width and bevel.

    Parameters
    ----------
    scene : Scene
        The least bevels are its own, each edge with the other as it is; the
        tables are for its hinges in a plumb, square and level opening.
    widths, thicknesses : sequence of float
        Slabs of the tables, inches; usual widths and the scene's thickness where empty.
    bevels : sequence of float
        Columns of the tables, radians; usual ones where empty.
    """
    tables = margin_tables(
        scene,
        widths=widths or WIDTHS_IN[scene.unit],
        thicknesses=thicknesses or (scene.slab.thickness,),
        bevels=bevels or BEVELS_RAD,
    )
    return Bevels(scene, least_bevels(scene), tables)
