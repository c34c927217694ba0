"""A 3D still: the whole opening from the pull side, and the contact close by, cut open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Any

import numpy as np

from swingcheck.assembly import BESIDE, GROUND, Assembly, Part, PartKind, barrel_parts
from swingcheck.assembly.parts import as_hung, is_mirrored
from swingcheck.geometry.booleans import cut
from swingcheck.geometry.solid import Floats, Solid
from swingcheck.geometry.solids import box
from swingcheck.palette import GHOST, INK, MATERIALS, PAPER
from swingcheck.render.pen.ink import contact_colour
from swingcheck.render.plan.pose import Pose, cut_height
from swingcheck.render.still.gl import gl

OVERSIZE = 2
"""A still is rendered this many times as large and brought down: software GL smooths badly."""

SHARP = 25.0
"""An edge between faces that turn by more than this is drawn, degrees."""

FRAME = (
    PartKind.HINGE_LEG,
    PartKind.STRIKE_LEG,
    PartKind.HEAD,
    PartKind.HINGE_STOP,
    PartKind.STRIKE_STOP,
    PartKind.HEAD_STOP,
    PartKind.CASING,
)
AROUND_KINDS = (
    PartKind.OBSTACLE,
    PartKind.WALL_RETURN,
    PartKind.BASEBOARD,
    PartKind.THRESHOLD,
)
GLASS = 0.38
"""How solid the frame looks in the whole view."""

GLASS_EDGE = "#7d8b97"

AROUND = 4.0
"""How far about the contact the near view looks, inches."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shot:
    """A rendered view: ``pixels`` (height, width, 3) uint8, and where points fall in it.

    ``at`` is (n, 2), pixels from the left and from the top, one row for each
    point that was asked for.
    """

    pixels: Any
    at: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Camera:
    """Looks along ``toward`` (3,) with ``up`` (3,) up, parallel, at a middle and a half height."""

    middle: Floats
    toward: Floats
    up: Floats
    half: float


def whole_shot(assembly: Assembly, pose: Pose, size: tuple[int, int], points: Floats) -> Shot:
    """Return the whole opening from the pull side, the frame like glass.

    Parameters
    ----------
    assembly : Assembly
        What to draw.
    pose : Pose
        Where the slab stands; its closed ghost is dashed.
    size : (int, int)
        Width and height in pixels.
    points : (n, 3) float64
        Points of the opening frame to find in the picture.

    Raises
    ------
    RenderError
        Where this machine cannot draw in 3D.
    """
    slab = _posed(assembly, pose.angle)
    frame = [part for part in assembly.fixed if part.kind in FRAME]
    around = [part for part in assembly.fixed if part.kind in AROUND_KINDS]
    leaves = [part for part in assembly.fixed if part.kind is PartKind.JAMB_LEAF]
    beside = [part for part in assembly.fixed if part.kind in BESIDE]
    fitted = _hung(assembly, [*slab, *frame, *beside])
    corners = np.concatenate([part.solid.vertices for part in fitted])
    camera = _fitted(corners, _toward(assembly, 24.0, 14.0), size)
    with gl():
        plotter = _plotter(size)
        for part in _hung(assembly, [*frame, *around]):
            _add(plotter, part, opacity=GLASS)
        for part in _hung(assembly, [*slab, *beside, *leaves, *barrel_parts(assembly)]):
            _add(plotter, part)
        if not pose.closed:
            ghost = [part for part in assembly.moving if part.kind is PartKind.SLAB]
            _add_ghost(plotter, _hung(assembly, ghost), 1.6)
        _add_pin(plotter, assembly)
        return _shot(plotter, camera, size, _mirrored(assembly, points))


