"""Measurements changed one at a time, over what a file says or leaves out."""

from __future__ import annotations

import pickle
from dataclasses import replace
from math import radians
from pathlib import Path

import pytest

from swingcheck.errors import SceneError
from swingcheck.model import EdgeShape, Scene
from swingcheck.scenefile import read_scene

PLAIN = '[opening]\nwidth = "30 1/8"\nheight = "80 1/2"\n'
FULL = """
stop = "none"
[opening]
width = ["30 1/8", 30, 30]
height = ["80 1/2", 80]
rabbet = "1 1/2"
[slab]
strike_edge = "square"
hinge_edge = { radius = 3 }
[hinge]
jamb = { tops = [7, 38, 68], setback = "5/16" }
slab = { tops = [7, 38, 68], setback = ["1/4", "1/4", "1/4"] }
[[obstacle]]
name = "shelf"
corner = [0, 40, 60]
size = [30, 12, 1]
"""


def changed(text: str, *settings: str) -> Scene:
    """Return a scene with settings written ``key=value``."""
    pairs = [setting.partition("=")[::2] for setting in settings]
    return read_scene(text, settings=[(key, value) for key, value in pairs])


def refused(text: str, *settings: str) -> list[tuple[str, str, str]]:
    """Return key, expected and hint of each fault of a scene with settings."""
    with pytest.raises(SceneError) as caught:
        changed(text, *settings)
    return [(each.key, each.expected, each.hint) for each in caught.value.problems]


@pytest.mark.parametrize("text", [PLAIN, FULL], ids=["left out", "given"])
def test_a_measurement_is_changed_wherever_it_stands(text: str) -> None:
    scene = changed(
        text,
        "title=Hall",
        "slab.thickness=1 1/4",
        "slab.width=29 1/2 in",
        'slab.height="79 1/4"',
        "hinge.slab.setback=3/16",
        "opening.hinge_leg.twist=2",
        "opening.depth=5",
        "site.exit=true",
        "shop.tolerance.rip=1/32",
    )
    assert scene.title == "Hall"
    assert (scene.slab.thickness, scene.slab.width) == (1.25, (29.5,))
    assert scene.slab.height == (79.25, 79.25)
    assert scene.hinge.slab.setbacks == (0.1875,) * scene.hinge.count
    assert scene.opening.hinge_leg.twist == (radians(2),)
    assert scene.opening.depth == 5.0
    assert scene.site.exit
    assert scene.shop.rip_tolerance == 1 / 32
    keys = {each.key for each in scene.assumed}
    assert not keys & {"slab.thickness", "slab.width", "hinge.slab.setback", "opening.depth"}


def test_one_place_of_a_list_is_changed() -> None:
    scene = changed(
        FULL, "hinge.slab.setback[1]=5/16", "opening.width[0]=30", "obstacle[0].size[1]=3"
    )
    assert scene.hinge.slab.setbacks == (0.25, 0.3125, 0.25)
    assert scene.opening.width == (30.0, 30.0, 30.0)
    assert scene.obstacles[0].size == (30.0, 3.0, 1.0)
    assert changed(FULL, "obstacle[0].name=ledge").obstacles[0].name == "ledge"


def test_one_place_of_a_single_value_is_set_apart_from_the_rest() -> None:
    scene = changed(FULL, "hinge.jamb.setback[2]=3/8", "opening.rabbet[1]=1 5/8")
    assert scene.hinge.jamb.setbacks == (0.3125, 0.3125, 0.375)
    assert scene.opening.rabbet.hinge == (1.5, 1.625, 1.5)


