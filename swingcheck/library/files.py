"""Answers as files: a film, a page for a browser, cards and templates for the bench, a mesh."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, nullcontext
from pathlib import Path
from typing import Any

from swingcheck.advice.answer import answered, checked
from swingcheck.assembly import Assembly, assemble, barrel_parts
from swingcheck.assembly.parts import as_hung
from swingcheck.chance.workers import Spread, answers_as_found
from swingcheck.errors import GeometryError
from swingcheck.geometry.export import write_mesh
from swingcheck.geometry.solid import Solid
from swingcheck.job.house import Job
from swingcheck.library.pictures import caption
from swingcheck.model import Scene
from swingcheck.page import clearance_data, page_html, sheet, shop_card
from swingcheck.render.film.file import write_film
from swingcheck.render.film.stage import film_way, moments, pictures
from swingcheck.render.pen.page import figure_bytes
from swingcheck.render.pen.subject import subject_of
from swingcheck.render.plan.corners import CARD_PIXELS, pair_figure
from swingcheck.render.still.camera import solid_view
from swingcheck.report.cards.content import door_card
from swingcheck.report.cards.html import cards_html
from swingcheck.report.cards.pdf import cards_pdf
from swingcheck.report.cards.pen import PAPERS
from swingcheck.report.cards.templates import fits, templates_pdf
from swingcheck.report.cards.templates import templates as leaves
from swingcheck.report.cards.txt import cards_text

Watch = Callable[[str, float], None]
"""Called with what is being worked out, and how much of it is done, 0 to 1."""


def film(
    scene: Scene,
    file: Path,
    *,
    view: str = "plan",
    seconds: float = 5.0,
    rate: int = 12,
    size: int = 640,
    watch: Watch = lambda what, share: None,
) -> tuple[int, float]:
    """Film the swing, slowing as it nears contact; return the pictures and the seconds of it.

    Raises MissingExtraError where the encoder of an MP4 is not installed; and
    RenderError where the slab cannot swing at all, or no GL renderer is found for
    ``solid``.

    Parameters
    ----------
    scene : Scene
        Closing to its first contact, or opening where opening is what fails.
    file : Path
        Ends in ``.gif``, ``.webp`` or ``.mp4``.
    view : {"plan", "solid"}
        The whole opening in plan, or in 3D, beside the close-up in plan.
    seconds, rate, size
        How long the swing takes; pictures a second; width in pixels, of 4 to 3.
    watch : callable
        Told how far it is.
    """
    found = checked(scene)
    subject = subject_of(found, caption(found))
    begin, end = film_way(subject)
    shown = moments(begin, end, seconds=seconds, rate=rate)

    widest = max(begin, end, key=abs)
    with solid_view(subject.assembly, widest) if view == "solid" else nullcontext() as solid:
        watched = _watched(pictures(subject, shown, size, solid), len(shown), watch)
        write_film(file, watched, shown, rate=rate)
    return len(shown), sum(moment.seconds for moment in shown)


def _watched(drawn: Iterable[Any], count: int, watch: Watch) -> Iterator[Any]:
    for k, picture in enumerate(drawn, start=1):
        watch("filming", k / count)
        yield picture


def web_page(
    scenes: Sequence[Scene],
    *,
    unit: str | None = None,
    dials: Sequence[dict[str, Any]] | None = None,
) -> str:
    """Return one HTML page that swings each scene's slab under a finger, whole in itself.

    Parameters
    ----------
    scenes : sequence of Scene
        In the order of the page's chooser.
    unit : {"in", "mm"}, optional
        What lengths are written in; each scene's own when left out.
    dials : sequence of dict, optional
        What can be dialled, where the page is served live.
    """
    sheets = []
    for scene in scenes:
        answer, assembly = answered(scene), assemble(scene)
        clearance = clearance_data(answer.found, assembly)
        shop = shop_card(answer, unit)
        sheets.append(sheet(answer, assembly, unit=unit, clearance=clearance, shop=shop))
    return page_html(sheets, dials=dials)


def cards(
    job: Job,
    kind: str = "pdf",
    *,
    unit: str | None = None,
    paper: str = "letter",
    drawn: bool = True,
) -> bytes:
    """Return a page a door for the bench, as a file's bytes.

    Parameters
    ----------
    job : Job
        What :func:`swingcheck.house` returned.
    kind : {"pdf", "html", "txt"}
        Of file.
    unit : {"in", "mm"}, optional
        The scene's own when left out.
    paper : {"letter", "a4"}
        What it is printed on.
    drawn : bool
        Draw each door's corners in plan; never in ``txt``.
    """
    content = [door_card(door, unit) for door in job.doors]
    if kind == "txt":
        return cards_text(content).encode()
    corners: dict[str, bytes] = {}
    if drawn:
        finished = [door.bench.finished for door in job.doors]
        with closing(answers_as_found(closeups, finished, Spread())) as found:
            corners = {job.doors[k].name: png for k, png in found if png is not None}
    if kind == "pdf":
        return cards_pdf(content, corners, PAPERS[paper])
    return cards_html(content, corners, PAPERS[paper]).encode()


def closeups(scene: Scene) -> bytes | None:
    """Return the two corners of a closed slab in plan as a PNG; ``None`` without a solid."""
    try:
        return figure_bytes(pair_figure(assemble(scene)), "png", CARD_PIXELS)
    except GeometryError:
        return None


def templates(job: Job, *, unit: str | None = None, paper: str = "letter") -> bytes:
    """Return a PDF with leaves, setback lines and spacer blocks at true scale.

    Raises GeometryError where no leaf of the job fits the paper.
    """
    pages, laid = leaves(job.doors, unit), PAPERS[paper]
    if not any(fits(page, laid) for page in pages):
        raise GeometryError("templates", f"no leaf of this job fits {laid.name} at true scale")
    return templates_pdf(pages, laid)


def mesh(
    scene: Scene, file: Path, *, angle: float = 0.0, unit: str | None = None
) -> tuple[str, ...]:
    """Write slab, jamb and stops, every part under its name; return the names.

    Raises OSError where the file cannot be written.

    Parameters
    ----------
    scene : Scene
        As built, hinges on its own hand; z up and y toward the pull side (in GLB y is up).
    file : Path
        Ends in ``.glb``, ``.stl`` or ``.obj``.
    angle : float
        How far the slab stands open, radians.
    unit : {"in", "mm"}, optional
        Of STL and OBJ; the scene's own when left out. GLB is in metres.
    """
    solids = posed_solids(assemble(scene), angle)
    write_mesh(file, solids, unit=unit or scene.unit)
    return tuple(name for name, _ in solids)


def posed_solids(assembly: Assembly, angle: float) -> list[tuple[str, Solid]]:
    """Return every part by name at a swing angle (radians), on the scene's own hand."""
    posed = [(part.name, assembly.axis.turned(part.solid, angle)) for part in assembly.moving]
    posed += [(part.name, part.solid) for part in (*assembly.fixed, *barrel_parts(assembly))]
    return [(name, as_hung(assembly.scene, solid)) for name, solid in posed]
