"""The whole opening in 3D for a film: set up once, then only the slab is turned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from math import cos, radians, sin
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.parts import as_hung, is_mirrored
from swingcheck.geometry.solid import Floats
from swingcheck.palette import INK, MATERIALS, PAPER
from swingcheck.render.still.gl import gl

OVERSIZE = 2
"""A view is rendered this many times as large and brought down: software GL smooths badly."""

LEFT_OUT = (PartKind.WALL, PartKind.FLOOR)
SHARP = 25.0
"""An edge between faces that turn by more than this is drawn, degrees."""

ASIDE, ABOVE = radians(26.0), radians(18.0)
"""Where the camera stands: off the wall's normal, and above the level."""


class SolidView:
    """The opening seen from the pull side, the slab open by any angle."""

    def __init__(
        self, assembly: Assembly, plotter: Any, movers: list[Any], corners: Floats
    ) -> None:
        self._assembly = assembly
        self._plotter = plotter
        self._movers = movers
        self._corners = corners
        self._size = (640, 640)

    def look(self, size: tuple[int, int]) -> None:
        """Stand the camera so that everything fits a picture of (width, height) pixels."""
        self._size = size
        wide, tall = size
        self._plotter.window_size = [wide * OVERSIZE, tall * OVERSIZE]
        right, up, toward = self._directions()
        seen = self._corners @ np.stack([right, up], axis=1)
        low, high = seen.min(axis=0), seen.max(axis=0)
        middle = (low + high) / 2
        camera = self._plotter.camera
        camera.focal_point = middle[0] * right + middle[1] * up
        camera.position = np.asarray(camera.focal_point) - toward * 500.0
        camera.up = (0.0, 0.0, 1.0)
        camera.parallel_projection = True
        camera.parallel_scale = 0.52 * max(high[1] - low[1], (high[0] - low[0]) * tall / wide)

    def place(self, point: Sequence[float]) -> tuple[float, float]:
        """Return where a point (3,) of the opening frame falls, pixels from the left and top."""
        right, up, _ = self._directions()
        camera = self._plotter.camera
        away = self._mirror() @ np.asarray(point) - np.asarray(camera.focal_point)
        step = self._size[1] / (2 * camera.parallel_scale)
        wide, tall = self._size
        return wide / 2 + float(away @ right) * step, tall / 2 - float(away @ up) * step

    def at(self, angle: float) -> Any:
        """Return the view with the slab open by an angle (radians), (height, width, 3) uint8."""
        from PIL import Image

        axis = self._assembly.axis
        mirror = self._mirror()
        turn, shift = axis.move(angle)
        matrix = np.eye(4)
        matrix[:3, :3] = mirror @ turn @ mirror
        matrix[:3, 3] = mirror @ shift
        for actor in self._movers:
            actor.user_matrix = matrix
        self._plotter.renderer.ResetCameraClippingRange()
        self._plotter.render()
        large = self._plotter.screenshot(return_img=True)
        small = Image.fromarray(large[:, :, :3]).resize(self._size, Image.Resampling.LANCZOS)
        return np.asarray(small)

    def _mirror(self) -> Floats:
        return np.diag([-1.0 if is_mirrored(self._assembly.scene) else 1.0, 1.0, 1.0])

    def _directions(self) -> tuple[Floats, Floats, Floats]:
        """Return the picture's right and up, and where the camera looks, unit vectors (3,)."""
        side = self._mirror()[0, 0]
        toward = -np.array([side * sin(ASIDE) * cos(ABOVE), cos(ASIDE) * cos(ABOVE), sin(ABOVE)])
        right = np.cross(toward, [0.0, 0.0, 1.0])
        right /= np.linalg.norm(right)
        return right, np.cross(right, toward), toward


@contextmanager
def solid_view(assembly: Assembly, widest: float) -> Iterator[SolidView]:
    """Yield a view of an assembly that has room for a swing as wide as an angle (radians).

    Raises
    ------
    RenderError
        Where this machine cannot draw in 3D; the message says what to install.
    """
    with gl():
        import pyvista

        plotter: Any = pyvista.Plotter(off_screen=True, lighting="light kit")
        plotter.set_background(PAPER)
        still = [part for part in assembly.fixed if part.kind not in LEFT_OUT]
        for part in (*still, *barrel_parts(assembly)):
            _add(plotter, assembly, part)
        movers = [actor for part in assembly.moving for actor in _add(plotter, assembly, part)]
        try:
            yield SolidView(assembly, plotter, movers, _corners(assembly, still, widest))
        finally:
            plotter.close()


def _add(plotter: Any, assembly: Assembly, part: Part) -> list[Any]:
    """Add a part and its sharp edges; return what was added."""
    import pyvista

    solid = as_hung(assembly.scene, part.solid)
    mesh: Any = pyvista.make_tri_mesh(solid.vertices, solid.faces.astype(int))
    edges = mesh.extract_feature_edges(
        SHARP, boundary_edges=False, manifold_edges=False, non_manifold_edges=False
    )
    fill = MATERIALS[part.kind].fill
    added = [plotter.add_mesh(mesh, color=fill, ambient=0.62, diffuse=0.45, specular=0.0)]
    if edges.n_points:
        added.append(plotter.add_mesh(edges, color=INK, line_width=2.4, lighting=False))
    return added


def _corners(assembly: Assembly, still: list[Part], widest: float) -> Floats:
    """Return the corners (n, 3) of all that is to fit, the slab's all along its swing."""
    slabs = [
        assembly.axis.turned(assembly.moving[0].solid, angle) for angle in np.linspace(0, widest, 7)
    ]
    jamb = [part.solid for part in still if part.kind is not PartKind.OBSTACLE]
    solids = [as_hung(assembly.scene, solid) for solid in (*slabs, *jamb)]
    return np.concatenate([solid.vertices for solid in solids])
