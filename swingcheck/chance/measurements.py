"""The dimensions of a scene that are still free: how each is changed, and how far it can be.

A dimension is changed on the bench, not on paper, so what hangs on it comes
along: a stop that is moved leaves the jamb's mortises where they were cut, and
a slab that is hung lower takes its leaves higher up. Every change is of one
number; a measurement taken at several places is shifted by the same amount at
all of them, or leans, full at one end and nothing at the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from math import radians

from swingcheck.chance.availability import following_paths, held_settings, why_missing
from swingcheck.chance.spans import Span, span_of
from swingcheck.chance.values import (
    Lean,
    measured,
    numbers_under,
    setting_text,
    shifted,
    with_values,
)
from swingcheck.errors import Problem, SceneError
from swingcheck.model import Scene
from swingcheck.units import MM_PER_INCH

Settings = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Along:
    """A measurement that changes with a dimension, by ``factor`` for each 1 of it."""

    path: str
    factor: float = 1.0
    lean: Lean = Lean.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """One number of a scene that is still free.

    ``key`` is what it is called on the command line, ``words`` in a sentence.
    ``along`` are the measurements that it changes, the first being its own.
    ``mark`` is the coarsest step that it comes in (0: a mark of the tape).
    ``more`` and ``less`` are what to do at the bench, with ``{by}`` for the
    change and ``{to}`` for what it comes to. ``upsets`` names further
    measurements that a scene file may have left to follow from this one.
    """

    key: str
    words: str
    along: tuple[Along, ...]
    more: str
    less: str
    is_angle: bool = False
    mark: float = 0.0
    upsets: tuple[str, ...] = ()

    def value(self, scene: Scene) -> float:
        """Return its value now, inches or radians; of several places the first, or the last."""
        own = self.along[0]
        values = measured(scene, own.path)
        return values[-1] if own.lean is Lean.BOTTOM else values[0]

    def changed(self, scene: Scene, value: float) -> Scene:
        """Return the scene with this dimension at another value."""
        by = value - self.value(scene)
        if by == 0:
            return scene
        for one in self.along:
            scene = with_values(
                scene, one.path, shifted(scene, one.path, by * one.factor, one.lean)
            )
        return self._exactly(scene, value)

    def _exactly(self, scene: Scene, value: float) -> Scene:
        """Return the scene with its own places that should be at the value at it to the bit."""
        own = self.along[0]
        if own.lean is not Lean.NONE:
            return scene
        values = measured(scene, own.path)
        close = tuple(value if abs(v - value) < 1e-12 else v for v in values)
        return with_values(scene, own.path, close)

    def span(self, scene: Scene) -> Span:
        """Return the least and the most that it can be; what it is now is always within."""
        now = self.value(scene)
        low, high = -10.0, 10.0
        for one in self.along:
            full = shifted(scene, one.path, 1.0, one.lean)
            for place, moved in enumerate(full):
                was = shifted(scene, one.path, 0.0, one.lean)[place]
                rate = (moved - was) * one.factor
                if abs(rate) > 1e-9:
                    ends = sorted((end - was) / rate for end in span_of(scene, one.path, place))
                    low, high = max(low, ends[0]), min(high, ends[1])
        return float(now + min(low, 0.0)), float(now + max(high, 0.0))

    def settings(self, scene: Scene, value: float) -> Settings:
        """Return what ``--set`` takes for a scene file to come to the changed scene."""
        after = self.changed(scene, value)
        left_out = {item.key for item in scene.assumed}
        paths = dict.fromkeys(one.path for one in self.along)
        for upset in self.upsets:
            if any(key == upset or key.startswith(f"{upset}.") for key in left_out):
                paths.update(dict.fromkeys(numbers_under(after, upset)))
        paths.update(dict.fromkeys(following_paths(scene, list(paths))))
        texts = (setting_text(after, path) for path in paths if measured(after, path))
        return (*texts, *held_settings(after, paths))

    def step(self, scene: Scene) -> float:
        """Return the mark that it is set to at the bench: 1/64 in, 0.5 mm or half a degree."""
        if self.is_angle:
            return radians(0.5)
        return self.mark or (0.5 / MM_PER_INCH if scene.unit == "mm" else 1 / 64)


def dimension(scene: Scene, key: str) -> Dimension:
    """Return a dimension of a scene by its key.

    Raises
    ------
    SceneError
        When there is no such dimension, or the scene has no such thing.
    """
    found = next((each for each in dimensions(scene) if each.key == key), None)
    if found is not None:
        return found
    known = [each.key for each in _all(scene)]
    near = get_close_matches(key, known, n=1, cutoff=0.6)
    expected, hint = "no dimension that can be left free", ""
    if key in known:
        expected = _missing(scene, key)
    elif near:
        hint = f"did you mean {near[0]}?"
    raise SceneError(scene.title, [Problem(key=key, value="", expected=expected, hint=hint)])


def dimensions(scene: Scene) -> tuple[Dimension, ...]:
    """Return every dimension that a scene has."""
    return tuple(each for each in _all(scene) if not _missing(scene, each.key))


def _missing(scene: Scene, key: str) -> str:
    """Return why a scene does not have a dimension; empty when it has."""
    if scene.stop is None and key.startswith(("opening.rabbet", "stop.")):
        return "there is no stop"
    if reason := why_missing(scene, key):
        return reason
    for path, edge in (("hinge", scene.slab.hinge_edge), ("strike", scene.slab.strike_edge)):
        if key == f"slab.{path}_edge.bevel" and edge.is_round:
            return "the edge is round"
    return ""


def _all(scene: Scene) -> Iterator[Dimension]:
    for side in ("slab", "jamb"):
        yield from _leaf_dimensions(scene, side)
    yield from _slab_dimensions()
    yield from _slab_height_dimensions()
    yield from _stop_dimensions()
    yield from _hinge_dimensions()


_FACES = {"slab": "stop-side face", "jamb": "stop"}


def _leaf_dimensions(scene: Scene, side: str) -> Iterator[Dimension]:
    """Yield setback and depth of one side's leaves: all together, leaning, and one by one."""
    face = _FACES[side]
    acts = {
        "setbacks": (
            f"Set {{what}} {{by}} farther from the {face}{{to}}",
            f"Set {{what}} {{by}} nearer the {face}{{to}}",
        ),
        "depths": ("Let {what} in {by} deeper{to}", "Pack {what} out by {by}{to}"),
    }
    for name, (more, less) in acts.items():
        path, word = f"hinge.{side}.{name}", name[:-1]
        groups = [(path, Lean.NONE, f"the {side}'s leaves", "")]
        groups += [
            (path, lean, f"the {side}'s {lean.value} leaf", lean.value)
            for lean in (Lean.TOP, Lean.BOTTOM)
        ]
        groups += [
            (f"{path}[{k}]", Lean.NONE, f"the {side}'s leaf {k + 1} from the top alone", f"[{k}]")
            for k in range(scene.hinge.count)
        ]
        for own, lean, what, suffix in groups:
            dot = "." if lean is not Lean.NONE else ""
            rest = ", those between in proportion" if dot and scene.hinge.count > 2 else ""
            yield Dimension(
                key=f"hinge.{side}.{word}{dot}{suffix}",
                words=f"{word} of {what}{rest}",
                along=(Along(path=own, lean=lean),),
                more=more.replace("{what}", what) + rest,
                less=less.replace("{what}", what) + rest,
            )


