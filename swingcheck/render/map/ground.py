"""The ground of a map or a curve of variants: fills, hatching, lines, and the scene's own place."""

from __future__ import annotations

from typing import Any

import numpy as np

from swingcheck.chance.outcomes import VERDICTS
from swingcheck.chance.vary import Over
from swingcheck.geometry.solid import Floats
from swingcheck.palette import CONTACT, FRAME_LINE, INK, PAPER, QUIET, SEAT
from swingcheck.render.map.sheet import CALM, INKS, PLAIN, SMALL, Ink, MapSheet
from swingcheck.render.pen.lettering import font, text_width
from swingcheck.swing.found import Verdict

LOUD_RAMP = ("#fdeee6", "#f2a583", CONTACT, "#5c1606")
CALM_RAMP = ("#f4f8f9", "#a9cbd6", SEAT, "#0d3441")
"""From nothing to the most: light to dark, which no eye and no printer mistakes."""


def draw_map(figure: Any, axes: Any, sheet: MapSheet) -> None:
    """Draw variants over two dimensions: the first across, the second up."""
    across, up = sheet.varied.overs
    edges = _edges(across.values), _edges(up.values)
    if sheet.show == "verdict":
        _fill_verdicts(axes, sheet, edges)
    else:
        _fill_values(figure, axes, sheet, edges)
    _draw_borders(axes, sheet, edges)
    if sheet.show != "verdict":
        _contours(axes, sheet)
    _mark_now(axes, sheet)
    for word, place in _label_places(sheet, edges):
        label(axes, word.value, place)


def _edges(values: Floats) -> Floats:
    """Return the ends of each value's own cell: halfway to its neighbours."""
    if len(values) == 1:
        return np.array([values[0] - 0.5, values[0] + 0.5])
    middle = (values[1:] + values[:-1]) / 2
    return np.concatenate(
        [[1.5 * values[0] - 0.5 * values[1]], middle, [1.5 * values[-1] - 0.5 * values[-2]]]
    )


def _fill_verdicts(axes: Any, sheet: MapSheet, edges: tuple[Floats, Floats]) -> None:
    words = sheet.words.T
    _fill_words(axes, words, edges)
    for k, word in enumerate(VERDICTS):
        if INKS[word].hatch and (words == k).any():
            _hatch(axes, words == k, edges, INKS[word])


def _fill_words(axes: Any, words: Any, edges: tuple[Floats, Floats]) -> None:
    """Fill cells with the grounds of their verdicts, those that are masked left as they are."""
    from matplotlib.colors import ListedColormap

    fills = ListedColormap([INKS[word].fill for word in VERDICTS])
    axes.pcolormesh(*edges, words, cmap=fills, vmin=-0.5, vmax=len(VERDICTS) - 0.5)


