"""What is worked on a slab or fitted to it: lip, warp, astragal, applied panels, glass."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Bead, Face, Glass, Lip, Scene, Slab, Warp
from swingcheck.scenefile.broken import Broken, beyond, left_out
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import (
    NONE,
    Table,
    either_way,
    from_0,
    listed,
    one_of,
    over_0,
    word,
    words,
)

# A lipped leaf's rebate, 13 x 25.5 mm: DIN 18101, where a leaf 860 mm wide goes
# into the frame with 834 mm (an encyclopaedia's table); the 25.5 mm from memory.
LIP_WIDTH_IN, _LIP_DEPTH_IN = 13 / 25.4, 25.5 / 25.4
_LIP_EDGES = ("hinge", "strike", "head")
_UNDER_THICKNESS = "under the slab's thickness, {}"

LIP = Table(
    keys={
        "width": over_0(6.0, usual=LIP_WIDTH_IN),
        "depth": over_0(12.0, usual=_LIP_DEPTH_IN),
        **dict.fromkeys(_LIP_EDGES, from_0(6.0)),
    },
    words=NONE,
    why="the rebate of DIN 18101, 13 x 25.5 mm",
)
WARP = Table(
    keys=dict.fromkeys(("bow", "cup", "twist"), either_way(3.0, usual=0.0)), why="no reading"
)
_BOTH_FACES = one_of(Face, usual="both", why="alike on both faces")
GLASS = Table(
    keys={
        "width": over_0(usual=1.0, needed="the pane's width"),
        "height": over_0(usual=1.0, needed="the pane's height"),
        "thickness": over_0(2.0, usual=1 / 4, why="usual pane"),
        "across": from_0(),
        "up": from_0(),
        "bead": Table(
            keys={
                "width": over_0(12.0, usual=1 / 2),
                "proud": over_0(3.0, usual=1 / 4),
                "face": _BOTH_FACES,
            },
            words=NONE,
            why="usual bead",
        ),
    },
    words=NONE,
)
ASTRAGAL = Table(
    keys={
        "face": word("pull", "push", enum=Face, usual="pull", why="it laps the frame"),
        "width": over_0(12.0, usual=1.75),
        "thickness": over_0(3.0, usual=1 / 2),
        "overlap": from_0(12.0, usual=7 / 8),
        "stem": from_0(3.0),
    },
    words=NONE,
    why="usual astragal",
)
APPLIED = Table(
    keys={
        "name": words(),
        "face": _BOTH_FACES,
        "corner": listed("its lowest corner", "across, up", (1.0, 1.0)),
        "size": listed("its size", "across, up, out", (1.0, 1.0, 1.0), above=True),
    },
    many=True,
)


def read_lip(filling: Filling) -> Lip | None:
    """Return the lip of a lipped slab, or None."""
    if not filling.has_table("slab.lip"):
        return None
    own = {edge: filling.said(f"slab.lip.{edge}") for edge in _LIP_EDGES}
    width = filling.number("slab.lip.width") if None in own.values() else 0.0
    each = {edge: width if said is None else said for edge, said in own.items()}
    return Lip(depth=filling.number("slab.lip.depth"), **each)


def read_warp(filling: Filling) -> Warp | None:
    """Return how far the slab is out of flat, or None where nothing or 0 was said of it."""
    warp = filling.made("slab.warp", Warp)
    return None if warp == Warp() else warp


def read_glass(filling: Filling, slab: Slab) -> Glass | None:
    """Return the pane in the slab, or None where there is none."""
    path, why = "slab.glass", "in the middle of the slab"
    if not filling.has_table(path):
        return None
    rooms = {"across": ("width", slab.width), "up": ("height", slab.height)}
    middle = {
        start: (max((min(room) - filling.number(f"{path}.{size}")) / 2, 0.0), why)
        for start, (size, room) in rooms.items()
    }
    return filling.made(path, Glass, middle, bead=filling.made(f"{path}.bead", Bead))


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of what is worked on the slab or fitted to it."""
    yield from _glass(scene)
    yield from beyond(scene, "slab.lip.depth", "<", "slab.thickness", _UNDER_THICKNESS)
    if scene.slab.lip is not None:
        yield from _lip(scene.slab, scene.slab.lip)
    yield from _proud(scene)


def _lip(slab: Slab, lip: Lip) -> Iterator[Broken]:
    is_round = slab.hinge_edge.is_round or slab.strike_edge.is_round
    found = (
        (is_round, "a lip on a slab with a round edge", "slab.strike_edge"),
        (slab.warp is not None, "a lip on a warped slab", "slab.warp"),
        (bool(slab.arch), "a lip on an arched slab", "slab.arch"),
        (slab.astragal is not None and lip.strike > 0, "a lip under an astragal", "slab.astragal"),
    )
    for is_found, what, other in found:
        if is_found:
            yield left_out("slab.lip", f"{what} is not modelled", other)


def _proud(scene: Scene) -> Iterator[Broken]:
    """Yield what does not fit on the slab's faces."""
    slab, path, words = (
        scene.slab,
        "slab.astragal",
        "under its width, so that it lies on the slab, {}",
    )
    yield from beyond(scene, f"{path}.overlap", "<", f"{path}.width", words)
    if slab.astragal is not None and slab.astragal.stem > 0:
        yield from beyond(scene, f"{path}.stem", "<", f"{path}.overlap", "under its overlap, {}")
    for place, applied in enumerate(slab.applied):
        for axis, name in enumerate(("width", "height")):
            room = max(min(getattr(slab, name)) - applied.corner[axis], 0.0)
            held = ("<=", room, "at most {}, so that it stays on the slab", f"slab.{name}")
            yield from beyond(scene, f"slab.applied[{place}].size[{axis}]", *held)


def _glass(scene: Scene) -> Iterator[Broken]:
    slab, glass, path = scene.slab, scene.slab.glass, "slab.glass"
    if glass is None:
        return
    beside = []
    for start, size in (("across", "width"), ("up", "height")):
        room = min(getattr(slab, size)) - getattr(glass, start)
        beside += [getattr(glass, start), room - getattr(glass, size)]
        words = "under {}, so that the pane stays within the slab"
        held = ("<", max(room, 0.0), words, f"slab.{size}", f"{path}.{start}")
        yield from beyond(scene, f"{path}.{size}", *held)
    yield from beyond(scene, f"{path}.thickness", "<", "slab.thickness", _UNDER_THICKNESS)
    if glass.bead is not None:
        words = "at most what is left of the slab beside the pane, {}"
        held = ("<=", max(min(beside), 0.0), words, f"{path}.across", f"{path}.up")
        yield from beyond(scene, f"{path}.bead.width", *held)
