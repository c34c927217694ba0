"""swingcheck: a 3D fit simulator for a door slab swinging past its stops.

As a library it is a handful of functions, one for each question::

    import swingcheck as sc

    scene = sc.read("door.toml")
    found = sc.check(scene)
    print(found.verdict, [cure.words for cure in sc.cures(scene)])
    print(sc.text(sc.setback(scene.with_({"slab.thickness": "1 3/4"}))))

Lengths are inches and angles radians, whatever the scene's file is in; what is
read off a tape is given as it is written there (``"29 13/16"``, ``"3 mm"``).
Everything that is refused is a :class:`SwingcheckError`. Nothing is imported
before it is used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from swingcheck.version import __version__ as __version__

if TYPE_CHECKING:
    from swingcheck.advice.answer import Answer as Answer
    from swingcheck.advice.answer import answered as answered
    from swingcheck.advice.cure import Cure as Cure
    from swingcheck.advice.setback import Setback as Setback
    from swingcheck.advice.setback import setback as setback
    from swingcheck.bench.door import bench_numbers as bench_numbers
    from swingcheck.chance.risk import Risk as Risk
    from swingcheck.chance.risk import risk as risk
    from swingcheck.chance.vary import Varied as Varied
    from swingcheck.chance.workers import Spread as Spread
    from swingcheck.errors import SceneError as SceneError
    from swingcheck.errors import SwingcheckError as SwingcheckError
    from swingcheck.job.columns import blank_sheet as blank_sheet
    from swingcheck.job.house import Job as Job
    from swingcheck.library.advice import Bevels as Bevels
    from swingcheck.library.advice import Leeway as Leeway
    from swingcheck.library.advice import Measurements as Measurements
    from swingcheck.library.advice import bevel as bevel
    from swingcheck.library.advice import cures as cures
    from swingcheck.library.advice import leeway as leeway
    from swingcheck.library.advice import measurements as measurements
    from swingcheck.library.advice import season as season
    from swingcheck.library.files import cards as cards
    from swingcheck.library.files import film as film
    from swingcheck.library.files import mesh as mesh
    from swingcheck.library.files import templates as templates
    from swingcheck.library.files import web_page as web_page
    from swingcheck.library.pictures import Pictures as Pictures
    from swingcheck.library.pictures import compare as compare
    from swingcheck.library.pictures import draw as draw
    from swingcheck.library.pictures import draw_map as draw_map
    from swingcheck.library.ranges import vary as vary
    from swingcheck.library.reports import plain as plain
    from swingcheck.library.reports import text as text
    from swingcheck.library.reports import write_table as write_table
    from swingcheck.library.scenes import house as house
    from swingcheck.library.scenes import new as new
    from swingcheck.library.scenes import read as read
    from swingcheck.model import Scene as Scene
    from swingcheck.swing.check import check as check
    from swingcheck.swing.found import Found as Found
    from swingcheck.swing.found import Verdict as Verdict

_NAMES = {
    "advice.answer": "Answer answered",
    "advice.cure": "Cure",
    "advice.setback": "Setback setback",
    "bench.door": "bench_numbers",
    "chance.risk": "Risk risk",
    "chance.vary": "Varied",
    "chance.workers": "Spread",
    "errors": "SceneError SwingcheckError",
    "job.columns": "blank_sheet",
    "job.house": "Job",
    "library.advice": "Bevels Leeway Measurements bevel cures leeway measurements season",
    "library.files": "cards film mesh templates web_page",
    "library.pictures": "Pictures compare draw draw_map",
    "library.ranges": "vary",
    "library.reports": "plain text write_table",
    "library.scenes": "house new read",
    "model": "Scene",
    "swing.check": "check",
    "swing.found": "Found Verdict",
}

_HOMES = {name: home for home, names in _NAMES.items() for name in names.split()}

__all__ = ["__version__", *sorted(_HOMES)]


def __getattr__(name: str) -> Any:
    """Return what a name stands for, imported the first time it is asked for."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOMES})
