"""Cuts and marks, held to the margins that a check of the finished slab finds."""

from __future__ import annotations

from dataclasses import replace
from math import pi, radians, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from swingcheck.assembly import assemble, bare_assembly
from swingcheck.assembly.ground import floor_height, laid_height
from swingcheck.assembly.slab import slab_blank, width_at
from swingcheck.bench.concerns import Concern
from swingcheck.bench.ripping import Ripping, finished_scene, ripping
from swingcheck.bench.sizing import least_floor_margin, nominal_slab, on_slab, straight_under
from swingcheck.model import (
    Assumed,
    Carpet,
    Delivered,
    Floor,
    Scene,
    Share,
    Threshold,
    Wanted,
    Warp,
)
from swingcheck.swing.margins import closed_margins
from tests.factory import SQUARE, bevel, changed, plain_scene, rounded
from tests.factory import square_scene as square
from tests.openings import random_opening

seeds = st.integers(0, 10_000)


def concerns(cuts: Ripping) -> set[tuple[Concern, str]]:
    """Return what is warned of, and where."""
    return {(warned.concern, warned.place) for warned in cuts.warned}


def bowed(scene: Scene) -> bool:
    """Tell whether a leg or the width was measured at more than its two ends."""
    opening = scene.opening
    legs = (opening.hinge_leg, opening.strike_leg)
    lists = [opening.width, *(s for leg in legs for s in (leg.plumb, leg.cross, leg.twist))]
    return any(len(stations) > 2 for stations in lists)


# ---------------------------------------------------------------- the closed slab


GROUND = (
    {},
    {"floor": Floor(profile=(0.0, 0.2, 0.1, 0.3), out=0.005)},
    {"hinge__rise": 0.75, "floor": Floor(out=0.02, across=-0.01)},
    {"threshold": Threshold(width=4.0, height=0.5, slope=0.4, edge=1.0)},
    {"carpet": Carpet(thickness=0.5, edge=8.0, reach=14.0)},
)


@given(seeds, st.sampled_from(GROUND), st.floats(0.1, pi))
def test_least_floor_margin_is_what_stepping_the_slab_finds(
    seed: int, ground: dict[str, object], until: float
) -> None:
    scene = changed(random_opening(seed), **ground)
    hung = bare_assembly(scene)
    width, down = width_at(scene.slab, 0.0), scene.slab.height[0]
    acrosses = np.linspace(0.0, width, 17) if scene.threshold or scene.carpet else (0.0, width)
    backs = (0.0, scene.slab.thickness)
    bottom = np.array([on_slab(hung, across, back, down) for across in acrosses for back in backs])
    turns = [hung.axis.move(float(angle)) for angle in np.linspace(0.0, until, 361)]
    x, y, z = np.concatenate([bottom @ turn.T + shift for turn, shift in turns]).T
    laid = np.array([laid_height(scene, float(each)) for each in y])
    least = float((z - floor_height(scene, x, y) - laid).min())
    found = least_floor_margin(hung, width, down, until)
    assert found <= least + 1e-12
    assert found == pytest.approx(least, abs=5e-3 if scene.threshold or scene.carpet else 3e-4)


# ---------------------------------------------------------------- straight cuts


@given(st.lists(st.floats(29.0, 31.0), min_size=1, max_size=9))
def test_straight_cut_is_the_best_that_a_linear_program_finds(values: list[float]) -> None:
    places = [10.0 * k for k in range(len(values))]
    slope, start = straight_under(list(zip(places, values, strict=True)))
    above = [value - start - slope * place for place, value in zip(places, values, strict=True)]
    assert min(above) >= -1e-9
    # Least t with 0 <= value - a - b place <= t.
    rows = [[1.0, place, 0.0] for place in places] + [[-1.0, -place, -1.0] for place in places]
    bounds = values + [-value for value in values]
    best = linprog([0.0, 0.0, 1.0], A_ub=rows, b_ub=bounds, bounds=[(None, None)] * 3)
    assert max(above) == pytest.approx(best.fun, abs=1e-7)


# ---------------------------------------------------------------- wanted margins


