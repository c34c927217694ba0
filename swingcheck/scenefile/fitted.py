"""What is worked on a slab or fitted to it, completed: lip, warp, arch and what stands proud."""

from __future__ import annotations

from math import dist, sqrt

from swingcheck.model import (
    Applied,
    Astragal,
    Bead,
    Edge,
    EdgeShape,
    Face,
    Handle,
    Lip,
    Opening,
    Slab,
    Warp,
    head_arc,
    rise_of,
)
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling


def slab_lip(filling: Filling) -> Lip | None:
    """Return the lip of a lipped slab, or None."""
    path = "slab.lip"
    if not filling.has_table(path):
        return None
    rebate = "the rebate of DIN 18101, 13 x 25.5 mm"
    edges = ("hinge", "strike", "head")
    all_given = all(f"{path}.{edge}" in filling.measured.numbers for edge in edges)
    width = usual.LIP["width"]
    if not all_given:
        width = filling.number(f"{path}.width", width, rebate)
    given = filling.measured.numbers
    each = {edge: given.get(f"{path}.{edge}", (width,))[0] for edge in edges}
    depth = filling.number(f"{path}.depth", usual.LIP["depth"], rebate)
    return Lip(depth=depth, **each)


def slab_warp(filling: Filling) -> Warp | None:
    """Return how far the slab is out of flat, or None where nothing was said of it."""
    if not filling.has_table("slab.warp"):
        return None
    found = filling.each_of("slab.warp", dict.fromkeys(("bow", "cup", "twist"), 0.0), "no reading")
    return Warp(**found) if any(found.values()) else None


def head_edge(filling: Filling) -> Edge:
    """Return the slab's top edge: square where nothing was said of it."""
    bevel = filling.said("slab.head_edge.bevel")
    return Edge(shape=EdgeShape.BEVEL, bevel=bevel) if bevel else Edge()


def arched_heights(
    filling: Filling, opening: Opening, width: float, head_margin: float, bottom: float
) -> tuple[tuple[float, float], str] | None:
    """Return the heights of a slab under an arched head, and why; None under a straight one.

    Parameters
    ----------
    filling : Filling
        What the scene says.
    opening : Opening
        The opening.
    width, head_margin, bottom : float
        The slab's, and how high its bottom hangs above the finished floor.

    Notes
    -----
    The slab's arc has the head's centre and the head margin less radius, so
    that the margin is the same all along it. Where that is narrower than the
    slab, as under a half circle, its top is a half circle of its own.
    """
    arc = head_arc(opening)
    if arc is None:
        return None
    start = usual.HINGE_MARGIN + arc.start[0]
    radius = arc.radius - head_margin
    ends = (start, start + width)
    margin = filling.length(head_margin)
    if all(abs(end - arc.across) < radius for end in ends):
        up = [arc.up + sqrt(radius**2 - (end - arc.across) ** 2) - bottom for end in ends]
        return (up[0], up[1]), f"{margin} under the head, square to it, all along"
    side = arc.crown - head_margin - width / 2 - bottom
    return (side, side), f"a half circle, {margin} under the head at its crown"


def slab_arch(
    filling: Filling,
    opening: Opening,
    width: float,
    height: tuple[float, float],
    head_margin: float,
) -> float:
    """Return how much the slab's top rises over its heights: under an arched head, as that does."""
    arc, given = head_arc(opening), filling.said("slab.arch")
    if given is not None or arc is None:
        return given or 0.0
    ends = (0.0, height[0]), (width, height[1])
    radius = max(arc.radius - head_margin, dist(*ends) / 2)
    return filling.number("slab.arch", rise_of(*ends, radius), "the head's arc less the margin")


def completed_astragal(filling: Filling) -> Astragal | None:
    """Return the strip along the strike edge, or None."""
    path = "slab.astragal"
    if not filling.has_table(path):
        return None
    sizes = filling.each_of(path, usual.ASTRAGAL, "usual astragal")
    face = filling.words(f"{path}.face", "pull", "it laps the frame")
    return Astragal(face=Face(face), stem=filling.said(f"{path}.stem") or 0.0, **sizes)


def applied_boxes(filling: Filling) -> tuple[Applied, ...]:
    """Return what stands proud of the slab's faces, in the order that it was written."""
    found = []
    for place in range(filling.measured.counts.get("slab.applied", 0)):
        path = f"slab.applied[{place}]"
        corner = filling.required(f"{path}.corner", (1.0, 1.0), "its lowest corner [across, up]")
        size = filling.required(f"{path}.size", (1.0, 1.0, 1.0), "its size [across, up, out]")
        found.append(
            Applied(
                name=filling.measured.words.get(f"{path}.name", f"applied panel {place + 1}"),
                face=Face(filling.words(f"{path}.face", "both", "alike on both faces")),
                corner=(corner[0], corner[1]),
                size=(size[0], size[1], size[2]),
            )
        )
    return tuple(found)


def glass_bead(filling: Filling) -> Bead | None:
    """Return the bead about the pane, or None."""
    path = "slab.glass.bead"
    if not filling.has_table(path):
        return None
    sizes = filling.each_of(path, usual.BEAD, "usual bead")
    return Bead(face=Face(filling.words(f"{path}.face", "both", "alike on both faces")), **sizes)


def completed_handle(filling: Filling, slab: Slab, backset: float) -> Handle | None:
    """Return the knob or lever, or None."""
    path = "lock.handle"
    if not filling.has_table(path):
        return None
    is_lever = filling.words(f"{path}.kind", "knob", "usual for a bored lock") == "lever"
    most = max((min(slab.width) - backset) / 2, 1.0)
    sizes = dict(usual.LEVER if is_lever else usual.KNOB)
    if is_lever:
        sizes["length"] = min(sizes["length"], most)
    sizes = filling.each_of(path, sizes, f"usual {'lever' if is_lever else 'knob'}")
    face = filling.words(f"{path}.face", "both", "one on each face")
    return Handle(**({"length": 0.0} | sizes), face=Face(face))
