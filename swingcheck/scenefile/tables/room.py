"""What stands about the opening: casing, baseboard, walls that come out, furniture."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Casing, Scene, Slab, WallReturn
from swingcheck.scenefile.broken import Broken, beyond, left_out
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import LONGEST, NONE, Table, from_0, listed, over_0, words
from swingcheck.scenefile.tables import fitted

_LIP_TO_CASING_IN = 1 / 8

CASING = Table(
    keys={
        "thickness": over_0(12.0, usual=11 / 16),  # US Navy, Builder: 2-1/4 x 11/16
        "width": over_0(48.0, usual=2.25),
        "reveal": from_0(12.0, usual=1 / 4),
    },
    words=NONE,
    why="usual casing",
    ask="Flat casing on the pull side. Reveal: face of the jamb to the edge of the casing.",
    sample={},
)
BASEBOARD = Table(
    keys={"thickness": over_0(3.0, usual=9 / 16), "height": over_0(24.0, usual=3.5)},
    words=NONE,
    why="usual baseboard",
)
WALL_RETURN = Table(keys={"hinge": from_0(), "strike": from_0(), "reach": over_0()}, words=NONE)
OBSTACLE = Table(
    keys={
        "name": words(),
        "corner": listed("its lowest corner", "x, y, z", (0.0, 60.0, 0.0), low=-LONGEST),
        "size": listed("its size", "across, out, up", (1.0, 1.0, 1.0), above=True),
    },
    many=True,
    ask="A wall, a baseboard, a shelf: a box, by its lowest corner (across from the face of the\n"
    "hinge leg, out from the jamb's pull-side edge, up from the floor) and its size.",
    sample={"name": '"side wall"', "corner": (-10.0, 40.0, 0.0), "size": (0.5, 20.0, 80.0)},
)


def read_casing(filling: Filling) -> Casing | None:
    """Return the trim on the pull side, or None."""
    usual, lip = {}, fitted.read_lip(filling)
    if lip is not None:
        why = "clear of the slab's lip"
        sizes = {name: filling.usual_of(f"casing.{name}")[0] for name in CASING.keys}
        sizes["reveal"] = max(lip.hinge, lip.strike, lip.head) + _LIP_TO_CASING_IN
        usual = {name: (value, why) for name, value in sizes.items()}
    return filling.made("casing", Casing, usual)


def read_wall_return(filling: Filling, slab: Slab) -> WallReturn | None:
    """Return the walls that come out beside the opening, or None."""
    path = "wall_return"
    if not filling.has_table(path):
        return None
    reach: Taken = {"reach": (max(slab.width), "as far out as the slab")}
    said = filling.all_of(path, reach)
    if not said.keys() & {"hinge", "strike"}:
        filling.missing(f"{path}.hinge", "how far it stands from the hinge leg's face")
    return WallReturn(**{"hinge": None, "strike": None, **said})


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the casing."""
    if scene.casing is not None and scene.opening.steel is not None:
        yield left_out("casing", "a steel frame's own faces lie over the wall", "opening.steel")
    else:
        words = "under the thickness of the jamb, {}"
        yield from beyond(scene, "casing.reveal", "<", "opening.thickness", words)
