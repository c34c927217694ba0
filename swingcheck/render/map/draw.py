"""A map of what the slab does over two dimensions, or a curve over one, for the wall."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import numpy as np

from swingcheck.chance.outcomes import VERDICTS
from swingcheck.chance.vary import Over, Varied
from swingcheck.palette import FRAME_LINE, INK, PAPER, QUIET
from swingcheck.render.map.ground import draw_curve, draw_map, letter
from swingcheck.render.map.sheet import AXES, INKS, LARGE, PLAIN, MapSheet
from swingcheck.render.pen.lettering import font, text_width, wrapped

WIDTH, HEIGHT = 11.0, 8.5
"""Inches of paper: a sheet for the wall."""

LEFT, FOOT = 0.1, 0.19
"""Where the axes stand, shares of the sheet."""

PIXELS = 2000
"""Width of a PNG."""

TITLES = {
    "verdict": "Where it swings, and what stops it elsewhere",
    "angle": "How far open the slab first touches",
    "short": "How far short of closed the strike edge stops",
    "margin": "The lesser margin of the two legs, slab closed",
}


HEIGHTS = {
    "angle": "Angle of first contact",
    "short": "Short of closed at the strike edge",
    "margin": "Margin",
}


def variation_picture(
    varied: Varied, show: str = "verdict", kind: str = "png", *, unit: str | None = None
) -> bytes:
    """Return a picture of variants as a file's bytes: a map of two dimensions, a curve of one.

    Parameters
    ----------
    varied : Varied
        What varied, and what it came to.
    show : str
        ``verdict``, ``angle``, ``short`` or ``margin``.
    kind : str
        ``png``, ``svg`` or ``pdf``. Equal variants give equal bytes.
    unit : {"in", "mm"} or None
        What lengths are written in; ``None`` for the scene's own.
    """
    import matplotlib

    figure = variation_figure(varied, show, unit=unit)
    written = BytesIO()
    metadata = {"svg": {"Date": None}, "pdf": {"CreationDate": None}, "png": {"Software": None}}
    style: Any = {"svg.hashsalt": "swingcheck", "pdf.fonttype": 42, "hatch.linewidth": 0.8}
    with matplotlib.rc_context(style):
        figure.savefig(written, format=kind, metadata=metadata[kind], dpi=PIXELS / WIDTH)
    return written.getvalue()


def variation_figure(varied: Varied, show: str = "verdict", *, unit: str | None = None) -> Any:
    """Return the picture as a matplotlib figure on a canvas that needs no display."""
    import matplotlib
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    sheet = MapSheet(varied=varied, show=show, unit=unit or varied.scene.unit)
    with matplotlib.rc_context({"hatch.linewidth": 0.8}):
        figure = Figure(figsize=(WIDTH, HEIGHT), facecolor=PAPER)
        FigureCanvasAgg(figure)
        axes = figure.add_axes((LEFT, FOOT, AXES[0] / WIDTH, AXES[1] / HEIGHT))
        if len(varied.overs) == 1:
            draw_curve(axes, sheet)
        else:
            draw_map(figure, axes, sheet)
        _dress(figure, axes, sheet)
    return figure


def _dress(figure: Any, axes: Any, sheet: MapSheet) -> None:
    overs = sheet.varied.overs
    _rule(axes.xaxis, sheet, overs[0], most=_most_across(sheet, overs[0]))
    axes.set_xlim(*_ends(overs[0]))
    if len(overs) == 2:
        _rule(axes.yaxis, sheet, overs[1], most=10)
        axes.set_ylim(*_ends(overs[1]))
    elif sheet.show == "verdict":
        axes.set_yticks([])
    else:
        _rule_height(axes, sheet)
    letter(axes, PLAIN)
    for spine in axes.spines.values():
        spine.set_edgecolor(QUIET)
        spine.set_linewidth(1.0)
    _write_heading(figure, sheet)
    _write_key(figure, sheet)


def _ends(over: Over) -> tuple[float, float]:
    half = (over.values[1] - over.values[0]) / 2 if len(over.values) > 1 else 0.5
    return float(over.values[0] - half), float(over.values[-1] + half)


def _most_across(sheet: MapSheet, over: Over) -> int:
    """Return how many ticks go across without their words meeting."""
    low, high, is_angle = over.values[0], over.values[-1], over.measurement.is_angle
    for most in range(12, 2, -1):
        ticks = sheet.ticks(low, high, is_angle=is_angle, most=most)
        widest = max(text_width(sheet.tick(each, is_angle=is_angle), PLAIN) for each in ticks)
        if len(ticks) < 2 or sheet.inches(0, ticks[1] - ticks[0]) > widest / 72 + 0.15:
            return most
    return 2


def _rule(axis: Any, sheet: MapSheet, over: Over, *, most: int) -> None:
    """Write a dimension's ticks, as a tape has them, and its words."""
    is_angle = over.measurement.is_angle
    ticks = sheet.ticks(over.values[0], over.values[-1], is_angle=is_angle, most=most)
    axis.set_ticks(ticks, labels=[sheet.tick(each, is_angle=is_angle) for each in ticks])
    axis.set_label_text(sheet.label(over), fontproperties=font(PLAIN, bold=True), color=INK)
    axis.labelpad = 8.0


