"""Templates are true to scale: measured in the PDF's own drawing, and on the printed page.

The measure is the PDF's unit, 1/72 in (ISO 32000-1, 8.3.2.3: default user space), read from the
drawing operators; and an independent renderer's dots, 600 to the inch (poppler's pdftoppm).
"""

from __future__ import annotations

import re
import shutil
import subprocess
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from math import cos, radians
from pathlib import Path

import numpy as np
import pytest
from scipy.interpolate import BPoly

from swingcheck.advice.answer import answered
from swingcheck.bench.door import bench_numbers
from swingcheck.job.house import Door
from swingcheck.report.cards.pen import A4, LETTER, Paper
from swingcheck.report.cards.templates import LEAF, SPACER, TEMPLATE, templates, templates_pdf
from tests.factory import bevel, plain_scene

INCH = 72.0
WITHIN = 0.005
"""What a printed inch may be off, inches."""

DOTS = 600

BLACK = (0.0, 0.0, 0.0)

# The closet: 1 3/8 slab, 2 degrees, setback 1/4, leaf 3 1/2 with 5/8 corners; a 1 1/4 bit in a
# 1 3/8 bushing stands 1/16 inside its template.
RUN = 1.375 / cos(radians(2.0)) - 0.25


def closet(**changes: object) -> Door:
    bench = bench_numbers(plain_scene(**changes))
    return Door(name="Closet", where="row 2", bench=bench, answer=answered(bench.finished))


@pytest.fixture(scope="module", params=[LETTER, A4], ids=["letter", "a4"])
def pdf(request: pytest.FixtureRequest) -> bytes:
    paper: Paper = request.param
    return templates_pdf(templates([closet()]), paper)


@dataclass
class Drawn:
    """A stroked path: its colour, its line width, and its points (a curve's three, in order)."""

    colour: tuple[float, ...]
    width: float
    points: list[tuple[float, float]] = field(default_factory=list)
    curves: list[tuple[tuple[float, float], ...]] = field(default_factory=list)

    @property
    def size(self) -> tuple[float, float]:
        """Across and up, inches."""
        across, up = zip(*self.points, strict=True)
        return (max(across) - min(across)) / INCH, (max(up) - min(up)) / INCH


def contents(pdf: bytes) -> list[bytes]:
    """Return each page's drawing operators."""
    streams = re.findall(rb"<<(?:(?!>>).)*?>>\s*stream\r?\n(.*?)endstream", pdf, re.S)
    found = []
    for stream in streams:
        try:
            plain = zlib.decompress(stream)
        except zlib.error:
            continue
        if b" RG" in plain and b" Tf" in plain:
            found.append(plain)
    return found


def drawn(content: bytes) -> Iterator[Drawn]:
    """Yield the stroked paths of a page; only a plain move of the page may scale them."""
    numbers: list[float] = []
    colour, width = BLACK, 1.0
    path = Drawn(colour, width)
    for word in re.sub(rb"\(.*?(?<!\\)\)", b"", content).split():
        operator = word.decode("latin-1")
        if re.fullmatch(r"-?\d*\.?\d+", operator):
            numbers.append(float(operator))
            continue
        if operator == "cm":
            assert numbers[-6:-2] == [1, 0, 0, 1], "something scales or turns the page"
        elif operator == "RG":
            colour = tuple(numbers[-3:])
        elif operator == "w":
            width = numbers[-1]
        elif operator in ("m", "l"):
            path.points.append((numbers[-2], numbers[-1]))
        elif operator == "c":
            start = path.points[-1]
            xs = numbers[-6:]
            curve = (start, *((xs[k], xs[k + 1]) for k in (0, 2, 4)))
            path.curves.append(curve)
            path.points.append(curve[-1])
        elif operator == "re":
            x, y, wide, high = numbers[-4:]
            path.points += [(x, y), (x + wide, y + high)]
        elif operator in ("S", "s", "B", "b", "n", "f"):
            if operator in ("S", "s"):
                path.colour, path.width = colour, width
                yield path
            path = Drawn(colour, width)
        numbers = []


def of_colour(content: bytes, colour: tuple[float, float, float]) -> list[Drawn]:
    return [path for path in drawn(content) if np.allclose(path.colour, colour, atol=0.005)]


OUT = 1 / 16
SIZES = {
    LEAF: [(RUN, 3.5)],
    TEMPLATE: [(RUN + OUT, 3.5 + 2 * OUT)],
    SPACER: [(RUN, 3.5), (RUN + OUT, 3.5 + 2 * OUT)],
}


