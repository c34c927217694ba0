"""What can be changed of a scene: one row for each measurement, and what hangs on it.

A measurement is changed on the bench, not on paper, so what hangs on it comes
along: a stop that is moved leaves the jamb's mortises where they were cut, and
a slab that is hung lower takes its leaves higher up. Every change is of one
number; what was taken at several places is shifted by the same amount at all
of them, or leans, full at one end and nothing at the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from math import radians
from typing import Any

import numpy as np

from swingcheck.chance.spans import Span, span_of
from swingcheck.chance.values import (
    Lean,
    following_paths,
    held_settings,
    in_file,
    measured,
    numbers_under,
    setting_text,
    shifted,
    with_values,
)
from swingcheck.errors import Problem, SceneError
from swingcheck.model import Scene
from swingcheck.units import MM_PER_INCH, angle_text, length_text

Settings = tuple[tuple[str, str], ...]

BEVEL_STEP_RAD = radians(0.5)
SAME_VALUE = 1e-12  # inches or radians: what comes this near to what is asked for is at it


@dataclass(frozen=True, slots=True, kw_only=True)
class Along:
    """What changes with a measurement, by ``factor`` for each 1 of it."""

    path: str
    factor: float = 1.0
    lean: Lean = Lean.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """One number of a scene that can be changed, or is read off it.

    ``key`` is what it is called on the command line, ``words`` in a sentence.
    ``along`` is what it changes, the first being its own. ``more`` and
    ``less`` are what to do at the bench, with ``{by}`` for the change and
    ``{to}`` for what it comes to; empty for what nobody sets (``is_free``).
    ``mark`` is the coarsest step that it comes in, inches (0: a mark of the
    tape). ``upsets`` names what a scene file may have left to follow from it.
    ``held`` is what it is called where it is held to a tolerance, and which of
    the shop's.
    """

    key: str
    words: str
    along: tuple[Along, ...]
    more: str = ""
    less: str = ""
    is_angle: bool = False
    mark: float = 0.0
    upsets: tuple[str, ...] = ()
    held: tuple[str, str] = ("", "")

    @property
    def is_free(self) -> bool:
        """Whether somebody can set it, and not only read it off."""
        return bool(self.more)

    def value(self, scene: Scene) -> float:
        """Return its value now, inches or radians; of several places the first, or the last."""
        own = self.along[0]
        values = measured(scene, own.path)
        return values[-1] if own.lean is Lean.BOTTOM else values[0]

    def text(self, value: float, unit: str = "in") -> str:
        """Return a value of it for reading."""
        return angle_text(value) if self.is_angle else length_text(value, unit)

    def changed(self, scene: Scene, value: Any) -> Scene:
        """Return the scene with this measurement at another value, to the bit.

        Or many scenes in one: the value may be an array (n,), as numbers of the
        scene may.
        """
        by = value - self.value(scene)
        if np.all(by == 0):
            return scene
        for one in self.along:
            values = shifted(scene, one.path, by * one.factor, one.lean)
            if one is self.along[0] and one.lean is Lean.NONE:
                near = (np.all(np.abs(v - value) < SAME_VALUE) for v in values)
                values = tuple(value if same else v for v, same in zip(values, near, strict=True))
            scene = with_values(scene, one.path, values)
        return scene

    def span(self, scene: Scene) -> Span:
        """Return the least and the most that it can be; what it is now is always within."""
        now = self.value(scene)
        low, high = -10.0, 10.0
        for one in self.along:
            was = shifted(scene, one.path, 0.0, one.lean)
            full = shifted(scene, one.path, 1.0, one.lean)
            for place, (before, moved) in enumerate(zip(was, full, strict=True)):
                rate = (moved - before) * one.factor
                if abs(rate) > 1e-9:
                    ends = sorted((end - before) / rate for end in span_of(scene, one.path, place))
                    low, high = max(low, ends[0]), min(high, ends[1])
        return float(now + min(low, 0.0)), float(now + max(high, 0.0))

    def settings(self, scene: Scene, value: float) -> Settings:
        """Return what ``--set`` takes for a scene file to come to the changed scene."""
        after = self.changed(scene, value)
        left_out = {item.key for item in scene.assumed}
        paths = dict.fromkeys(one.path for one in self.along)
        for upset in self.upsets:
            if any(f"{key}.".startswith(f"{in_file(upset)}.") for key in left_out):
                paths.update(dict.fromkeys(numbers_under(after, upset)))
        paths.update(dict.fromkeys(following_paths(scene, list(paths))))
        texts = (setting_text(after, path) for path in paths if measured(after, path))
        return (*texts, *held_settings(after, paths))

    def step(self, scene: Scene) -> float:
        """Return the mark that it is set to at the bench: 1/64 in, 0.5 mm or half a degree."""
        if self.is_angle:
            return BEVEL_STEP_RAD
        return self.mark or (0.5 / MM_PER_INCH if scene.unit == "mm" else 1 / 64)


def measurements(scene: Scene) -> tuple[Measurement, ...]:
    """Return every measurement of a scene that can be set."""
    return tuple(each for each in rows(scene) if each.is_free and not why_missing(scene, each.key))


def measurement(scene: Scene, key: str, *, free: bool = True) -> Measurement:
    """Return a measurement of a scene by its key; not ``free``, what is read off will do too.

    Raises SceneError when there is no such measurement, or the scene has no such thing.
    """
    known = {each.key: each for each in rows(scene) if not (free or each.is_free)}
    known |= {each.key: each for each in rows(scene) if each.is_free}
    reason = why_missing(scene, key)
    if key in known and not reason:
        return known[key]
    near = get_close_matches(key, known, n=1, cutoff=0.6)
    expected = f"no measurement of this scene that can be {'left free' if free else 'varied'}"
    hint = f"did you mean {near[0]}?" if near and key not in known else ""
    problem = Problem(key=key, value="", expected=reason or expected, hint=hint)
    raise SceneError(scene.called, [problem])


_Missing = tuple[tuple[str, ...], Callable[[Scene], object], str]
_MISSING: tuple[_Missing, ...] = (
    (("opening.rabbet", "stop."), lambda s: s.stop is None, "there is no stop"),
    (("hinge.",), lambda s: s.pivot, "the slab hangs on pivots"),
    (("slab.thickness",), lambda s: s.pivot, "the pivots stand by it"),
    (
        ("hinge.open_width",),
        lambda s: None not in (s.hinge.jamb.width, s.hinge.slab.width),
        "each leaf has a width of its own",
    ),
    (
        ("slab.height", "slab.top", "slab.head_margin"),
        lambda s: s.lower,
        "the lower slab hangs by it",
    ),
    (("slab.hinge_edge.bevel",), lambda s: s.slab.hinge_edge.is_round, "the edge is round"),
    (("slab.strike_edge.bevel",), lambda s: s.slab.strike_edge.is_round, "the edge is round"),
)
"""Keys by how they begin, which scenes do not have them, and why not."""


def why_missing(scene: Scene, key: str) -> str:
    """Return why a scene does not have a measurement; empty when it has."""
    reasons = (why for keys, lacks, why in _MISSING if key.startswith(keys) and lacks(scene))
    return next(reasons, "")


# The rows.


def rows(scene: Scene) -> Iterator[Measurement]:
    """Yield every measurement that there is, of a scene with so many hinges."""
    yield from _WIDTHS
    for side in _LEAVES:
        for name in _ACTS:
            yield from _leaf_rows(scene, side, name)
    yield from _REST


def _row(
    key: str,
    words: str,
    more: str = "",
    less: str = "",
    *also: Along,
    path: str = "",
    lean: Lean = Lean.NONE,
    **rest: Any,
) -> Measurement:
    own = Along(path=path or key, lean=lean)
    return Measurement(key=key, words=words, along=(own, *also), more=more, less=less, **rest)


_LEAVES = {"slab": "stop-side face", "jamb": "stop"}
_SETBACKS = ("hinge.slab.setbacks", "hinge.jamb.setbacks")
_ACTS = {
    "setback": (
        "Set {what} {by} farther from the {face}{to}",
        "Set {what} {by} nearer the {face}{to}",
    ),
    "depth": ("Let {what} in {by} deeper{to}", "Pack {what} out by {by}{to}"),
}


def _leaf_rows(scene: Scene, side: str, name: str) -> Iterator[Measurement]:
    """Yield setback or depth of one side's leaves: all together, leaning, and one by one."""
    key, path = f"hinge.{side}.{name}", f"hinge.{side}.{name}s"
    read = side == "jamb" and name == "setback"
    held = (f"{side} {name}", "measuring_tolerance" if read else f"{name}_tolerance")
    places = [("", path, Lean.NONE, f"the {side}'s leaves")]
    places += [
        (f".{lean.value}", path, lean, f"the {side}'s {lean.value} leaf")
        for lean in (Lean.TOP, Lean.BOTTOM)
    ]
    places += [
        (f"[{k}]", f"{path}[{k}]", Lean.NONE, f"the {side}'s leaf {k + 1} from the top alone")
        for k in range(scene.hinge.count)
    ]
    for suffix, own, lean, what in places:
        leans = lean is not Lean.NONE and scene.hinge.count > 2
        rest = ", those between in proportion" if leans else ""
        more, less = (
            act.replace("{what}", what).replace("{face}", _LEAVES[side]) + rest
            for act in _ACTS[name]
        )
        yield _row(
            f"{key}{suffix}",
            f"{name} of {what}{rest}",
            more,
            less,
            path=own,
            lean=lean,
            held=("", "") if suffix else held,
        )