def _hatch(axes: Any, held: Any, edges: tuple[Floats, Floats], ink: Ink) -> None:
    """Hatch the cells that hold, run by run, so that the hatching runs through."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    across, up = edges
    corners, codes = [], []
    for row, cells in enumerate(held):
        for first, last in _runs(cells):
            x0, x1, y0, y1 = across[first], across[last + 1], up[row], up[row + 1]
            corners += [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
            codes += [Path.MOVETO, *[Path.LINETO] * 3, Path.CLOSEPOLY]
    axes.add_patch(
        PathPatch(Path(corners, codes), fc="none", ec=ink.line, lw=0, hatch=ink.hatch, zorder=1.5)
    )


def _runs(cells: Any) -> list[tuple[int, int]]:
    """Return the first and last place of each run of cells that hold."""
    padded = np.concatenate([[False], cells, [False]]).astype(np.int8)
    change = np.flatnonzero(np.diff(padded))
    return [
        (int(a), int(b) - 1)
        for a, b in zip(change[::2].tolist(), change[1::2].tolist(), strict=True)
    ]


def _fill_values(figure: Any, axes: Any, sheet: MapSheet, edges: tuple[Floats, Floats]) -> None:
    from matplotlib.colors import LinearSegmentedColormap

    loud = sheet.show != "margin"
    ramp: Any = LinearSegmentedColormap.from_list("ramp", LOUD_RAMP if loud else CALM_RAMP, N=1024)
    ramp = ramp.with_extremes(bad=CALM if loud else PAPER)
    low, high = sheet.span
    shown = np.ma.masked_invalid(sheet.shown.T)
    filled = axes.pcolormesh(*edges, shown, cmap=ramp, vmin=low, vmax=high)
    words = sheet.words.T
    if loud:
        valued = np.isfinite(sheet.shown.T) | (words == VERDICTS.index(Verdict.SWINGS))
        _fill_words(axes, np.ma.masked_array(words, valued), edges)
    for k, word in enumerate(VERDICTS):
        ink = sheet.key_ink(word)
        if ink.hatch and (words == k).any():
            _hatch(axes, words == k, edges, ink)
    x0, y0, wide, high_share = axes.get_position().bounds
    beside = figure.add_axes((x0 + wide + 0.022, y0, 0.022, high_share))
    bar = figure.colorbar(filled, cax=beside)
    ticks = sheet.ticks(low, high, is_angle=sheet.is_angle, most=9)
    bar.set_ticks(ticks, labels=[sheet.tick(each, is_angle=sheet.is_angle) for each in ticks])
    letter(beside, SMALL)
    beside.set_title(sheet.unit_word(is_angle=sheet.is_angle), fontproperties=font(SMALL), pad=8)
    bar.outline.set_edgecolor(FRAME_LINE)


def _draw_borders(axes: Any, sheet: MapSheet, edges: tuple[Floats, Floats]) -> None:
    """Draw the border of what swings, and thinner those between other verdicts, along the cells."""
    from matplotlib.collections import LineCollection

    words = sheet.words.T
    across, up = edges
    swings = VERDICTS.index(Verdict.SWINGS)
    lines: dict[bool, list[Any]] = {True: [], False: []}
    for j, k in zip(*np.nonzero(words[:, 1:] != words[:, :-1]), strict=True):
        heavy = swings in (words[j, k], words[j, k + 1])
        lines[heavy].append([(across[k + 1], up[j]), (across[k + 1], up[j + 1])])
    for j, k in zip(*np.nonzero(words[1:] != words[:-1]), strict=True):
        heavy = swings in (words[j, k], words[j + 1, k])
        lines[heavy].append([(across[k], up[j + 1]), (across[k + 1], up[j + 1])])
    for heavy, width in ((False, 0.9), (True, 2.4)):
        axes.add_collection(
            LineCollection(
                lines[heavy], colors=INK, linewidths=width, capstyle="projecting", zorder=3
            )
        )


def _contours(axes: Any, sheet: MapSheet) -> None:
    """Draw lines of equal value, their values written on them."""
    values = sheet.shown.T
    low, high = sheet.span
    levels = sheet.ticks(low, high, is_angle=sheet.is_angle, most=9)
    if np.isnan(values).all() or min(values.shape) < 2 or not levels:
        return
    across, up = sheet.varied.overs
    lines = axes.contour(
        across.values,
        up.values,
        np.ma.masked_invalid(values),
        levels=levels,
        colors=INK,
        linewidths=0.9,
        zorder=2.5,
    )
    for level, segments in zip(lines.levels, lines.allsegs, strict=True):
        longest = max(segments, key=len, default=np.empty((0, 2)))
        if len(longest) > 2:
            words = sheet.tick(float(level), is_angle=sheet.is_angle)
            label(axes, words, _clearest(sheet, longest), size=SMALL)


def _clearest(sheet: MapSheet, line: Floats) -> Floats:
    """Return the point of a line (k, 2) that is farthest from the map's ends and from now."""
    away = []
    for k, over in enumerate(sheet.varied.overs):
        for at in (over.values[0], over.values[-1], sheet.now(over)):
            away.append(sheet.inches(k, 1.0) * np.abs(line[:, k] - at))
    point: Floats = line[np.min(away, axis=0).argmax()]
    return point


def label(axes: Any, words: str, at: Any, *, size: float = PLAIN) -> None:
    """Write words on a ground, on paper."""
    axes.text(
        *at,
        words,
        ha="center",
        va="center_baseline",
        fontproperties=font(size, bold=True),
        color=INK,
        zorder=6,
        parse_math=False,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 2.0, "alpha": 0.88},
    )