def test_a_leaf_of_three_and_a_half_inches_its_template_corners_and_setback_line_are_drawn_so(
    pdf: bytes,
) -> None:
    slab, jamb = contents(pdf)
    for colour, sizes in SIZES.items():
        assert [path.size for path in of_colour(slab, colour)] == [
            pytest.approx(size, abs=1e-4) for size in sizes
        ]
    (leaf,) = of_colour(jamb, LEAF)
    assert leaf.size == pytest.approx((1.4375 - 0.3125, 3.5), abs=1e-4)
    (leaf,) = of_colour(contents(pdf)[0], LEAF)
    for upper, curve in zip((True, False), np.array(leaf.curves), strict=True):
        centre = (curve[0, 0], curve[3, 1]) if upper else (curve[3, 0], curve[0, 1])
        at = BPoly(curve[:, None], [0.0, 1.0])(np.linspace(0, 1, 21))
        radii = np.hypot(*(at - centre).T) / INCH
        assert radii == pytest.approx(0.625, abs=0.001)
    content = contents(pdf)[0]
    (leaf,) = of_colour(content, LEAF)
    buried = max(x for x, _ in leaf.points)
    upright = [
        path.points[0][0]
        for path in of_colour(content, BLACK)
        if path.size[0] == 0 and path.size[1] > 4 and path.width > 0.8
    ]
    assert min(upright) == pytest.approx(min(x for x, _ in leaf.points), abs=1e-3)
    assert (max(upright) - buried) / INCH == pytest.approx(0.25, abs=1e-4)


def test_the_rulers_have_every_sixteenth_and_every_millimetre(pdf: bytes) -> None:
    for content in contents(pdf):
        lines = of_colour(content, BLACK)
        level = next(p for p in lines if p.size == pytest.approx((6.0, 0.0), abs=1e-4))
        x, y = min(level.points)
        ticks = [p for p in lines if p.size[0] == 0 and p.size[1] < 0.25]
        over = sorted(
            {
                p.points[0][0]
                for p in ticks
                if p.points[0][1] == y and p.width > 0.35 and max(q for _, q in p.points) > y
            }
        )
        under = sorted({p.points[0][0] for p in ticks if min(q for _, q in p.points) < y})
        assert np.array(over) - x == pytest.approx(np.arange(97) / 16 * INCH, abs=0.01)
        assert np.array(under) - x == pytest.approx(np.arange(151) / 25.4 * INCH, abs=0.01)
        upright = [p for p in lines if p.size == pytest.approx((0.0, 6.0), abs=1e-4)]
        assert len(upright) == 1


@pytest.mark.parametrize(
    ("changes", "size"),
    [
        ({"hinge__leaf_length": 4.5, "hinge__corner_radius": 0.25}, (RUN, 4.5)),
        ({"hinge__leaf_length": 100 / 25.4}, (RUN, 100 / 25.4)),
        ({"slab__hinge_edge": bevel(0.0), "hinge__corner_radius": 0.0}, (1.375 - 0.25, 3.5)),
    ],
)
def test_other_leaves_are_drawn_their_own_size(
    changes: dict[str, object], size: tuple[float, float]
) -> None:
    pdf = templates_pdf(templates([closet(**changes)]), LETTER)
    (leaf,) = of_colour(contents(pdf)[0], LEAF)
    assert leaf.size == pytest.approx(size, abs=1e-4)


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no pdftoppm: install poppler-utils")
def test_the_printed_leaf_measures_three_and_a_half_inches(pdf: bytes, tmp_path: Path) -> None:
    from PIL import Image

    file = tmp_path / "template.pdf"
    file.write_bytes(pdf)
    # The left 4 in of the first page hold the leaf; the paper's edges are dots too.
    crop = ["-x", "0", "-y", "0", "-W", str(4 * DOTS), "-H", str(12 * DOTS)]
    page = subprocess.run(
        ["pdftoppm", "-r", str(DOTS), "-f", "1", "-l", "1", *crop, str(file)],
        check=True,
        capture_output=True,
        timeout=60,
    ).stdout
    dots = np.asarray(Image.open(BytesIO(page)).convert("RGB")).astype(int)
    blue = (dots[:, :, 2] - dots[:, :, 0] > 70) & (dots[:, :, 0] < 128)
    rows, columns = np.flatnonzero(blue.any(axis=1)), np.flatnonzero(blue.any(axis=0))
    (leaf,) = of_colour(contents(pdf)[0], LEAF)
    line = leaf.width / INCH
    assert (rows[-1] - rows[0] + 1) / DOTS - line == pytest.approx(3.5, abs=WITHIN)
    # Across, the line starts at the wide face and stops at the middle of its own width.
    across = (columns[-1] - columns[0] + 1) / DOTS - line / 2
    assert across == pytest.approx(RUN, abs=WITHIN)