_STAY = Along(path="hinge.jamb.setbacks")
"""The jamb's mortises stay where they were cut when their stop is moved."""


def _stop_row(suffix: str, words: str, moved: Sequence[str]) -> Measurement:
    """Return the place of the stops, or of one, those that stay put in the file too."""
    own, *rest = (f"opening.rabbet.{side}" for side in moved)
    still = [side for side in ("hinge", "strike", "head") if side not in moved]
    also = [_STAY] if "hinge" in moved else []
    also += [Along(path=path) for path in rest]
    also += [Along(path=f"opening.rabbet.{side}", factor=0.0) for side in still]
    return _row(
        f"opening.rabbet{suffix}",
        f"rabbet to the {words}",
        f"Move the {words} {{by}} away from the slab{{to}}",
        f"Move the {words} {{by}} toward the slab{{to}}",
        *also,
        path=own,
    )


_WIDTHS = (
    _row(
        "slab.width",
        "width of the slab on its wide face",
        "Use a slab {by} wider{to}",
        "Take {by} off the strike edge{to}",
        upsets=("hinge.leaf_length",),
        held=("slab width", "rip_tolerance"),
    ),
    *(
        _row(
            f"slab.width.{lean.value}",
            f"width of the slab at the {lean.value}, tapering",
            f"Use a slab {{by}} wider at the {lean.value}",
            f"Plane the strike edge to a taper, {{by}} off at the {lean.value}",
            path="slab.width",
            lean=lean,
            upsets=("hinge.leaf_length",),
        )
        for lean in (Lean.TOP, Lean.BOTTOM)
    ),
    _row("opening.width", "width of the opening", held=("opening width", "measuring_tolerance")),
)

