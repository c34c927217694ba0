"""What stands about the opening, completed: from the steel profile to the furniture."""

from __future__ import annotations

from math import tan

from swingcheck.model import (
    Baseboard,
    Carpet,
    Casing,
    Floor,
    Lip,
    Obstacle,
    Opening,
    Slab,
    SteelFrame,
    Threshold,
    WallReturn,
)
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling


def steel_frame(filling: Filling) -> SteelFrame | None:
    """Return a steel frame's profile, or None for a jamb of wood."""
    path = "opening.steel"
    if not filling.has_table(path):
        return None
    return SteelFrame(**filling.each_of(path, usual.STEEL, "usual pressed steel frame"))


def completed_threshold(filling: Filling, opening: Opening) -> Threshold | None:
    """Return the saddle, or None."""
    path = "threshold"
    if not filling.has_table(path):
        return None
    height = filling.number(f"{path}.height", usual.THRESHOLD_HEIGHT, "usual saddle")
    slope = filling.number(f"{path}.slope", usual.THRESHOLD_SLOPE, "1 in 2 on both sides")
    widest = max(opening.depth, 2.5 * height / tan(slope))
    return Threshold(
        width=filling.number(f"{path}.width", widest, "the jamb's depth"),
        height=height,
        slope=slope,
        edge=filling.number(f"{path}.edge", 0.0, "flush with the jamb's edge"),
    )


def completed_carpet(filling: Filling, opening: Opening) -> Carpet | None:
    """Return the carpet, or None."""
    path = "carpet"
    if not filling.has_table(path):
        return None
    reach = 3 * max(opening.width)
    return Carpet(
        thickness=filling.number(f"{path}.thickness", usual.CARPET, "usual carpet on its pad"),
        edge=filling.number(f"{path}.edge", 0.0, "it begins at the jamb's edge"),
        reach=filling.number(f"{path}.reach", reach, "past the slab's sweep"),
    )


def completed_baseboard(filling: Filling) -> Baseboard | None:
    """Return the baseboard, or None."""
    if not filling.has_table("baseboard"):
        return None
    return Baseboard(**filling.each_of("baseboard", usual.BASEBOARD, "usual baseboard"))


def completed_return(filling: Filling, slab: Slab) -> WallReturn | None:
    """Return the walls that come out beside the opening, or None."""
    path = "wall_return"
    if not filling.has_table(path):
        return None
    hinge, strike = (filling.said(f"{path}.{side}") for side in ("hinge", "strike"))
    if hinge is None and strike is None:
        says = "how far it stands from the hinge leg's face"
        hinge = filling.required(f"{path}.hinge", (4.0,), says)[0]
    reach = filling.number(f"{path}.reach", max(slab.width), "as far out as the slab")
    return WallReturn(hinge=hinge, strike=strike, reach=reach)


def completed_casing(filling: Filling, lip: Lip | None) -> Casing | None:
    """Return the trim on the pull side, or None."""
    if not filling.has_table("casing"):
        return None
    sizes, why = usual.CASING, "usual casing"
    if lip is not None:
        clear = max(lip.hinge, lip.strike, lip.head) + usual.LIP_TO_CASING
        sizes, why = sizes | {"reveal": clear}, "clear of the slab's lip"
    return Casing(**filling.each_of("casing", sizes, why))


def completed_floor(filling: Filling) -> Floor:
    """Return the floor."""
    if not filling.has_table("floor"):
        filling.assume("floor", "level, with nothing laid on it", "no readings of it")
        return Floor()
    why = "no reading of it"
    apart = filling.measured.apart.get("floor.profile")
    profile = filling.measured.numbers.get("floor.profile", ())
    if apart:
        profile = filling.numbers("floor.profile", profile or (0.0,), why)
    return Floor(
        covering=filling.number("floor.covering", 0.0, "nothing said to be laid on it"),
        across=filling.number("floor.across", 0.0, why),
        out=filling.number("floor.out", 0.0, why),
        profile=profile,
    )


def completed_obstacles(filling: Filling) -> tuple[Obstacle, ...]:
    """Return the boxes that stand in the room, in the order that they were written."""
    found = []
    for place in range(filling.measured.counts.get("obstacle", 0)):
        path = f"obstacle[{place}]"
        corner = filling.required(f"{path}.corner", (0.0, 60.0, 0.0), "its lowest corner [x, y, z]")
        size = filling.required(f"{path}.size", (1.0, 1.0, 1.0), "its size [across, out, up]")
        name = filling.measured.words.get(f"{path}.name", f"obstacle {place + 1}")
        corner_point = (corner[0], corner[1], corner[2])
        found.append(Obstacle(name=name, corner=corner_point, size=(size[0], size[1], size[2])))
    return tuple(found)