def near_shot(assembly: Assembly, pose: Pose, size: tuple[int, int], about: Floats) -> Shot:
    """Return what is about a point, from the pull side and above, cut open at the section.

    ``about`` (3,) is the point to look at, opening frame, and the one point that
    the shot finds. A contact with the floor is looked at from low down, uncut.
    """
    low = pose.touch is not None and pose.touch.against_kind in GROUND
    height = cut_height(assembly, pose)
    kinds = (PartKind.WALL,) if low else (PartKind.WALL, PartKind.FLOOR)
    fixed = [part for part in assembly.fixed if part.kind not in kinds]
    parts = [*_posed(assembly, pose.angle), *fixed, *barrel_parts(assembly)]
    ghost = [part for part in assembly.moving if part.kind is PartKind.SLAB]
    if not low:
        parts, ghost = _below(parts, height), _below(ghost, height)
    (middle,) = _mirrored(assembly, about[None])
    aside = 38.0 if about[0] < max(assembly.scene.opening.width) / 2 else -38.0
    camera = Camera(
        middle=middle,
        toward=_toward(assembly, aside, 12.0 if low else 50.0),
        up=np.array([0.0, 0.0, 1.0]),
        half=AROUND * 0.62,
    )
    with gl():
        plotter = _plotter(size)
        for part in _hung(assembly, parts):
            _add(plotter, part)
        if not pose.closed:
            _add_ghost(plotter, _hung(assembly, ghost), 0.5)
        _add_contact(plotter, assembly, pose, height)
        return _shot(plotter, camera, size, middle[None])


def _posed(assembly: Assembly, angle: float) -> list[Part]:
    return [
        Part(
            name=part.name,
            kind=part.kind,
            solid=assembly.axis.turned(part.solid, angle),
            hinge=part.hinge,
        )
        for part in assembly.moving
    ]


def _hung(assembly: Assembly, parts: Sequence[Part]) -> list[Part]:
    """Return parts on the hand that the opening is built on."""
    scene = assembly.scene
    return [
        Part(name=part.name, kind=part.kind, solid=as_hung(scene, part.solid), hinge=part.hinge)
        for part in parts
    ]


def _mirrored(assembly: Assembly, points: Floats) -> Floats:
    return points * [-1.0 if is_mirrored(assembly.scene) else 1.0, 1.0, 1.0]


def _toward(assembly: Assembly, aside: float, above: float) -> Floats:
    """Return where a camera looks that stands on the pull side, toward the strike leg and high.

    Both angles are degrees: off the wall's normal, and above the level.
    """
    strike = -1.0 if is_mirrored(assembly.scene) else 1.0
    level = cos(radians(above))
    return -np.array(
        [strike * sin(radians(aside)) * level, cos(radians(aside)) * level, sin(radians(above))]
    )


