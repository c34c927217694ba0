"""Every bench number of one door, in cutting order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from swingcheck.bench.cautions import cautions
from swingcheck.bench.hinges import Hanging, hanging
from swingcheck.bench.layout import Layout, layout
from swingcheck.bench.lock import BoltMarks, lock_marks
from swingcheck.bench.materials import construction_of
from swingcheck.bench.mortise import Mortising, mortising
from swingcheck.bench.ripping import Ripping, finished_scene, ripping
from swingcheck.bench.season import SeasonMargins, season_margins
from swingcheck.errors import GeometryError
from swingcheck.model import Assumed, Scene, Stations
from swingcheck.units import lengths_text

SAME_SIZE_IN = 0.001
"""A slab within this of the one that was told is that slab, inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchNumbers:
    """One door at the bench.

    ``scene`` is as told and ``finished`` with the slab that the cuts leave;
    everything after the cuts is worked out for the finished slab. ``bolts``
    are the latch and the deadbolt, none without a lock.
    """

    scene: Scene
    finished: Scene
    cuts: Ripping
    leaves: Layout
    mortises: Mortising
    bolts: tuple[BoltMarks, ...]
    hanging: Hanging
    season: SeasonMargins
    cautions: tuple[str, ...]

    @property
    def assumed(self) -> tuple[Assumed, ...]:
        """What the scene left out and what the bench did, each key once."""
        found = (*self.scene.assumed, *self.cuts.assumed, *self.mortises.assumed)
        return tuple({item.key: item for item in (*found, *self.season.assumed)}.values())

    @property
    def bench_assumed(self) -> tuple[Assumed, ...]:
        """What the bench took beyond what the scene took."""
        before = {item.key for item in self.scene.assumed}
        return tuple(item for item in self.assumed if item.key not in before)

    @property
    def settings(self) -> tuple[tuple[str, str], ...]:
        """What to change in the scene to check the finished slab; nothing where it is the same."""
        pairs = (
            ("slab.width", self.scene.slab.width, self.finished.slab.width),
            ("slab.height", self.scene.slab.height, self.finished.slab.height),
        )
        return tuple(
            (key, _setting(after))
            for key, before, after in pairs
            if len(before) != len(after)
            or any(abs(a - b) > SAME_SIZE_IN for a, b in zip(before, after, strict=True))
        )

    @property
    def can_be_done(self) -> bool:
        """Whether what was delivered is large enough and the router's tools cut the leaves."""
        return not self.mortises.refused and not self.cuts.is_short


def bench_numbers(scene: Scene) -> BenchNumbers:
    """Return every bench number of a scene.

    Raises GeometryError where the sizes leave nothing of the slab, or it is of a
    kind that has no bench numbers.
    """
    for key, reason in _without_numbers(scene):
        raise GeometryError(key, reason)
    cuts = ripping(scene)
    finished = finished_scene(scene, cuts)
    held = hanging(finished)
    return BenchNumbers(
        scene=scene,
        finished=finished,
        cuts=cuts,
        leaves=layout(finished),
        mortises=mortising(finished),
        bolts=lock_marks(finished, _stile_left(scene, cuts)),
        hanging=held,
        season=season_margins(finished, cuts.margins),
        cautions=cautions(finished, held.weight),
    )


def settled(scene: Scene) -> Scene:
    """Return a scene with the slab that is cut for it, where its width or height was left out.

    So that the slab that is swung is the one that is cut. One of a kind that has no
    bench numbers stays as it is.
    """
    left_out = {"slab.width", "slab.height"} & {item.key for item in scene.assumed}
    if not left_out or why_no_numbers(scene):
        return scene
    try:
        cut = finished_scene(scene, ripping(scene))
    except GeometryError:
        return scene
    sizes = {"slab.width": cut.slab.width, "slab.height": cut.slab.height}
    assumed = tuple(
        replace(item, value=lengths_text(sizes[item.key], scene.unit), why=_CUT_FOR)
        if item.key in left_out
        else item
        for item in scene.assumed
    )
    return replace(cut, assumed=assumed)


_CUT_FOR = "cut for the margins that are wanted"


def why_no_numbers(scene: Scene) -> str:
    """Return why a slab has no bench numbers; empty where it has."""
    return next((reason for _, reason in _without_numbers(scene)), "")


def _without_numbers(scene: Scene) -> Iterator[tuple[str, str]]:
    """Yield the keys that keep a slab from having bench numbers, and why."""
    one, scene_own = "one slab between two legs, over the floor: give each", "a scene of its own"
    for key, is_so, why, of in (
        ("pivot", scene.pivot, "it hangs on pivots", "leaves that are let in"),
        ("slab.lip", scene.slab.lip, "its lip is machined", "a slab that is ripped to size"),
        ("slab.arch", scene.slab.arch, "its top is an arch", "a slab with straight ends"),
        ("inactive", scene.inactive, "it meets another slab", f"{one} slab {scene_own}"),
        ("lower", scene.lower, "it hangs over another slab", f"{one} half {scene_own}"),
    ):
        if is_so:
            yield key, f"{why}, and bench numbers are for {of}"


def _stile_left(scene: Scene, cuts: Ripping) -> float | None:
    stile = cuts.delivered.edge_strip
    built = construction_of(scene.slab)
    if stile is None or built is None or not built.is_framed:
        return None
    return stile - cuts.edges[1].most_off


def _setting(values: Stations) -> str:
    texts = [f"{value:.4f} in" for value in values]
    if len(set(texts)) == 1:
        return texts[0]
    return "[" + ", ".join(f'"{text}"' for text in texts) + "]"