def test_one_place_of_what_was_left_out_is_set_apart_from_the_usual() -> None:
    scene = changed(
        PLAIN,
        "hinge.slab.setback[1]=5/16",
        "hinge.slab.setback[2]=3/8",
        "hinge.jamb.depth[0]=0.08",
        "opening.hinge_leg.twist[2]=1",
        "slab.height[1]=79",
        "opening.width[1]=30",
        "hinge.jamb.tops[0]=8",
    )
    assert scene.hinge.slab.setbacks == (0.25, 0.3125, 0.375)
    assert scene.hinge.jamb.depths == (0.08, 0.097, 0.097)
    assert scene.opening.hinge_leg.twist == (0.0, 0.0, radians(1))
    assert scene.slab.height == (79.875, 79.0)
    assert scene.opening.width == (30.125, 30.0, 30.125)
    assert scene.hinge.jamb.tops[0] == 8.0
    assert scene.hinge.jamb.tops[1:] == changed(PLAIN).hinge.jamb.tops[1:]
    assert "hinge.slab.setback" in {each.key for each in scene.assumed}


def test_a_whole_list_or_table_is_set() -> None:
    scene = changed(
        PLAIN,
        "opening.width=[30 1/8, 30, 30 1/8]",
        'slab.height=["79 1/2", "79"]',
        "slab.strike_edge={bevel=2}",
        "obstacle=[{corner=[0, 40, 0], size=[1, 1, 1]}]",
        "lock={}",
    )
    assert scene.opening.width == (30.125, 30.0, 30.125)
    assert scene.slab.height == (79.5, 79.0)
    assert scene.slab.strike_edge.bevel == radians(2)
    assert len(scene.obstacles) == 1
    assert scene.lock is not None


def test_words_and_tables_give_way_to_each_other() -> None:
    edges = changed(FULL, "slab.strike_edge.bevel=2", "slab.hinge_edge.bevel=1/8 in 2").slab
    assert edges.strike_edge.bevel == radians(2)
    assert edges.hinge_edge.shape is EdgeShape.BEVEL
    assert changed(FULL, "slab.hinge_edge=square").slab.hinge_edge.shape is EdgeShape.SQUARE
    stop = changed(FULL, "stop.projection=3/8").stop
    assert stop is not None
    assert stop.projection == 0.375
    assert changed(PLAIN, "stop=none").stop is None
    rabbet = changed(FULL, "opening.rabbet.hinge=1 5/8").opening.rabbet
    assert (rabbet.hinge, rabbet.strike) == ((1.625,), (1.5,))


def test_the_last_setting_of_a_key_counts() -> None:
    assert changed(PLAIN, "slab.width=20", "slab.width=21").slab.width == (21.0,)
    assert changed(
        PLAIN, "slab.strike_edge.bevel=2", "slab.strike_edge=square"
    ).slab.strike_edge == (changed(PLAIN).slab.strike_edge)


def test_a_setting_mends_a_fault_of_the_file() -> None:
    assert changed(PLAIN + "depth = 'deep'\n", "opening.depth=4").opening.depth == 4.0
    assert changed("", "opening.width=30", "opening.height=80").opening.width == (30.0,)


def test_the_unit_is_set_too() -> None:
    scene = changed("[opening]\nwidth = 765\nheight = 2040\n", "unit=mm", "slab.width=760")
    assert scene.slab.width == (760 / 25.4,)


