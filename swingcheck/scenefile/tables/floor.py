"""What lies under the swing: ``[floor]``, ``[carpet]`` and ``[threshold]``."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, tan

from swingcheck.model import Carpet, Floor, Opening, Scene, Threshold, Wanted
from swingcheck.scenefile.broken import Broken, beyond, left_out
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import NONE, Key, Kind, Table, angle, either_way, from_0, over_0

BOTTOM_MARGIN_IN = Wanted.USUAL_BOTTOM_IN
_THRESHOLD_MARGIN_IN = 3 / 32  # over a saddle: The Building Trades Pocketbook, 1899

_NO_READING = "no reading of it"
_SLOPE = either_way(10.0, kind=Kind.SLOPE, usual=0.0)
FLOOR = Table(
    keys={
        "covering": from_0(6.0, usual=0.0, why="nothing said to be laid on it"),
        "across": _SLOPE,
        "out": _SLOPE,
        "profile": Key(
            low=-12.0,
            high=12.0,
            few=0,
            most=181,
            each="rise of the floor at even angles from closed to 90 degrees",
            spread=3,
        ),
    },
    why=_NO_READING,
    absent=("level, with nothing laid on it", "no readings of it"),
    ask="The floor under the swing: how thick the covering is that lies on it, and how it rises\n"
    "toward the strike leg (across) and toward the pull side (out).",
    sample={"covering": "0", "across": '"0 in 12"', "out": '"0 in 12"'},
)
CARPET = Table(
    keys={
        "thickness": over_0(3.0, usual=1 / 2, why="usual carpet on its pad"),
        "edge": either_way(usual=0.0, why="it begins at the jamb's edge"),
        "reach": over_0(),
    },
    words=NONE,
)
# A saddle: the most, and the steepest, that 2010 ADA Standards 404.2.5 allow.
THRESHOLD = Table(
    keys={
        "width": over_0(48.0),
        "height": over_0(6.0, usual=1 / 2, why="usual saddle"),
        "slope": angle(1.0, 90.0, usual=atan(1 / 2), why="1 in 2 on both sides"),
        "edge": either_way(48.0, usual=0.0, why="flush with the jamb's edge"),
    },
    words=NONE,
)


def read_floor(filling: Filling) -> Floor:
    """Return the floor, noting what is usual."""
    usual: Taken = {}
    if "floor.profile" in filling.apart:
        usual = {"profile": ((0.0,), _NO_READING)}
    return filling.made_or_plain("floor", Floor, usual)


def read_carpet(filling: Filling, opening: Opening) -> Carpet | None:
    """Return the carpet, or None."""
    reach = (3 * max(opening.width), "past the slab's sweep")
    return filling.made("carpet", Carpet, {"reach": reach})


def read_threshold(filling: Filling, opening: Opening) -> Threshold | None:
    """Return the saddle, or None."""
    if not filling.has_table("threshold"):
        return None
    height, slope = filling.number("threshold.height"), filling.number("threshold.slope")
    width = max(opening.depth, 2.5 * height / tan(slope))
    return filling.made("threshold", Threshold, {"width": (width, "the jamb's depth")})


def under_slab(filling: Filling, opening: Opening) -> float:
    """Return how high a slab usually hangs above the finished floor: what lies there, and a gap."""
    covering, threshold = read_floor(filling).covering, read_threshold(filling, opening)
    if threshold is None:
        return covering + BOTTOM_MARGIN_IN
    return covering + threshold.height + _THRESHOLD_MARGIN_IN


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the saddle and the carpet."""
    saddle = scene.threshold
    if saddle is not None:
        least, words = 2 * saddle.height / tan(saddle.slope), "above what its two sides take, {}"
        held = (">", least, words, "threshold.height", "threshold.slope")
        yield from beyond(scene, "threshold.width", *held)
    if scene.carpet is not None and scene.floor.profile:
        yield left_out("carpet", "read the floor's profile on the carpet", "floor.profile")
