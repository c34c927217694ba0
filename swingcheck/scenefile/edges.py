"""A slab's upright edges, as a scene says them."""

from __future__ import annotations

from swingcheck.model import Edge, EdgeShape
from swingcheck.scenefile.filling import Filling


def slab_edge(filling: Filling, path: str, thickness: float, like: Edge | None = None) -> Edge:
    """Return how an edge is shaped; where nothing is said, square or like another slab's."""
    measured = filling.measured
    radius = measured.numbers.get(f"{path}.radius")
    bevel = measured.numbers.get(f"{path}.bevel")
    if measured.words.get(path) == "bullnose":
        radius = (thickness / 2,)
    if radius is not None:
        return Edge(shape=EdgeShape.RADIUS, radius=radius[0])
    if bevel is not None and bevel[0]:
        return Edge(shape=EdgeShape.BEVEL, bevel=bevel[0])
    if bevel is None and measured.words.get(path) is None:
        if like is not None:
            filling.assume(path, like.shape.value, "as the other slab's")
            return like
        filling.assume(path, "square", "a slab comes square-edged")
    return Edge()