REFUSED = [
    ("slab.setback=5/16", "--set slab.setback", "no key of a scene", "hinge.slab.setback"),
    ("slab.widht=29", "--set slab.widht", "no key of a scene", "slab.width"),
    ("titel=x", "--set titel", "no key of a scene", "title"),
    ("hinge.jamb=", "--set hinge.jamb", "a table", ""),
    ("xyzzy=1", "--set xyzzy", "no key of a scene", ""),
    ("slab.width.top=1", "--set slab.width.top", "no key of a scene", ""),
    ("slab[0].width=1", "--set slab[0].width", "no key of a scene", "slab.width"),
    ("slab.thickness[0]=1", "--set slab.thickness[0]", "no key of a scene", ""),
    ("obstacle.name=x", "--set obstacle.name", "no key of a scene", ""),
    ("obstacle[1].name=x", "--set obstacle[1].name", "the scene has 1", ""),
    ("hinge.slab.setback[3]=1/4", "--set hinge.slab.setback[3]", "the scene has 3", ""),
    ("hinge.jamb.setback[3]=1/4", "--set hinge.jamb.setback[3]", "3 places", ""),
    ("opening.strike_leg.twist[3]=1", "--set opening.strike_leg.twist[3]", "3 places", ""),
    ("season.temperatures[0]=70", "--set season.temperatures[0]", "no list", ""),
    ("slab..width=1", "--set slab..width", "a key, such as", ""),
    ("slab width=1", "--set slab width", "a key, such as", ""),
    ("hinge.slab.setback[-1]=1", "--set hinge.slab.setback[-1]", "a key, such as", ""),
    ("slab.width=wide", "--set slab.width", "must be a length", ""),
    ("slab.width=29,5", "--set slab.width", "must be a length", "point"),
    ("slab.width=", "--set slab.width", "must be a length", ""),
    ("slab.width=nan", "--set slab.width", "must be a length", ""),
    ("slab.width=1\nheight=2", "--set slab.width", "must be a length", ""),
    ("hinge.slab.setback[1]=x", "--set hinge.slab.setback[1]", "must be a length", ""),
    ("slab.strike_edge={bevle=1}", "--set slab.strike_edge.bevle", "no key", "bevel"),
    ("site.exit=1", "--set site.exit", "must be true or false", ""),
    ("slab.width=40", "--set slab.width", "no wider than the opening", ""),
]


@pytest.mark.parametrize(("setting", "key", "expected", "hint"), REFUSED)
def test_a_setting_that_cannot_be_is_told_as_one(
    setting: str, key: str, expected: str, hint: str
) -> None:
    found = refused(FULL, setting)
    assert len(found) == 1
    assert found[0][0] == key
    assert expected in found[0][1]
    assert hint in found[0][2]


def test_faults_of_settings_come_with_those_of_the_file() -> None:
    found = refused(PLAIN + "rabet = 1\n", "slab.setback=1", "slab.width=wide")
    assert {key for key, _, _ in found} == {
        "opening.rabet",
        "--set slab.setback",
        "--set slab.width",
    }


def test_a_read_scene_is_read_anew_with_further_settings(tmp_path: Path) -> None:
    file = tmp_path / "hall.toml"
    file.write_text(PLAIN, encoding="utf-8")
    scene = read_scene(file, settings=[("slab.thickness", "1 3/4")])
    there = pickle.loads(pickle.dumps(scene))
    changed_there = there.with_({"hinge.slab.setback": "1/8", "slab.width": "29"})
    assert scene.with_({}) == scene == there
    assert changed_there == changed(
        PLAIN, "title=hall", "slab.thickness=1 3/4", "hinge.slab.setback=1/8", "slab.width=29"
    )
    assert changed_there.with_({"slab.width": "29 1/2"}).slab.width == (29.5,)
    with pytest.raises(SceneError) as caught:
        scene.with_({"slab.widht": "29", "slab.thickness": "no"})
    assert [each.key for each in caught.value.problems] == [
        "--set slab.widht",
        "--set slab.thickness",
    ]
    assert caught.value.path == str(file)


def test_where_a_scene_comes_from_is_no_part_of_what_it_is() -> None:
    scene, same = read_scene(PLAIN, name="a.toml"), read_scene(PLAIN + "\n", name="a.toml")
    assert scene.source != same.source
    assert (scene, hash(scene), repr(scene)) == (same, hash(same), repr(same))


def test_a_scene_made_by_hand_has_no_key_to_set() -> None:
    made = replace(read_scene(PLAIN), unit="mm")
    with pytest.raises(SceneError, match="Untitled: made by hand, not read"):
        made.with_({"slab.width": "29"})