def _slab_dimensions() -> Iterator[Dimension]:
    for edge, path in (("hinge edge", "slab.hinge_edge"), ("strike edge", "slab.strike_edge")):
        yield Dimension(
            key=f"{path}.bevel",
            words=f"bevel of the {edge}",
            along=(Along(path=f"{path}.bevel"),),
            more=f"Bevel the {edge} {{by}} more{{to}}",
            less=f"Bevel the {edge} {{by}} less{{to}}",
            is_angle=True,
        )
    yield Dimension(
        key="slab.width",
        words="width of the slab on its wide face",
        along=(Along(path="slab.width"),),
        more="Use a slab {by} wider{to}",
        less="Take {by} off the strike edge{to}",
        upsets=("hinge.leaf_length",),
    )
    for lean in (Lean.TOP, Lean.BOTTOM):
        yield Dimension(
            key=f"slab.width.{lean.value}",
            words=f"width of the slab at the {lean.value}, tapering",
            along=(Along(path="slab.width", lean=lean),),
            more=f"Use a slab {{by}} wider at the {lean.value}",
            less=f"Plane the strike edge to a taper, {{by}} off at the {lean.value}",
            upsets=("hinge.leaf_length",),
        )


def _slab_height_dimensions() -> Iterator[Dimension]:
    yield Dimension(
        key="slab.height",
        words="height of the slab, trimmed at the bottom",
        along=(Along(path="slab.height"),),
        more="Use a slab {by} longer at the bottom{to}",
        less="Trim {by} off the bottom{to}",
        upsets=("hinge.slab.tops", "hinge.jamb.tops", "hinge.count"),
    )
    yield Dimension(
        key="slab.top",
        words="height of the slab, trimmed at the top",
        along=(
            Along(path="slab.height"),
            Along(path="slab.head_margin", factor=-1.0),
            Along(path="hinge.slab.tops"),
        ),
        more="Use a slab {by} longer at the top",
        less="Plane {by} off the top",
        upsets=("hinge.jamb.tops", "hinge.count"),
    )
    yield Dimension(
        key="slab.head_margin",
        words="how far below the head the slab is hung",
        along=(Along(path="slab.head_margin"), Along(path="hinge.slab.tops", factor=-1.0)),
        more="Hang the slab {by} lower{to}: its leaves go that much higher up the edge",
        less="Hang the slab {by} higher{to}: its leaves go that much lower down the edge",
        upsets=("slab.height", "hinge.jamb.tops"),
    )
    yield Dimension(
        key="slab.thickness",
        words="thickness of the slab",
        along=(Along(path="slab.thickness"),),
        more="Use a slab {by} thicker{to}",
        less="Use a slab {by} thinner{to}",
        upsets=("opening.rabbet", "hinge.leaf_length"),
    )