@given(seeds, st.sampled_from([1 / 16, 1 / 8, 3 / 16]))
def test_a_wanted_strike_margin_is_left_and_nowhere_less(seed: int, margin: float) -> None:
    scene = changed(random_opening(seed), wanted=Wanted(strike=margin, bottom=0.5))
    # How a warped slab is turned shut follows from its width, by next to nothing.
    within = 1e-4 if seed % 3 == 0 else 1e-9
    if seed % 3 == 0:
        scene = changed(scene, slab__warp=Warp(bow=0.25, twist=-0.125))
    cuts = ripping(scene)
    found = closed_margins(assemble(finished_scene(scene, cuts)))
    assert cuts.strike_run[0] == pytest.approx(margin, abs=within)
    # Between two measured heights a twist that changes makes the margin bend, by next to nothing.
    assert min(found.strike) >= margin - 1e-6 - within
    assert found.strike == pytest.approx(cuts.margins.strike, abs=1e-12)
    assert found.head == pytest.approx(cuts.margins.head, abs=1e-12)
    if not bowed(scene) and len(cuts.finished.width) == 2:
        # Straight legs: the taper leaves the margin at both ends.
        assert found.strike[0] == pytest.approx(margin, abs=1e-4)
        assert found.strike[2] == pytest.approx(margin, abs=1e-4)


@given(seeds)
def test_a_wanted_bottom_margin_is_left_through_the_swing(seed: int) -> None:
    scene = changed(random_opening(seed), wanted=Wanted(bottom=0.375))
    cuts = ripping(scene)
    assert cuts.over_floor == pytest.approx(0.375, abs=1e-9)
    assert cuts.margins.head[1] == pytest.approx(
        scene.slab.head_margin, abs=scene.shop.rip_tolerance + 2e-3
    )


def test_opening_out_of_parallel_tapers_the_strike_edge() -> None:
    scene = square(
        opening__width=(30.125, 30.0),
        slab__delivered=Delivered(width=30.0, height=80.0),
        wanted=Wanted(strike=1 / 8),
    )
    cuts = ripping(scene)
    # By similar triangles: the leg gains 1/8 in over 80 1/2 in; the slab's top
    # hangs 1/8 in under the head and its bottom 79 7/8 in under it.
    top, bottom = (30.125 - 1 / 8 * down / 80.5 - 3 / 16 for down in (0.125, 79.875))
    assert cuts.finished.width == pytest.approx((top, bottom))
    strike = cuts.edges[1]
    assert strike.is_tapered
    assert not cuts.edges[0].is_tapered
    assert [mark.down for mark in strike.marks] == [0.0, 80.0]
    # The marks are at the delivered slab's ends, on the finished edge's line.
    beyond = bottom + (bottom - top) * 0.25 / 79.75
    assert strike.marks[1].left == pytest.approx(beyond)
    assert strike.marks[0].left == pytest.approx(top)


def test_tapers_bows_coverings_and_rising_floors_are_kept_clear_of() -> None:
    slight = plain_scene(opening__width=(30.125, 30.125 - 1 / 80), wanted=Wanted(strike=1 / 8))
    assert len(ripping(slight).finished.width) == 1
    assert ripping(slight).strike_run[0] == pytest.approx(1 / 8)
    scene = plain_scene(opening__width=(30.125, 30.0, 30.125), wanted=Wanted(strike=1 / 8))
    cuts = ripping(scene)
    assert cuts.finished.width == pytest.approx((cuts.finished.width[0],))
    assert cuts.strike_run == pytest.approx((1 / 8, 1 / 4), abs=1e-3)
    assert (Concern.UNEVEN, "strike edge") in concerns(cuts)
    scene = plain_scene(
        floor=Floor(covering=0.5, out=0.01), wanted=Wanted(bottom=0.25), swing__wanted=pi / 2
    )
    cuts = ripping(scene)
    assert cuts.over_floor == pytest.approx(0.25)
    # At 90 degrees the strike edge stands farthest out over the rise; by the
    # axis at y = 5/8 and the slab's width beyond it.
    assert cuts.margins.bottom[0] > 0.25 + 0.01 * 29.0


def test_top_is_scribed_to_a_head_out_of_level() -> None:
    scene = plain_scene(
        opening__height=(80.5, 80.25), slab__delivered=Delivered(width=30.0, height=80.0)
    )
    cuts = ripping(scene)
    top, bottom = cuts.ends
    # The head falls from leg to leg; the strike edge stands a width past the hinge margin.
    fall = 0.25 * (29.875 + cuts.margins.hinge[0]) / 30.125
    assert top.off == pytest.approx((0.0, fall), abs=1e-9)
    assert top.left == pytest.approx((80.0, 80.0 - fall))
    assert bottom.off == pytest.approx((0.25, 0.25))
    assert cuts.finished.height == pytest.approx((79.75, 79.75 - fall))
    assert cuts.margins.head == pytest.approx((1 / 8, 1 / 8), abs=1e-3)
    # Falling the other way, the hinge side is what comes off.
    other = ripping(changed(scene, opening__height=(80.25, 80.5))).ends[0]
    assert other.off == pytest.approx((fall, 0.0), abs=1e-9)
    told = changed(scene, slab__height=(79.75, 79.625))
    assert ripping(told).finished.height == (79.75, 79.625)


