"""A slab's edges: ``hinge_edge``, ``strike_edge`` and ``head_edge`` of any slab."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Edge, EdgeShape, Scene
from swingcheck.scenefile.broken import Broken, Rule, beyond
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import Table, angle, over_0

_BEVEL = angle(-20.0, 20.0)

HINGE_EDGE = Table(
    keys={"bevel": _BEVEL, "radius": over_0()},
    words=("square", "bullnose"),
    one=True,
    ask="or { bevel = 2 } (degrees), narrower on the stop side",
)
STRIKE_EDGE = Table(keys=HINGE_EDGE.keys, words=HINGE_EDGE.words, one=True, ask="the same")
HEAD_EDGE = Table(keys={"bevel": _BEVEL}, words=("square",), one=True)


def said(filling: Filling, path: str, thickness: float) -> Edge | None:
    """Return how an edge is said to be shaped, or None where nothing is said."""
    radius = filling.said(f"{path}.radius")
    bevel = filling.said(f"{path}.bevel")
    word = filling.values.get(path)
    if word == "bullnose":
        radius = thickness / 2
    if radius is not None:
        return Edge(shape=EdgeShape.RADIUS, radius=radius)
    if bevel:
        return Edge(shape=EdgeShape.BEVEL, bevel=bevel)
    return None if bevel is None and word is None else Edge()


def read(filling: Filling, path: str, thickness: float, like: Edge | None = None) -> Edge:
    """Return how an edge is shaped; where nothing is said, square or like another slab's."""
    own = said(filling, path, thickness)
    if own is not None:
        return own
    why = "a slab comes square-edged" if like is None else "as the other slab's"
    taken = like or Edge()
    filling.assume(path, taken.shape.value, why)
    return taken


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of a slab's upright edges."""
    slab = scene.slab
    edges = {"slab.hinge_edge": slab.hinge_edge, "slab.strike_edge": slab.strike_edge}
    words, hint = "at least half the slab's thickness, {}", 'half the thickness is "bullnose"'
    held: Rule = (">=", slab.thickness / 2, words, "slab.thickness")
    too_round = [
        broken
        for path, edge in edges.items()
        if edge.is_round
        for broken in beyond(scene, f"{path}.radius", *held, hint=hint)
    ]
    yield from too_round
    if not too_round:
        off = sum(max(edge.narrow_inset(slab.thickness), 0.0) for edge in edges.values())
        words = "above what its edges take off the narrow face, {}"
        held = (">", off, words, "slab.thickness", *edges)
        yield from beyond(scene, "slab.width", *held, value=min(slab.width))
