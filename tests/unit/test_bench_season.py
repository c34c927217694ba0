"""Margins across the year."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.assembly import assemble
from swingcheck.bench.materials import MATERIALS, material
from swingcheck.bench.season import MONTHS, SeasonMargins, moisture_content, season_margins
from swingcheck.model import Delivered, Finish, Grain, Scene, Season
from swingcheck.scenefile import read_scene
from swingcheck.swing.margins import closed_margins
from tests.factory import changed, plain_scene
from tests.openings import random_opening
from tests.scene_files import SCENES

BARE = Finish(slab=0, jamb=0, film=0.0015)

# An invented house by the sea, and the same half a year on.
AIR = Season(
    temperatures=(60.0,) * 12,
    humidities=(40.0, 40.0, 45.0, 50.0, 55.0, 65.0, 75.0, 80.0, 70.0, 60.0, 50.0, 40.0),
    moisture=7.7,
)
TURNED = Season(
    temperatures=AIR.temperatures,
    humidities=(AIR.humidities or ())[6:] + (AIR.humidities or ())[:6],
    moisture=7.7,
)


def closet(**changes: object) -> Scene:
    base = {"season": AIR, "finish": BARE, "slab__material": "red oak"}
    return plain_scene(**(base | changes))


def year(scene: Scene) -> SeasonMargins:
    return season_margins(scene, closed_margins(assemble(scene)))


def test_a_solid_slab_gains_its_whole_width_by_how_it_was_sawn() -> None:
    season = year(closet())
    august = season.months[7]
    assert august.month == "August"
    wet = moisture_content(60.0, 80.0)
    gained = 29.875 * 0.00369 * (wet - 7.7)
    assert august.moisture == pytest.approx(wet)
    assert august.gained == pytest.approx(gained)
    margin = closed_margins(assemble(closet())).strike[0]
    assert august.strike == pytest.approx((margin - gained,) * 3)
    assert season.tightest == "August"
    # What comes off to open the margin no longer swells.
    swells = gained / 29.875
    assert season.leave == pytest.approx(1 / 16 + swells * (29.875 - season.leave + margin))
    flat, quarter = (year(closet(slab__grain=grain)) for grain in Grain)
    share = flat.months[7].gained / quarter.months[7].gained
    assert share == pytest.approx(0.00369 / 0.00158)
    rise = flat.months[7].moisture - 7.7
    assert flat.through == pytest.approx(1.375 * 0.00158 * rise)
    assert quarter.through == pytest.approx(1.375 * 0.00369 * rise)


def test_slabs_of_a_pair_boards_and_firs_move_as_they_do() -> None:
    pair = changed(read_scene(SCENES / "dining_room.toml"), season=AIR, finish=BARE)
    assert pair.inactive is not None
    alone, both = year(changed(pair, inactive=None)), year(pair)
    assert both.months[7].gained == pytest.approx(2 * alone.months[7].gained)
    august = both.months[7]
    assert august.strike == pytest.approx([gap - august.gained for gap in both.unpainted])
    swells = alone.months[7].gained / alone.moving
    opened = both.leave - min(both.unpainted)
    assert both.leave == pytest.approx(both.least + swells * (2 * both.moving - opened))
    season = year(closet(slab__material="MDF"))
    assert (season.moving, season.board, season.species) == (0.0, 29.875, None)
    assert season.leave == pytest.approx(season.least + season.months[7].gained)
    woods = {name: each for name, each in MATERIALS.items() if each.kind != "panel"}
    unmoved = {name for name, each in woods.items() if each.radial is None}
    firs = {name for name in unmoved if name.endswith(" fir")}
    assert len(firs) == 5 and unmoved - firs == {"sapele"}
    assert {woods[name].kind for name in firs} == {"softwood"}
    assert year(closet(slab__material="noble fir")).species is None
    khaya = material("african mahogany")
    assert khaya is not None and khaya.name == "khaya"
    assert material("steel") is None and material("oak") is None


@pytest.mark.parametrize(
    ("construction", "strip", "moving"),
    [
        ("solid", None, 29.875),
        ("stile and rail", None, 9.0),
        ("stile and rail", 5.0, 10.0),
        ("hollow core", None, 3.0),
        ("particleboard core", 1.25, 2.5),
        ("hollow metal", None, 0.0),
        ("bamboo lattice", None, 29.875),
    ],
)
def test_construction_says_how_much_of_the_width_moves(
    construction: str, strip: float | None, moving: float
) -> None:
    delivered = None if strip is None else Delivered(width=30.0, height=80.0, edge_strip=strip)
    season = year(closet(slab__construction=construction, slab__delivered=delivered))
    assert season.moving == moving
    assert (season.species is None) is (moving == 0.0)
    has_core = construction in ("hollow core", "particleboard core")
    assert season.board == (29.875 - moving if has_core else 0.0)
    wood = 0.00369 * moving * (season.months[7].moisture - 7.7)
    # August at 80 %: board at 12.5 % by the booklet, over 7.7.
    core = season.board * ((12.5 - 12) / 4000 + (12 - 7.7) / 3000)
    assert season.months[7].gained == pytest.approx(wood + core)


def test_the_month_in_which_the_margin_closes_and_what_to_leave() -> None:
    season = year(closet(slab__width=(29.9375,)))
    under = [month.month for month in season.months if min(month.strike) <= 0]
    assert season.closes == under[0]
    assert set(under) < set(MONTHS)
    short = [month.month for month in season.months if min(month.strike) < season.least]
    assert season.falls_short == short[0]
    # Left as told, the tightest month keeps just the least margin.
    width = 29.9375 - (season.leave - min(season.unpainted))
    again = year(closet(slab__width=(width,)))
    tight = min(min(month.strike) for month in again.months)
    assert tight == pytest.approx(season.least, abs=1e-9)
    assert again.closes is None
    turned = year(closet(season=TURNED, slab__width=(29.9375,)))
    straight = year(closet(slab__width=(29.9375,)))
    assert straight.closes is not None
    place = MONTHS.index(straight.closes)
    assert turned.closes == MONTHS[(place - 6) % 12]


@given(st.integers(0, 10_000), st.integers(0, 4), st.integers(0, 4))
def test_paint_comes_off_both_margins_on_both_faces(seed: int, slab: int, jamb: int) -> None:
    scene = changed(random_opening(seed), season=AIR)
    painted, bare = (
        year(changed(scene, finish=finish))
        for finish in (Finish(slab=slab, jamb=jamb, film=0.002), BARE)
    )
    assert painted.film == pytest.approx(0.002 * (slab + jamb))
    for with_paint, without in zip(painted.months, bare.months, strict=True):
        for side in ("hinge", "strike"):
            before = getattr(without, side)
            assert getattr(with_paint, side) == pytest.approx(
                tuple(margin - painted.film for margin in before)
            )
    swells = max(month.gained for month in bare.months) / bare.moving
    assert painted.leave == pytest.approx(bare.leave + painted.film / (1 + swells))


def test_rest_and_what_was_not_told_are_assumed_and_said() -> None:
    rest = year(closet(season=Season(month=3)))
    assert rest.months[2].gained == 0.0 and rest.now == rest.months[2].moisture
    assert "season.moisture" not in {item.key for item in rest.assumed}
    assert year(closet(season=None, finish=None, slab__width=(30.5,))).closes == "January"
    for humidity, built, is_past in (
        (85.0, "solid", True),
        (85.0, "hollow metal", False),
        (60.0, "solid", False),
    ):
        air = Season(temperatures=(60.0,) * 12, humidities=(humidity,) * 12, moisture=8.0)
        assert year(closet(season=air, slab__construction=built)).past_valid is is_past
    scene = plain_scene(slab__construction="stile and rail")
    keys = {item.key for item in year(scene).assumed}
    assert keys == {
        "season.temperatures",
        "season.humidities",
        "season.moisture",
        "season.least",
        "finish",
        "slab.delivered.edge_strip",
    }
    told = Season(temperatures=AIR.temperatures, humidities=AIR.humidities, month=1, least=0.0)
    assert year(closet(season=told)).assumed == ()