# ---------------------------------------------------------------- marks


@given(
    st.floats(0.0, 0.4),
    st.sampled_from([SQUARE, bevel(2), bevel(3.58), bevel(-2), rounded(4.0)]),
    st.sampled_from([SQUARE, bevel(2), bevel(-3)]),
    st.sampled_from(list(Share)),
)
def test_running_marks_add_up_and_the_slab_is_that_wide(
    over: float, hinge: object, strike: object, share: Share
) -> None:
    scene = plain_scene(slab__hinge_edge=hinge, slab__strike_edge=strike)
    delivered = Delivered(width=30.0 + over, height=80.0, share=share)
    scene = changed(scene, slab__delivered=delivered)
    cuts = ripping(scene)
    left = delivered.width
    for cut in cuts.edges:
        assert all(mark.off >= -1e-12 for mark in cut.marks)
        assert [mark.left for mark in cut.marks] == pytest.approx(
            [left - mark.off for mark in cut.marks]
        )
        left = cut.marks[0].left
    assert left == pytest.approx(29.875)
    # The narrow face, measured on the solid.
    blank = slab_blank(cuts.finished).vertices
    on_narrow = blank[np.abs(blank[:, 1] + cuts.finished.thickness) < 1e-9]
    measured = float(np.ptp(on_narrow[:, 0]))
    assert cuts.edges[1].marks[0].narrow == pytest.approx(measured)
    assert cuts.narrow_width == pytest.approx((measured,))


def test_marks_of_tapered_slabs_at_delivered_and_told_places() -> None:
    scene = square(
        opening__height=(80.5, 80.25),
        slab__width=(29.875, 29.75),
        slab__delivered=Delivered(width=30.0, height=80.0),
    )
    cuts = ripping(scene)
    fall, long = cuts.ends[0].off[1], cuts.finished.height[1]
    high, low = (29.875 + fall / 8 / long, 29.875 - (80.0 - fall) / 8 / long)
    assert fall > 0.2
    assert [mark.left for mark in cuts.edges[1].marks] == pytest.approx([high, low])
    scene = plain_scene(
        slab__width=(29.875, 29.8, 29.75), slab__delivered=Delivered(width=30.0, height=80.0)
    )
    marks = ripping(scene).edges[1].marks
    assert [mark.left for mark in marks] == pytest.approx([29.875, 29.8, 29.75])
    assert [mark.down for mark in marks] == pytest.approx([0.0, 79.75 / 2, 79.75])


def test_a_wider_stop_side_and_shares_off_the_two_edges() -> None:
    leaning = square(
        slab__strike_edge=bevel(-3), slab__delivered=Delivered(width=29.875, height=80.0)
    )
    cuts, taken = ripping(leaning), 1.375 * tan(radians(3))
    assert cuts.finished.width == pytest.approx((29.875 - taken,))
    assert (Concern.SHORT, "width") in concerns(cuts)
    assert nominal_slab(changed(leaning.slab, width=(29.99,)), "in").width == 32.0
    base = square()

    def off(**told: object) -> list[float]:
        delivered = replace(Delivered(width=30.125, height=80.0), **told)
        cuts = ripping(changed(base, slab__delivered=delivered))
        return [cut.marks[0].off for cut in cuts.edges]

    assert off() == [0.125, 0.125]
    assert off(share=Share.HINGE) == [0.25, 0.0]
    assert off(share=Share.STRIKE) == [0.0, 0.25]
    assert off(hinge_off=0.0625) == [0.0625, 0.1875]
    scene = square(slab__width=(30.0, 29.75), slab__delivered=Delivered(width=30.5, height=79.75))
    hinge, strike = ripping(scene).edges
    # 1/2 in at the top and 3/4 in at the bottom: 5/8 in the mean.
    assert [mark.off for mark in hinge.marks] == pytest.approx([5 / 16, 5 / 16])
    assert [mark.off for mark in strike.marks] == pytest.approx([3 / 16, 7 / 16])
    assert not hinge.is_tapered and strike.is_tapered


# ---------------------------------------------------------------- what was delivered


