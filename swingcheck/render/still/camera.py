"""Parts before a camera: how they are lit, how their edges are drawn, where points fall.

And a whole opening, set up once, of which only the slab is turned.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np

from swingcheck.assembly import Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.parts import as_hung, is_mirrored
from swingcheck.geometry.features import creased
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.palette import INK, MATERIALS, PAPER
from swingcheck.render.pen.eye import SHARP_RAD, Eye, eye_from
from swingcheck.render.still.gl import gl

OVERSIZE = 2
"""A view is rendered this many times as large and brought down: software GL smooths badly."""

FAR_IN = 500.0
"""How far off a camera stands that sees in parallel."""

GLASS_EDGE = "#7d8b97"
LIGHTS = (((-0.6, 0.8, 1.0), 0.8), ((0.9, 0.2, 0.7), 0.4))
"""Where each light stands, seen from the camera, and how strong it is."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Camera:
    """Looks from an eye at a ``middle`` (3,); ``half`` is half the height that it sees, inches."""

    middle: Floats
    eye: Eye
    half: float

    def aim(self, plotter: Any) -> None:
        """Stand a plotter's own camera here."""
        view = plotter.camera
        view.focal_point = self.middle
        view.position = self.middle + self.eye.toward * FAR_IN
        view.up = (0.0, 0.0, 1.0)
        view.parallel_projection = True
        view.parallel_scale = self.half
        plotter.renderer.ResetCameraClippingRange()

    def seen(self, points: Floats, size: tuple[int, int]) -> Floats:
        """Return where points (n, 3) fall in a picture, (n, 2) pixels from the left and the top."""
        step = size[1] / (2 * self.half)
        found: Floats = np.array(size) / 2 + self.eye.seen(points - self.middle) * [step, -step]
        return found


def fitted_camera(
    assembly: Assembly, solids: Sequence[Solid], eye: Eye, size: tuple[int, int]
) -> Camera:
    """Return the camera that sees solids of an assembly whole, as large as fits a picture."""
    corners = np.concatenate([as_hung(assembly.scene, solid).vertices for solid in solids])
    seen = eye.seen(corners)
    low, high = seen.min(axis=0), seen.max(axis=0)
    across, tall = high - low
    half = 1.03 * max(tall, across * size[1] / size[0]) / 2
    middle = (low + high) / 2 @ np.stack([eye.right, eye.up])
    return Camera(middle=middle, eye=eye, half=half)


def looking(assembly: Assembly, aside: float, above: float) -> Eye:
    """Return an eye on the pull side, toward the strike leg and high.

    Both angles are degrees: off the wall's normal, and above the level.
    """
    return eye_from(90.0 - mirror_of(assembly)[0, 0] * aside, above)


def mirror_of(assembly: Assembly) -> Floats:
    """Return the matrix (3, 3) from the opening frame to the hand that the opening is built on."""
    return np.diag([-1.0 if is_mirrored(assembly.scene) else 1.0, 1.0, 1.0])


def plotter_of(size: tuple[int, int]) -> Any:
    """Return an off-screen plotter with our light and none of its smoothing."""
    import pyvista

    plotter: Any = pyvista.Plotter(off_screen=True, lighting="none")
    resize(plotter, size)
    plotter.set_background(PAPER)
    plotter.render_window.SetMultiSamples(0)
    for position, strength in LIGHTS:
        light = pyvista.Light(light_type="camera light", intensity=strength)
        light.position = position
        light.focal_point = (0.0, 0.0, 0.0)
        plotter.add_light(light)
    return plotter


def resize(plotter: Any, size: tuple[int, int]) -> None:
    """Make a plotter ready for pictures of (width, height) pixels."""
    plotter.window_size = [side * OVERSIZE for side in size]


def picture_of(plotter: Any, size: tuple[int, int]) -> Any:
    """Return what a plotter's camera sees, brought down to size: (height, width, 3) uint8."""
    from PIL import Image

    large = plotter.screenshot(return_img=True)
    small = Image.fromarray(large[:, :, :3]).resize(size, Image.Resampling.LANCZOS)
    return np.asarray(small)


def add_parts(
    plotter: Any, assembly: Assembly, parts: Iterable[Part], *, opacity: float = 1.0
) -> list[Any]:
    """Add parts of an assembly on its own hand, with their sharp edges; return what was added."""
    import pyvista

    look = {"ambient": 0.56, "diffuse": 0.5, "specular": 0.0}
    color, width = (GLASS_EDGE, 0.8) if opacity < 1 else (INK, 1.2)
    added = []
    for part in parts:
        solid = as_hung(assembly.scene, part.solid)
        mesh: Any = pyvista.PolyData.from_regular_faces(np.array(solid.vertices), solid.faces)
        fill = MATERIALS[part.kind].fill
        added.append(plotter.add_mesh(mesh, color=fill, opacity=opacity, **look))
        added += add_strokes(plotter, edges_of(solid), color, width)
    return added


def edges_of(solid: Solid) -> Floats:
    """Return a solid's edges between faces that turn sharply, (n, 2, 3)."""
    points, _, ends = creased(solid, SHARP_RAD)
    return points[ends]


def add_strokes(plotter: Any, strokes: Floats, color: str, width: float) -> list[Any]:
    """Add lines (n, 2, 3), ``width`` in thousandths of the picture's height; return them."""
    import pyvista

    if not len(strokes):
        return []
    mesh = pyvista.line_segments_from_points(strokes.reshape(-1, 3))
    thick = width * plotter.window_size[1] / 1000
    return [plotter.add_mesh(mesh, color=color, line_width=thick, lighting=False)]


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