_REST = (
    *(
        _row(
            f"slab.{edge}_edge.bevel",
            f"bevel of the {edge} edge",
            f"Bevel the {edge} edge {{by}} more{{to}}",
            f"Bevel the {edge} edge {{by}} less{{to}}",
            is_angle=True,
            held=(f"{edge} edge bevel", "bevel_tolerance"),
        )
        for edge in ("hinge", "strike")
    ),
    _row(
        "slab.height",
        "height of the slab, trimmed at the bottom",
        "Use a slab {by} longer at the bottom{to}",
        "Trim {by} off the bottom{to}",
        upsets=("hinge.slab.tops", "hinge.jamb.tops", "hinge.count"),
    ),
    _row(
        "slab.top",
        "height of the slab, trimmed at the top",
        "Use a slab {by} longer at the top",
        "Plane {by} off the top",
        Along(path="slab.head_margin", factor=-1.0),
        Along(path="hinge.slab.tops"),
        path="slab.height",
        upsets=("hinge.jamb.tops", "hinge.count"),
    ),
    _row(
        "slab.top.strike",
        "height of the slab at its strike edge, its head planed to a taper",
        "Use a slab {by} longer at the strike edge",
        "Plane the head to a taper, {by} off at the strike edge",
        path="slab.height",
        lean=Lean.BOTTOM,
        upsets=("hinge.slab.tops", "hinge.jamb.tops", "hinge.count"),
    ),
    _row(
        "slab.head_margin",
        "how far below the head the slab is hung",
        "Hang the slab {by} lower{to}: its leaves go that much higher up the edge",
        "Hang the slab {by} higher{to}: its leaves go that much lower down the edge",
        Along(path="hinge.slab.tops", factor=-1.0),
        upsets=("slab.height", "hinge.jamb.tops"),
    ),
    _row(
        "slab.thickness",
        "thickness of the slab",
        "Use a slab {by} thicker{to}",
        "Use a slab {by} thinner{to}",
        upsets=("opening.rabbet", "hinge.leaf_length", "hinge.leaf_thickness", *_SETBACKS),
    ),
    _stop_row("", "stops", ("hinge", "strike", "head")),
    _stop_row(".hinge", "hinge stop", ("hinge",)),
    _stop_row(".strike", "strike stop", ("strike",)),
    _stop_row(".head", "head stop", ("head",)),
    *(
        _row(
            f"opening.rabbet.{side}",
            f"rabbet on the {side} leg, as measured",
            "",
            "",
            Along(path="opening.rabbet.head", lean=end),
            held=(f"{side} rabbet", "measuring_tolerance"),
        )
        for side, end in (("hinge", Lean.TOP), ("strike", Lean.BOTTOM))
    ),
    _row(
        "stop.projection",
        "how far the stops stand out",
        "Use stops that stand out {by} more{to}",
        "Use stops that stand out {by} less{to}",
    ),
    _row(
        "hinge.open_width",
        "open width of the hinges",
        "Use hinges {by} wider{to}",
        "Use hinges {by} narrower{to}",
        mark=1 / 2,
        upsets=("hinge.corner_radius",),
    ),
    _row(
        "hinge.closed_gap",
        "gap between the closed leaves",
        "Use hinges with {by} more between their closed leaves{to}",
        "Use hinges with {by} less between their closed leaves{to}",
    ),
    _row(
        "hinge.screw_proud",
        "how far screw heads stand above the leaves",
        "Leave the screw heads {by} prouder{to}",
        "Drive the screw heads {by} deeper{to}",
    ),
    _row("hinge.leaf_thickness", "thickness of the leaves"),
    _row("opening.hinge_leg.twist", "twist of the hinge leg", is_angle=True),
    _row("opening.strike_leg.twist", "twist of the strike leg", is_angle=True),
)
