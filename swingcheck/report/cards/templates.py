"""Templates at true scale: the leaf on its edge, the spacer block, and rulers to measure first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from swingcheck.bench.layout import HoleMark
from swingcheck.bench.mortise import SetUp
from swingcheck.job.house import Door
from swingcheck.report.cards.pen import BLACK, QUIET, Colour, Paper, Pen, width_of, wrapped
from swingcheck.report.words import Lengths
from swingcheck.units import MM_PER_INCH

INCH = 72.0
ALIKE = 1 / 128
"""Templates that differ by less than this are one, inches."""

MARGIN = 36.0
HEAD, RULERS = 118.0, 62.0
"""Room for the words at the top and for the ruler across the foot, points."""

LEAF: Colour = (0.0, 0.0, 0.55)
TEMPLATE: Colour = (0.7, 0.1, 0.1)
SPACER: Colour = (0.0, 0.35, 0.15)
"""What the leaf's outline, the template's opening and the spacer block are drawn in."""

CROSS = 4.0
"""An arm of a screw's cross, points."""

ARC = 0.5522847498
"""A quarter circle by one curve: its guides' length, of the radius."""

_GAP = 0.55
_STRIP_PAST = 0.6
_FIRST = 1.0


@dataclass(slots=True)
class Template:
    """One page: a set-up, its leaf's screw holes (down from its top), and the doors it serves."""

    set_up: SetUp
    holes: tuple[HoleMark, ...]
    lengths: Lengths
    doors: list[str] = field(default_factory=list)


def templates(doors: Sequence[Door], unit: str | None = None) -> list[Template]:
    """Return a template for every leaf that is let in otherwise, in the order of the doors."""
    found: list[Template] = []
    for door in doors:
        bench = door.bench
        lengths = Lengths(unit=unit or bench.scene.unit)
        for set_up in bench.mortises.set_ups:
            mark = bench.leaves.hinges[set_up.hinges[0]]
            leaf = mark.slab if set_up.side == "slab" else mark.jamb
            holes = tuple(
                HoleMark(down=hole.down - leaf.top, from_arris=hole.from_arris)
                for hole in leaf.holes
            )
            same = next((each for each in found if _is_alike(each.set_up, set_up)), None)
            if same is None:
                same = Template(set_up, holes, lengths)
                found.append(same)
            if door.name not in same.doors:
                same.doors.append(door.name)
    return found


def templates_pdf(pages: Sequence[Template], paper: Paper) -> bytes:
    """Return the templates as a PDF at true scale, one a page; equal ones give equal bytes."""
    pen = Pen(paper, "Templates at true scale")
    for number, template in enumerate(pages, 1):
        _write_words(pen, template, number, len(pages))
        _draw_ruler_across(pen)
        _draw_ruler_up(pen)
        if fits(template, paper):
            _draw_template(pen, template)
        else:
            text = "Too large for this paper: it cannot be drawn at true scale."
            pen.text(MARGIN + _FIRST * INCH, paper.height / 2, text, 11, bold=True)
        pen.next_page()
    return pen.finished()


def fits(template: Template, paper: Paper) -> bool:
    """Return whether a template's leaf and its spacer block fit the paper at true scale."""
    leaf, opening = template.set_up.leaf, template.set_up.opening
    across = leaf.run + template.set_up.setback + leaf.run + opening.run + 2 * _GAP
    up = opening.length + 2 * _STRIP_PAST
    wide = (paper.width - 2 * MARGIN) / INCH - _FIRST
    high = (paper.height - 2 * MARGIN - HEAD - RULERS) / INCH
    return across <= wide and up <= high


def _is_alike(one: SetUp, other: SetUp) -> bool:
    same = (one.side, one.tools) == (other.side, other.tools)
    return same and all(abs(a - b) < ALIKE for a, b in zip(_sizes(one), _sizes(other), strict=True))


def _sizes(set_up: SetUp) -> tuple[float, ...]:
    leaf = set_up.leaf
    return leaf.length, leaf.run, set_up.setback, set_up.depth, set_up.corner_radius


def _write_words(pen: Pen, template: Template, number: int, count: int) -> None:
    set_up, lengths = template.set_up, template.lengths
    paper = pen.paper
    width = paper.width - 2 * MARGIN
    y = paper.height - MARGIN - 16
    pen.text(MARGIN, y, f"Template {number} of {count}: leaf on the {set_up.side}", 16, bold=True)
    y -= 17
    say = "Print at 100 %, never to fit the page. Measure both rulers first."
    pen.text(MARGIN, y, say, 10.5, bold=True)
    tools = set_up.tools
    words = [
        f"Doors: {', '.join(template.doors)}",
        f"Setback {lengths.full(set_up.setback)}, {lengths.full(set_up.depth)} deep, corners"
        f" {lengths.full(set_up.corner_radius)}; bit {lengths.full(tools.bit)}, bushing"
        f" {lengths.full(tools.bushing)}.",
        f"Blue: the leaf. Red, dashed: the template's opening, {lengths.full(tools.offset)} past"
        " each line. Green: the spacer block, both steps. Crosses: screws as leaves usually have"
        " them; check a leaf over them.",
    ]
    if set_up.refused:
        words.append("The bit and bushing told cannot cut this leaf: see the card.")
    lines = [line for text in words for line in wrapped(text, width, 8)]
    room = 7
    for line in [*lines[: room - 1], "..."] if len(lines) > room else lines:
        y -= 10.5
        pen.text(MARGIN, y, line, 8)