def _rule_height(axes: Any, sheet: MapSheet) -> None:
    """Write the ticks of what a curve shows."""
    low, high = axes.get_ylim()
    ticks = sheet.ticks(low, high, is_angle=sheet.is_angle, most=9)
    axes.set_yticks(ticks, labels=[sheet.tick(each, is_angle=sheet.is_angle) for each in ticks])
    axes.set_ylim(low, high)
    axes.grid(axis="y", color=FRAME_LINE, linewidth=0.7)
    axes.set_axisbelow(False)
    words = HEIGHTS[sheet.show], sheet.unit_word(is_angle=sheet.is_angle)
    axes.yaxis.set_label_text(", ".join(words), fontproperties=font(PLAIN, bold=True), color=INK)
    axes.yaxis.labelpad = 8.0


def _write_heading(figure: Any, sheet: MapSheet) -> None:
    y = 0.955
    room = WIDTH * 72 * (0.98 - LEFT)
    words = TITLES[sheet.show]
    if sheet.show == "margin" and len(sheet.varied.overs) == 1:
        words = "The margins along the two legs, slab closed"
    title = f"{sheet.varied.scene.title}: {words}"
    for line in wrapped(title, room, LARGE, bold=True)[:2]:
        _write(figure, LEFT, y, line, LARGE, bold=True)
        y -= LARGE * 1.32 / 72 / HEIGHT
    for line in wrapped(_now_words(sheet), room, PLAIN)[:2]:
        _write(figure, LEFT, y, line, PLAIN, color=QUIET)
        y -= PLAIN * 1.32 / 72 / HEIGHT


def _now_words(sheet: MapSheet) -> str:
    free = [(over.measurement, sheet.now(over)) for over in sheet.varied.overs]
    now = " and ".join(
        f"{own.words} {sheet.text(value, is_angle=own.is_angle)}" for own, value in free
    )
    return f"Now: {now}. All else as it is."


def _write(
    figure: Any,
    x: float,
    y: float,
    words: str,
    size: float,
    *,
    bold: bool = False,
    color: str = INK,
) -> None:
    letters = font(size, bold=bold)
    figure.text(x, y, words, fontproperties=letters, color=color, va="center", parse_math=False)


def _write_key(figure: Any, sheet: MapSheet) -> None:
    """Write what each ground stands for, in rows under the axes."""
    from matplotlib.patches import Rectangle

    present = [VERDICTS[k] for k in np.unique(sheet.words)]
    x, y = LEFT, 0.085
    for word in sorted(present, key=list(INKS).index):
        words = word.value
        wide = (0.42 + 0.12 + text_width(words, PLAIN) / 72 + 0.35) / WIDTH
        if x + wide > 0.99 and x > LEFT:
            x, y = LEFT, y - 0.036
        ink = sheet.key_ink(word)
        for face, edge, hatch, width in (
            (ink.fill, INK, "", 0.9),
            ("none", ink.line, ink.hatch, 0),
        ):
            figure.add_artist(
                Rectangle(
                    (x, y - 0.012),
                    0.42 / WIDTH,
                    0.024,
                    facecolor=face,
                    edgecolor=edge,
                    hatch=hatch,
                    linewidth=width,
                )
            )
        _write(figure, x + 0.54 / WIDTH, y, words, PLAIN)
        x += wide
