"""The whole opening in 3D for a film: set up once, then only the slab is turned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, PartKind, barrel_parts
from swingcheck.geometry.solid import Solid
from swingcheck.render.still.camera import (
    Camera,
    add_parts,
    fitted_camera,
    looking,
    mirror_of,
    picture_of,
    plotter_of,
    resize,
)
from swingcheck.render.still.gl import gl

LEFT_OUT = (PartKind.WALL, PartKind.FLOOR)
ASIDE_DEG, ABOVE_DEG = 26.0, 18.0
"""Where the camera stands: off the wall's normal, and above the level."""

USUAL_SIZE = (640, 640)
POSES = 7
"""At how many angles of the swing the slab is made to fit."""


class SolidView:
    """The opening seen from the pull side, the slab open by any angle."""

    def __init__(
        self, assembly: Assembly, plotter: Any, movers: list[Any], solids: list[Solid]
    ) -> None:
        self._assembly, self._plotter = assembly, plotter
        self._movers, self._solids = movers, solids
        self.look(USUAL_SIZE)

    def look(self, size: tuple[int, int]) -> None:
        """Stand the camera so that everything fits a picture of (width, height) pixels."""
        self._size = size
        eye = looking(self._assembly, ASIDE_DEG, ABOVE_DEG)
        self._camera: Camera = fitted_camera(self._assembly, self._solids, eye, size)
        resize(self._plotter, size)

    def place(self, point: Sequence[float]) -> tuple[float, float]:
        """Return where a point (3,) of the opening frame falls, pixels from the left and top."""
        hung = np.asarray(point)[None] @ mirror_of(self._assembly)
        x, y = self._camera.seen(hung, self._size)[0].tolist()
        return x, y

    def at(self, angle: float) -> Any:
        """Return the view with the slab open by an angle (radians), (height, width, 3) uint8."""
        mirror = mirror_of(self._assembly)
        turn, shift = self._assembly.axis.move(angle)
        matrix = np.eye(4)
        matrix[:3, :3] = mirror @ turn @ mirror
        matrix[:3, 3] = mirror @ shift
        for actor in self._movers:
            actor.user_matrix = matrix
        self._camera.aim(self._plotter)
        self._plotter.render()
        return picture_of(self._plotter, self._size)


@contextmanager
def solid_view(assembly: Assembly, widest: float) -> Iterator[SolidView]:
    """Yield a view of an assembly that has room for a swing as wide as an angle (radians).

    Raises RenderError where this machine cannot draw in 3D; the message says what to
    install.
    """
    with gl():
        plotter = plotter_of(USUAL_SIZE)
        still = [part for part in assembly.fixed if part.kind not in LEFT_OUT]
        add_parts(plotter, assembly, (*still, *barrel_parts(assembly)))
        movers = add_parts(plotter, assembly, assembly.moving)
        slabs = [
            assembly.axis.turned(assembly.moving[0].solid, angle)
            for angle in np.linspace(0, widest, POSES)
        ]
        jamb = [part.solid for part in still if part.kind is not PartKind.OBSTACLE]
        try:
            yield SolidView(assembly, plotter, movers, [*slabs, *jamb])
        finally:
            plotter.close()