def _label_places(
    sheet: MapSheet, edges: tuple[Floats, Floats]
) -> list[tuple[Verdict, tuple[float, float]]]:
    """Return where each verdict's word goes: on the widest part of its ground that takes it."""
    words = sheet.words.T
    found = []
    for k, word in enumerate(VERDICTS):
        need = text_width(word.value, PLAIN, bold=True) / 72 + 0.15
        best, place = 0.0, None
        for row, cells in enumerate(words == k):
            for run in _runs(cells):
                for share in (0.5, 0.25, 0.75):
                    room, at = _room_at(sheet, edges, words == k, (row, run, share), need)
                    if room > best:
                        best, place = room, at
        if place is not None:
            found.append((word, place))
    return found


def _room_at(
    sheet: MapSheet,
    edges: tuple[Floats, Floats],
    held: Any,
    where: tuple[int, tuple[int, int], float],
    need: float,
) -> tuple[float, tuple[float, float]]:
    """Return how well words so wide go at a share of a run of a row, over 0 if they do."""
    row, (first, last), share = where
    low, high = float(edges[0][first]), float(edges[0][last + 1])
    x, y = low + share * (high - low), float(edges[1][row] + edges[1][row + 1]) / 2
    beside = sheet.inches(0, min(x - low, high - x)) / (need / 2) - 1
    column = min(int(first + share * (last + 1 - first)), last)
    room = min(beside, _room_above_and_below(sheet, edges[1], held, row, column))
    return room - 0.8 * _on_now(sheet, (x, y), need), (x, y)


def _room_above_and_below(sheet: MapSheet, up: Floats, held: Any, row: int, column: int) -> float:
    """Return the inches that a ground goes on above and below a cell, the lesser, at most 1."""
    first, last = next(run for run in _runs(held[:, column]) if run[0] <= row <= run[1])
    y = (up[row] + up[row + 1]) / 2
    room = min(sheet.inches(1, up[last + 1] - y), sheet.inches(1, y - up[first])) - 0.15
    return min(room, 1.0)


def _on_now(sheet: MapSheet, at: tuple[float, float], wide: float) -> bool:
    """Tell whether words so wide would lie on the lines of the scene as it is."""
    across, up = sheet.varied.overs
    return (
        sheet.inches(0, abs(at[0] - sheet.now(across))) < wide / 2
        or sheet.inches(1, abs(at[1] - sheet.now(up))) < 0.2
    )


def _mark_now(axes: Any, sheet: MapSheet) -> None:
    """Ring the scene as it is, where the map shows it, with lines to both axes."""
    across, up = sheet.varied.overs
    x, y = sheet.now(across), sheet.now(up)
    for line, at, over in ((axes.axvline, x, across), (axes.axhline, y, up)):
        if over.values[0] <= at <= over.values[-1]:
            line(at, color=PAPER, linewidth=3.0, zorder=3.5)
            line(at, color=INK, linewidth=1.2, linestyle=(0, (5, 3)), zorder=3.6)
    if not (across.values[0] <= x <= across.values[-1] and up.values[0] <= y <= up.values[-1]):
        return
    for size, color in ((15, PAPER), (11, INK), (6, PAPER)):
        axes.plot([x], [y], "o", markersize=size, color=color, zorder=7, clip_on=False)
    right, top = (
        (at - over.values[0]) / (over.values[-1] - over.values[0]) > 0.85
        for at, over in ((x, across), (y, up))
    )
    _tag_now(axes, (x, y), (-46 if right else 14, -17 if top else 14))


def _tag_now(axes: Any, at: tuple[float, float], away: tuple[float, float]) -> None:
    axes.annotate(
        "now",
        at,
        xytext=away,
        textcoords="offset points",
        ha="left",
        va="center_baseline",
        fontproperties=font(PLAIN, bold=True),
        color=PAPER,
        zorder=7,
        bbox={"facecolor": INK, "edgecolor": "none", "pad": 2.5},
    )