def _fitted(corners: Floats, toward: Floats, size: tuple[int, int]) -> Camera:
    """Return the camera that sees all corners (n, 3), as large as fits."""
    right = np.cross(toward, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    up = np.cross(right, toward)
    seen = corners @ np.stack([right, up], axis=1)
    low, high = seen.min(axis=0), seen.max(axis=0)
    across, tall = high - low
    middle = (low + high) / 2
    return Camera(
        middle=middle[0] * right + middle[1] * up,
        toward=toward,
        up=np.array([0.0, 0.0, 1.0]),
        half=1.03 * max(tall, across * size[1] / size[0]) / 2,
    )


def _plotter(size: tuple[int, int]) -> Any:
    """Return an off-screen plotter with our light and none of its smoothing."""
    import pyvista

    window = [side * OVERSIZE for side in size]
    plotter: Any = pyvista.Plotter(off_screen=True, window_size=window, lighting="none")
    plotter.set_background(PAPER)
    plotter.render_window.SetMultiSamples(0)
    plotter.enable_depth_peeling(number_of_peels=12)
    for position, strength in (((-0.6, 0.8, 1.0), 0.8), ((0.9, 0.2, 0.7), 0.4)):
        light = pyvista.Light(light_type="camera light", intensity=strength)
        light.position = position
        light.focal_point = (0.0, 0.0, 0.0)
        plotter.add_light(light)
    return plotter


def _add(plotter: Any, part: Part, *, opacity: float = 1.0) -> None:
    """Add a part and its sharp edges."""
    mesh = _mesh(part.solid)
    material = MATERIALS[part.kind]
    plotter.add_mesh(
        mesh, color=material.fill, opacity=opacity, ambient=0.56, diffuse=0.5, specular=0.0
    )
    edges = _edges(mesh)
    if edges.n_points:
        color, width = (GLASS_EDGE, 0.8) if opacity < 1 else (INK, 1.2)
        _add_lines(plotter, edges, color, width)


def _below(parts: Sequence[Part], height: float) -> list[Part]:
    return [kept for part in parts if (kept := below_plane(part, height)) is not None]


def below_plane(part: Part, height: float) -> Part | None:
    """Return what of a part is below a height, its cut closed; ``None`` where nothing is."""
    low, high = part.solid.bounds
    if low[2] >= height:
        return None
    if high[2] <= height:
        return part
    away = box(part.name, [*(low[:2] - 1.0), height], high + 1.0)
    solid = cut(part.name, part.solid, [away])
    return Part(name=part.name, kind=part.kind, solid=solid, hinge=part.hinge)


def _mesh(solid: Solid) -> Any:
    import pyvista

    faces = np.column_stack([np.full(len(solid.faces), 3), solid.faces])
    return pyvista.PolyData(np.array(solid.vertices), faces.ravel())


def _edges(mesh: Any) -> Any:
    return mesh.extract_feature_edges(
        feature_angle=SHARP,
        boundary_edges=False,
        non_manifold_edges=False,
        manifold_edges=False,
    )


def _add_ghost(plotter: Any, ghost: Sequence[Part], dash: float) -> None:
    """Add the closed slab as dashed edges, each dash so many inches."""
    for part in ghost:
        edges = _edges(_mesh(part.solid))
        ends = edges.points[edges.lines.reshape(-1, 3)[:, 1:]]
        _add_strokes(plotter, dashes(ends, (dash, 0.6 * dash)), GHOST, 1.6)


def _add_pin(plotter: Any, assembly: Assembly) -> None:
    """Add the pin line as a chain line, a little past the slab's ends."""
    axis = assembly.axis
    low, high = assembly.moving[0].solid.bounds[:, 2]
    ends = [axis.at(z) for z in (low - 3.0, high + 5.0)]
    line = _mirrored(assembly, np.array(ends))[None]
    _add_strokes(plotter, dashes(line, (3.0, 0.7, 0.5, 0.7)), INK, 1.4)


def _add_contact(plotter: Any, assembly: Assembly, pose: Pose, height: float) -> None:
    """Add the line along which the slab touches, as far as it is below the cut."""
    touch = pose.touch
    if touch is None or touch.span[0] >= min(touch.span[1], height):
        return
    x, y, _ = touch.point
    ends = np.array([[x, y, touch.span[0]], [x, y, min(touch.span[1], height)]])
    color = contact_colour(seated=pose.seated)
    _add_strokes(plotter, _mirrored(assembly, ends)[None], color, 5.0)


def dashes(lines: Floats, pattern: Sequence[float]) -> Floats:
    """Break lines (n, 2, 3) into strokes (m, 2, 3): drawn, left out, drawn, left out ...

    Examples
    --------
    >>> dashes(np.array([[[0.0, 0, 0], [3.0, 0, 0]]]), (1.0, 1.0))[:, :, 0].tolist()
    [[0.0, 1.0], [2.0, 3.0]]
    """
    strokes = []
    for start, end in lines:
        length = float(np.linalg.norm(end - start))
        along = (end - start) / length if length else np.zeros(3)
        at, k = 0.0, 0
        while at < length:
            reach = min(at + pattern[k % len(pattern)], length)
            if k % 2 == 0:
                strokes.append([start + at * along, start + reach * along])
            at, k = reach, k + 1
    return np.array(strokes).reshape(-1, 2, 3)


def _add_strokes(plotter: Any, strokes: Floats, color: str, width: float) -> None:
    import pyvista

    mesh = pyvista.line_segments_from_points(strokes.reshape(-1, 3))
    _add_lines(plotter, mesh, color, width)


def _add_lines(plotter: Any, lines: Any, color: str, width: float) -> None:
    """Add lines whose ``width`` is in thousandths of the picture's height."""
    thick = width * plotter.window_size[1] / 1000
    plotter.add_mesh(lines, color=color, line_width=thick, lighting=False)


def _shot(plotter: Any, camera: Camera, size: tuple[int, int], points: Floats) -> Shot:
    """Render, bring down to size, and find the points in the picture."""
    from PIL import Image

    view = plotter.camera
    view.focal_point = camera.middle
    view.position = camera.middle - camera.toward * 500.0
    view.up = camera.up
    view.parallel_projection = True
    view.parallel_scale = camera.half
    plotter.renderer.ResetCameraClippingRange()
    large = plotter.screenshot(return_img=True)
    right = np.cross(camera.toward, camera.up)
    right /= np.linalg.norm(right)
    up = np.cross(right, camera.toward)
    plotter.close()
    away = (points - camera.middle) @ np.stack([right, up], axis=1)
    step = size[1] / (2 * camera.half)
    at = np.array(size) / 2 + away * [step, -step]
    small = Image.fromarray(large[:, :, :3]).resize(size, Image.Resampling.LANCZOS)
    return Shot(pixels=np.asarray(small), at=at)
