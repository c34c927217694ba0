"""A scene over ranges of its measurements, as they are typed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from math import degrees

from swingcheck.chance.measurements import Measurement, measurement
from swingcheck.chance.vary import Over, Varied, corner_scenes, over, steps_between
from swingcheck.chance.vary import vary as varied
from swingcheck.chance.workers import HERE, Spread
from swingcheck.errors import Problem, SceneError, UnitError
from swingcheck.library.scenes import pairs
from swingcheck.model import Scene
from swingcheck.scenefile import NAMES, Key, broken_limits
from swingcheck.units import parsed_angle, parsed_length

Ends = tuple[str, str, str]

LONGEST = 250_000
"""Values of one dimension, past which a range is a slip of the pen."""

_UNIT = re.compile(r"(?:mm|cm|in|inch|inches|ft|deg|degrees|[\"'\u00b0\u2032\u2033])\.?$")


def vary(
    scene: Scene,
    ranges: Mapping[str, Ends] | Iterable[tuple[str, Ends]],
    *,
    spread: Spread = HERE,
    full: bool = False,
    watch: Callable[[str, float], None] = lambda what, share: None,
) -> Varied:
    """Return what a scene comes to over ranges of its measurements, all else as it is.

    Raises SceneError with every fault of the ranges; and WorkError where a variant
    cannot be built, or the work cannot be shared out.

    Parameters
    ----------
    scene : Scene
        What is varied.
    ranges : mapping of str to (str, str, str), or pairs
        From, to and step as typed, by key: ``{"hinge.slab.setback": ("1/8", "3/8", "1/64")}``.
    spread : Spread
        Where the work is done; the answer does not depend on it.
    full : bool
        Swing every variant in full, even where the plan would do.
    watch : callable
        Told what is done, and what share of it, 0 to 1.
    """
    return varied(scene, _overs(scene, pairs(ranges)), spread=spread, full=full, watch=watch)


def _overs(scene: Scene, ranges: list[tuple[str, Ends]]) -> list[Over]:
    """Return the ranges with their values; raises `SceneError` with every fault of them."""
    found = [_over(scene, measurement(scene, key, free=False), ends) for key, ends in ranges]
    overs = [each for each in found if isinstance(each, Over)]
    problems = [each for each in found if isinstance(each, Problem)]
    if not problems:
        problems = [
            Problem(
                key=broken.key,
                value=broken.value,
                expected=f"must be {broken.expected}",
                hint="at "
                + " and ".join(
                    f"{each.measurement.key} = {each.measurement.text(value, scene.unit)}"
                    for each, value in zip(overs, values.tolist(), strict=True)
                ),
            )
            for corner, values in corner_scenes(scene, overs)
            for broken in broken_limits(corner)
        ]
    if problems:
        raise SceneError(scene.called, problems)
    return overs


def _over(scene: Scene, free: Measurement, ends: Ends) -> Over | Problem:
    """Return the values of a range, or what is wrong with it."""

    def wrong(expected: str) -> Problem:
        return Problem(key=f"{free.key}={':'.join(ends)}", value="", expected=expected)

    if len({bool(_UNIT.search(end)) for end in ends}) > 1:
        return wrong("each of FROM, TO and STEP must have its unit, or none of them")
    try:
        low, high, step = (
            parsed_angle(end) if free.is_angle else parsed_length(end, scene.unit) for end in ends
        )
    except UnitError as error:
        return wrong(str(error))
    if not (low < high and step > 0):
        return wrong("FROM must be less than TO, and STEP above 0")
    if steps_between(low, high, step) > LONGEST:
        return wrong(f"must come to at most {LONGEST:,} values: take a wider STEP")
    found = over(free, low, high, step)
    spec = NAMES.keys.get(free.key)
    measure = degrees if free.is_angle else float
    if isinstance(spec, Key) and not all(
        spec.within(measure(end)) for end in found.values[[0, -1]].tolist()
    ):
        return wrong(f"must keep {spec.limits_text(scene.unit)}")
    return found