def draw_curve(axes: Any, sheet: MapSheet) -> None:
    """Draw variants over one dimension: what is shown, on the grounds of the verdicts."""
    over = sheet.varied.overs[0]
    edges = _edges(over.values)
    for k, word in enumerate(VERDICTS):
        ink = sheet.key_ink(word)
        for first, last in _runs(sheet.words == k):
            ends = (edges[first], edges[last + 1])
            axes.axvspan(*ends, fc=ink.fill, ec="none")
            if ink.hatch:
                axes.axvspan(*ends, fc="none", ec=ink.line, lw=0, hatch=ink.hatch)
    if sheet.show == "verdict":
        axes.set_ylim(0, 1)
    else:
        _draw_lines(axes, sheet, over)
    low, high = axes.get_ylim()
    for k, word in enumerate(VERDICTS):
        for first, last in _runs(sheet.words == k):
            wide = sheet.inches(0, edges[last + 1] - edges[first])
            if wide >= text_width(word.value, PLAIN, bold=True) / 72 + 0.1:
                x = (edges[first] + edges[last + 1]) / 2
                label(axes, word.value, (x, low + 0.94 * (high - low)))
    now = sheet.now(over)
    if over.values[0] <= now <= over.values[-1]:
        axes.axvline(now, color=PAPER, linewidth=4.0, zorder=3.5)
        axes.axvline(now, color=INK, linewidth=1.6, linestyle=(0, (5, 3)), zorder=3.6)
        _tag_now(axes, (now, low + 0.86 * (high - low)), (-16, 0))


def _draw_lines(axes: Any, sheet: MapSheet, over: Over) -> None:
    outcomes = sheet.varied.outcomes
    lines = {
        "angle": {"": np.where(outcomes.swings, 0.0, outcomes.angle)},
        "short": {"": outcomes.short},
        "margin": {"hinge margin": outcomes.hinge_margin, "strike margin": outcomes.strike_margin},
    }[sheet.show]
    whole = [(0, len(over.values) - 1)]
    runs = whole if sheet.show == "margin" else _runs_alike(sheet.words)
    for k, (name, values) in enumerate(lines.items()):
        for first, last in runs:
            at = slice(first, last + 1)
            dashed: Any = (0, (7, 2.5)) if k else "-"
            for color, width, dash in ((PAPER, 6.5, "-"), (INK, 3.0, dashed)):
                axes.plot(
                    over.values[at],
                    values[at],
                    color=color,
                    lw=width,
                    ls=dash,
                    zorder=5 + k,
                    marker="o" if first == last else "",
                    markersize=width * 1.6,
                )
        if name:
            _name_line(axes, name, over.values, values, above=k == 0)
    known = [value for values in lines.values() for value in values[np.isfinite(values)].tolist()]
    least, most = min(known, default=0.0), max(known, default=1.0)
    least = min(least, 0.0)
    axes.set_ylim(least * 1.08, max(most * 1.25, least + 1e-3))


def _runs_alike(words: Any) -> list[tuple[int, int]]:
    """Return the first and last place of each run of one verdict."""
    change = np.flatnonzero(np.diff(words)) + 1
    starts, ends = [0, *change], [*(change - 1), len(words) - 1]
    return [(int(a), int(b)) for a, b in zip(starts, ends, strict=True)]


def _name_line(axes: Any, name: str, across: Floats, values: Floats, *, above: bool) -> None:
    """Write a line's name beside it, on the side that it leans away from."""
    k = len(across) // 12
    lean = values[min(k + 1, len(values) - 1)] - values[k]
    above = above if abs(lean) < 1e-9 else lean < 0
    axes.annotate(
        name,
        (across[k], values[k]),
        xytext=(6, 9 if above else -9),
        textcoords="offset points",
        ha="left",
        va="bottom" if above else "top",
        fontproperties=font(PLAIN, bold=True),
        color=INK,
        zorder=8,
        bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 2.0, "alpha": 0.88},
    )


def letter(axes: Any, size: float) -> None:
    """Write an axis's ticks in the pictures' own letters."""
    for label in (*axes.get_xticklabels(), *axes.get_yticklabels()):
        label.set_fontproperties(font(size))
        label.set_color(INK)
    axes.tick_params(color=QUIET, length=5, width=0.9)