def _draw_template(pen: Pen, template: Template) -> None:
    set_up, lengths = template.set_up, template.lengths
    leaf, opening = set_up.leaf, set_up.opening
    low = MARGIN + RULERS + (_STRIP_PAST + opening.length / 2) * INCH
    x = MARGIN + _FIRST * INCH
    _draw_edge(pen, template, x, low)
    x += (leaf.run + set_up.setback + _GAP) * INCH
    for block, says in ((leaf, "between the lines"), (opening, "in the template")):
        wide, high = block.run * INCH, block.length * INCH
        pen.box(x, low - high / 2, wide, high, stroke=0.6, colour=SPACER)
        size = lengths.by(block.length, block.run)
        for k, text in enumerate(("spacer block", says, size)):
            pen.text(x, low - high / 2 - 12 - 10 * k, text, 7.5, colour=QUIET)
        x += (block.run + _GAP) * INCH


def _draw_edge(pen: Pen, template: Template, x: float, middle: float) -> None:
    """Draw the edge that the leaf is let into, its wide face on the left, and the leaf on it."""
    set_up, lengths = template.set_up, template.lengths
    leaf, opening = set_up.leaf, set_up.opening
    run, half = leaf.run * INCH, leaf.length / 2 * INCH
    back = (leaf.run + set_up.setback) * INCH
    reach = (opening.length / 2 + _STRIP_PAST) * INCH
    top, bottom = middle + reach, middle - reach
    for at in (0.0, back):
        pen.line((x + at, bottom), (x + at, top), width=0.9, colour=BLACK)
    pen.line((x + run, bottom), (x + run, top), width=0.5, colour=QUIET, dash=(6, 2, 1, 2))
    wide, stop = ("wide face", "stop side") if set_up.side == "slab" else ("pull side", "stop")
    pen.text(x, top + 4, wide, 7.5, colour=QUIET)
    pen.text(x + max(back, width_of(wide, 7.5) + 8), top + 4, stop, 7.5, colour=QUIET)
    radius = min(set_up.corner_radius, leaf.length / 2, leaf.run) * INCH
    pen.path(_open_leaf(x, middle, run, half, radius), width=0.6, colour=LEAF)
    if not set_up.refused:
        outer, high = opening.run * INCH, opening.length / 2 * INCH
        path = _open_leaf(x, middle, outer, high, set_up.tools.template_corner * INCH)
        pen.path(path, width=0.6, colour=TEMPLATE, dash=(4, 2))
    for hole in template.holes:
        across, up = x + hole.from_arris * INCH, middle + half - hole.down * INCH
        pen.line((across - CROSS, up), (across + CROSS, up), width=0.4, colour=BLACK)
        pen.line((across, up - CROSS), (across, up + CROSS), width=0.4, colour=BLACK)
    setback = f"setback {lengths.bare(set_up.setback)}"
    pen.text(x + back + 4, bottom + 2, setback, 7.5, colour=QUIET)


def _open_leaf(
    x: float, middle: float, run: float, half: float, radius: float
) -> list[tuple[float, ...]]:
    """Return a leaf's outline from the wide face round its two buried corners and back."""
    top, bottom, far = middle + half, middle - half, x + run
    if radius <= 0:
        return [(x, top), (far, top), (far, bottom), (x, bottom)]
    inner, guide = radius, radius * (1 - ARC)
    return [
        (x, top),
        (far - inner, top),
        (far - guide, top, far, top - guide, far, top - inner),
        (far, bottom + inner),
        (far, bottom + guide, far - guide, bottom, far - inner, bottom),
        (x, bottom),
    ]


def _draw_ruler_across(pen: Pen) -> None:
    """Draw a ruler along the foot of the page: 6 in over the line, 150 mm under it."""
    x, y = MARGIN + _FIRST * INCH, MARGIN + 22
    _draw_inches(pen, x, y, up=False)
    for millimetre in range(151):
        tall = 9.0 if millimetre % 10 == 0 else 6.0 if millimetre % 5 == 0 else 3.5
        at = x + millimetre / MM_PER_INCH * INCH
        pen.line((at, y), (at, y - tall), width=0.3, colour=BLACK)
        if millimetre % 10 == 0:
            pen.text(at - 2.5, y - tall - 7, str(millimetre), 5.5)
    pen.text(x + 6 * INCH + 8, y + 4, "in", 7.5)
    pen.text(x + 6 * INCH + 8, y - 8, "mm", 7.5)


def _draw_ruler_up(pen: Pen) -> None:
    x, y = MARGIN + 22, MARGIN + RULERS
    _draw_inches(pen, x, y, up=True)
    pen.text(x + 4, y + 6 * INCH - 6, "in", 7.5)


def _draw_inches(pen: Pen, x: float, y: float, *, up: bool) -> None:
    """Draw 6 in by sixteenths from a place, across or up the page."""

    def at(along: float, off: float) -> tuple[float, float]:
        return (x - off, y + along) if up else (x + along, y + off)

    pen.line(at(0, 0), at(6 * INCH, 0), width=0.6, colour=BLACK)
    for tick in range(6 * 16 + 1):
        along, tall = tick / 16 * INCH, _tick_height(tick)
        pen.line(at(along, 0), at(along, tall), width=0.4, colour=BLACK)
        if tick % 16 == 0:
            pen.text(*at(along - 2.5, tall + (7 if up else 2)), str(tick // 16), 7.5)


def _tick_height(sixteenth: int) -> float:
    """Return how tall a ruler's tick is: inches tallest, sixteenths shortest, points."""
    for every, tall in ((16, 14.0), (8, 11.0), (4, 8.5), (2, 6.5)):
        if sixteenth % every == 0:
            return tall
    return 4.5