def _stop_dimensions() -> Iterator[Dimension]:
    """Yield the stops' places; the jamb's mortises and the other stops stay where they are."""
    leaves = Along(path="hinge.jamb.setbacks")
    each = {side: Along(path=f"opening.rabbet.{side}") for side in ("hinge", "strike", "head")}
    still = {side: replace(one, factor=0.0) for side, one in each.items()}
    sides = {
        "": ("stops", (each["hinge"], leaves, each["strike"], each["head"])),
        ".hinge": ("hinge stop", (each["hinge"], leaves, still["strike"], still["head"])),
        ".strike": ("strike stop", (each["strike"], still["hinge"], still["head"])),
        ".head": ("head stop", (each["head"], still["hinge"], still["strike"])),
    }
    for suffix, (words, along) in sides.items():
        yield Dimension(
            key=f"opening.rabbet{suffix}",
            words=f"rabbet to the {words}",
            along=along,
            more=f"Move the {words} {{by}} away from the slab{{to}}",
            less=f"Move the {words} {{by}} toward the slab{{to}}",
        )
    yield Dimension(
        key="stop.projection",
        words="how far the stops stand out",
        along=(Along(path="stop.projection"),),
        more="Use stops that stand out {by} more{to}",
        less="Use stops that stand out {by} less{to}",
    )


def _hinge_dimensions() -> Iterator[Dimension]:
    yield Dimension(
        key="hinge.open_width",
        words="open width of the hinges",
        along=(Along(path="hinge.open_width"),),
        more="Use hinges {by} wider{to}",
        less="Use hinges {by} narrower{to}",
        mark=1 / 2,
        upsets=("hinge.corner_radius",),
    )
    yield Dimension(
        key="hinge.closed_gap",
        words="gap between the closed leaves",
        along=(Along(path="hinge.closed_gap"),),
        more="Use hinges with {by} more between their closed leaves{to}",
        less="Use hinges with {by} less between their closed leaves{to}",
    )
    yield Dimension(
        key="hinge.screw_proud",
        words="how far screw heads stand above the leaves",
        along=(Along(path="hinge.screw_proud"),),
        more="Leave the screw heads {by} prouder{to}",
        less="Drive the screw heads {by} deeper{to}",
    )
