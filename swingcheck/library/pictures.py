"""Pictures of a scene, one view at a time, and of two scenes side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from swingcheck.advice.answer import checked
from swingcheck.assembly import assemble
from swingcheck.errors import RenderError
from swingcheck.model import Scene
from swingcheck.render.chart.draw import chart_figure
from swingcheck.render.chart.lines import chart_data
from swingcheck.render.compare import compare_figure, sides_of
from swingcheck.render.exploded.sheet import exploded_figure
from swingcheck.render.map.draw import variation_figure
from swingcheck.render.margins.bands import map_data
from swingcheck.render.margins.sheet import margin_figure
from swingcheck.render.pen.page import PIXELS, figure_bytes
from swingcheck.render.pen.section import cut_height, nearest_hinge
from swingcheck.render.pen.subject import subject_of
from swingcheck.render.plan.sheet import plan_figure
from swingcheck.render.plan.true_sheet import true_figure
from swingcheck.render.still.sheet import still_figure
from swingcheck.report.headline import headline
from swingcheck.report.words import Lengths
from swingcheck.swing.found import Found


class Pictures:
    """The pictures of a scene that is drawn, all of one check and one pose.

    Parameters
    ----------
    angle : float, optional
        How far the slab stands open, radians; at first contact when left out.
    size : int
        Width of a PNG, pixels.
    paper : {"letter", "a4"}, optional
        What true scale is for; letter for scenes in inches, A4 in mm, when left out.
    """

    def __init__(
        self,
        scene: Scene,
        *,
        angle: float | None = None,
        size: int = PIXELS,
        paper: str | None = None,
    ) -> None:
        self.found = checked(scene)
        self.subject = subject_of(self.found, caption(self.found), angle)
        self.size = size
        self.paper = paper or ("a4" if scene.unit == "mm" else "letter")

    def draw(self, view: str = "plan", kind: str = "png") -> bytes:
        """Return one view as a file's bytes.

        Raises RenderError where it cannot be drawn here; says what to install, or
        what is not there to draw.

        Parameters
        ----------
        view : str
            One of :data:`VIEWS`.
        kind : {"png", "svg", "pdf"}
            The 3D still is a PNG only.
        """
        if view == "solid" and kind != "png":
            raise RenderError(f"a 3D still is a PNG, not {kind!r}")
        return figure_bytes(VIEWS[view](self), kind, self.size)


def draw(scene: Scene, view: str = "plan", kind: str = "png", **how: Any) -> bytes:
    """Return one picture of a scene as a file's bytes; see :class:`Pictures`."""
    return Pictures(scene, **how).draw(view, kind)


def compare(
    first: Scene,
    second: Scene,
    *,
    names: tuple[str, str] = ("as it is", "changed"),
    rows: tuple[str, ...] = ("corners", "chart"),
    kind: str = "png",
    angle: float | None = None,
    size: int = PIXELS,
) -> bytes:
    """Return two scenes side by side at one scale as a file's bytes, in the first one's unit.

    Parameters
    ----------
    first, second : Scene
        One that touches nothing is drawn as far open as the other.
    names : (str, str)
        What they are called over their halves.
    rows : tuple of {"corners", "margins", "chart"}
        What is shown of them, from the top.
    kind, angle, size
        As for :class:`Pictures`.
    """
    founds = checked(first), checked(replace(second, unit=first.unit))
    one, other = ((name, found, caption(found)) for name, found in zip(names, founds, strict=True))
    return figure_bytes(compare_figure(sides_of(one, other, angle), rows), kind, size)


def draw_map(
    varied: Any, show: str = "verdict", kind: str = "png", unit: str | None = None
) -> bytes:
    """Return a curve or a map of a varied scene as a file's bytes.

    Parameters
    ----------
    varied : Varied
        Over one or two measurements.
    show : {"verdict", "angle", "short", "margin"}
        What it shows: contact angle, how far short of closed, or the margins.
    kind : {"png", "svg", "pdf"}
        Of file.
    unit : {"in", "mm"}, optional
        The scene's own when left out.
    """
    return figure_bytes(variation_figure(varied, show, unit=unit), kind)


def caption(found: Found) -> str:
    """Return the verdict's words over a picture, in the scene's own unit."""
    return headline(found, Lengths(unit=found.scene.unit))


def _hinge(asked: Pictures) -> Any:
    """Return the hinge pulled apart that is nearest to where the plan is cut."""
    scene, subject = asked.found.scene, asked.subject
    if not scene.hinge.count:
        raise RenderError("no hinge to pull apart: the slab hangs on pivots")
    assembly = assemble(scene)
    hinge = nearest_hinge(assembly, cut_height(subject.assembly, subject.pose))
    return exploded_figure(assembly, hinge, scene.title)


VIEWS: dict[str, Callable[[Pictures], Any]] = {
    "plan": lambda asked: plan_figure(asked.subject),
    "solid": lambda asked: still_figure(asked.subject, asked.size),
    "hinge": _hinge,
    "margins": lambda asked: margin_figure(
        map_data(assemble(asked.found.scene)), asked.subject.caption
    ),
    "clearance": lambda asked: chart_figure(chart_data(asked.subject), asked.subject.caption),
    "corners": lambda asked: true_figure(asked.subject, asked.paper),
}
"""What can be drawn: the plan section, the 3D still, a hinge pulled apart, the margins of
the closed slab, the clearance against the angle, the corners at true scale."""