def test_short_slabs_open_the_margin_and_left_out_sizes_are_cut_for_the_usual_ones() -> None:
    told = Delivered(width=29.75, height=79.5)
    scene = plain_scene(slab__delivered=told)
    cuts = ripping(scene)
    assert concerns(cuts) >= {(Concern.SHORT, "width"), (Concern.SHORT, "height")}
    assert cuts.is_short
    assert cuts.finished.width == (29.75,)
    assert cuts.finished.height == (79.5, 79.5)
    full = ripping(plain_scene())
    assert min(cuts.margins.strike) == pytest.approx(min(full.margins.strike) + 0.125)
    assert min(cuts.margins.bottom) == pytest.approx(min(full.margins.bottom) + 0.25)
    left_out = tuple(Assumed(key=key, value="", why="") for key in ("slab.width", "slab.height"))
    cuts = ripping(plain_scene(assumed=left_out))
    assert cuts.strike_run[0] == pytest.approx(1 / 8)
    assert cuts.over_floor == pytest.approx(1 / 2)
    assert {"wanted.strike", "wanted.bottom"} <= {item.key for item in cuts.assumed}
    told = Delivered(width=30.0, height=80.0, hinge_off=0.25)
    assert ripping(plain_scene(slab__delivered=told)).edges[0].marks[0].off == pytest.approx(0.125)


def test_nothing_said_takes_the_smallest_that_is_sold() -> None:
    cuts = ripping(plain_scene())
    assert (cuts.delivered.width, cuts.delivered.height) == (30.0, 80.0)
    assert [item.key for item in cuts.assumed] == ["slab.delivered"]
    for size, sold in {
        # German flush leaves: DIN 18101 in an architects' encyclopedia (read); the rest is common
        # practice in Great Britain, no source.
        (834, 1972): (834, 1972),
        (820, 2090): (834, 2097),
        (762, 1981): (762, 1981),
        (755, 1975): (762, 1981),
        (726, 2040): (726, 2040),
        (1084, 2200): (1084, 2200),
    }.items():
        told = changed(plain_scene().slab, width=(size[0] / 25.4,), height=(size[1] / 25.4,) * 2)
        metric = nominal_slab(told, "mm")
        assert (metric.width * 25.4, metric.height * 25.4) == pytest.approx(sold)
    wide = changed(plain_scene(), slab__width=(50.25,)).slab
    assert nominal_slab(wide, "in").width == 51.0


def delivered(width: float, height: float = 79.75, **told: object) -> dict[str, Any]:
    """Return what was delivered, as a change to the scene."""
    return {"slab__delivered": Delivered(width=width, height=height, **told)}


CORE = {"slab__construction": "hollow core"}
FRAMED = {"slab__construction": "stile and rail"}
LEANS = {"slab__hinge_edge": bevel(5), **delivered(29.875 + 3 / 8)}
RATED = FRAMED | delivered(30.0, 81.0, share=Share.STRIKE) | {"site__fire_rated": True}
CUTS = [  # changes, what is warned of and where, and what is not
    # 3/16 in on the wide face bears in a hollow core's strip, and what 5 degrees add on the
    # narrow one does not.
    (CORE | LEANS, "past hinge edge", ""),
    (FRAMED | LEANS, "", "past hinge edge"),
    # A told strip of 1/4 in against 5/16 in off each edge; 15/16 in less that leaves 5/8 in, and
    # a No. 9 screw is 3/4 in long.
    (CORE | delivered(30.5, edge_strip=0.25), "past hinge edge", ""),
    (CORE | delivered(30.5, edge_strip=0.9375), "thin hinge edge", "past hinge edge"),
    (CORE | delivered(30.5, edge_strip=1.125), "", "any"),
    (RATED, "unlike stiles; listed strike edge; listed bottom", ""),
    (delivered(30.0, 80.0, hinge_off=0.25), "told hinge edge", ""),
]
BEARS = {  # what comes off the width, and where it is then past the construction
    "hollow core": (0.5, "strike edge"),
    "particleboard core": (0.5, "hinge edge"),
    "stile and rail": (0.75, "hinge edge"),
    "hollow metal": (0.125, "strike edge"),
    "mineral core": (0.125, "hinge edge"),
}
PAST = "past hinge edge; past strike edge"
for _built, (_over, _place) in BEARS.items():
    _more, _as_told = delivered(29.875 + _over + 1 / 32), delivered(29.875)
    CUTS.append(({"slab__construction": _built} | _more, f"past {_place}", ""))
    CUTS.append(({"slab__construction": _built} | _as_told, "", PAST))


@pytest.mark.parametrize(("changes", "warned", "quiet"), CUTS)
def test_what_a_slab_does_not_bear_is_warned_of(
    changes: dict[str, Any], warned: str, quiet: str
) -> None:
    cuts = ripping(square(**changes))
    found = {f"{concern.name.lower()} {place}" for concern, place in concerns(cuts)}
    assert set(filter(None, warned.split("; "))) <= found
    assert not (found if quiet == "any" else found & set(quiet.split("; ")))
