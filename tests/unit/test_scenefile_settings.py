"""Measurements changed one at a time, over what a file says or leaves out."""

from __future__ import annotations

import pickle
from dataclasses import replace
from pathlib import Path

import pytest

from swingcheck.errors import SceneError
from swingcheck.scenefile import read_scene
from tests.scene_files import OPENING as PLAIN
from tests.scene_files import assert_holds, assumed, faults, read

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


@pytest.mark.parametrize("text", [PLAIN, FULL], ids=["left out", "given"])
def test_a_measurement_is_changed_wherever_it_stands(text: str) -> None:
    scene = read(
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
    assert_holds(
        scene,
        "title Hall; slab.thickness 1.25; slab.width 29.5; slab.height 79.25 79.25;"
        " hinge.slab.setbacks 3/16 3/16 3/16; opening.hinge_leg.twist 2deg; opening.depth 5;"
        " site.exit True; shop.rip_tolerance 1/32",
    )
    given = {"slab.thickness", "slab.width", "hinge.slab.setback", "opening.depth"}
    assert not assumed(scene).keys() & given


# A scene, settings of it, and what it then holds.
CHANGED = [
    # one place of a list
    (
        FULL,
        ["hinge.slab.setback[1]=5/16", "opening.width[0]=30", "obstacle[0].size[1]=3"],
        "hinge.slab.setbacks 1/4 5/16 1/4; opening.width 30 30 30",
    ),
    # one place of a single value, set apart from the rest
    (
        FULL,
        ["hinge.jamb.setback[2]=3/8", "opening.rabbet[1]=1 5/8"],
        "hinge.jamb.setbacks 5/16 5/16 3/8; opening.rabbet.hinge 1.5 1.625 1.5",
    ),
    # one place of what was left out, set apart from the usual
    (
        PLAIN,
        [
            "hinge.slab.setback[1]=5/16",
            "hinge.slab.setback[2]=3/8",
            "hinge.jamb.depth[0]=0.08",
            "opening.hinge_leg.twist[2]=1",
            "slab.height[1]=79",
            "opening.width[1]=30",
            "hinge.jamb.tops[0]=8",
        ],
        "hinge.slab.setbacks 1/4 5/16 3/8; hinge.jamb.depths 0.08 0.097 0.097;"
        " opening.hinge_leg.twist 0 0 1deg; slab.height 79.875 79; opening.width 30.125 30 30.125;"
        " hinge.jamb.tops 8 36.3125 65.5",
    ),
    # a whole list or table
    (
        PLAIN,
        [
            "opening.width=[30 1/8, 30, 30 1/8]",
            'slab.height=["79 1/2", "79"]',
            "slab.strike_edge={bevel=2}",
        ],
        "opening.width 30.125 30 30.125; slab.height 79.5 79; slab.strike_edge.bevel 2deg",
    ),
    # words and tables give way to each other
    (FULL, ["slab.strike_edge.bevel=2"], "slab.strike_edge.bevel 2deg"),
    (FULL, ["slab.hinge_edge.bevel=1/8 in 2"], "slab.hinge_edge.shape bevel"),
    (FULL, ["slab.hinge_edge=square"], "slab.hinge_edge.shape square"),
    (FULL, ["stop.projection=3/8"], "stop.projection 3/8"),
    (PLAIN, ["stop=none"], "stop None"),
    (FULL, ["opening.rabbet.hinge=1 5/8"], "opening.rabbet.hinge 1.625; opening.rabbet.strike 1.5"),
    # the last setting of a key counts
    (PLAIN, ["slab.width=20", "slab.width=21"], "slab.width 21"),
    (PLAIN, ["slab.strike_edge.bevel=2", "slab.strike_edge=square"], "slab.strike_edge.bevel 0"),
    # a setting mends a fault of the file, and sets the unit too
    (PLAIN + "depth = 'deep'\n", ["opening.depth=4"], "opening.depth 4"),
    ("", ["opening.width=30", "opening.height=80"], "opening.width 30"),
    ("[opening]\nwidth = 765\nheight = 2040\n", ["unit=mm", "slab.width=762"], "slab.width 30"),
]


@pytest.mark.parametrize(("text", "settings", "told"), CHANGED, ids=range(len(CHANGED)))
def test_what_a_setting_comes_to(text: str, settings: list[str], told: str) -> None:
    assert_holds(read(text, *settings), told)


def test_obstacles_a_lock_and_a_read_scene_are_set_anew_and_faults_told() -> None:
    (shelf,) = read(FULL, "obstacle[0].size[1]=3", "obstacle[0].name=ledge").obstacles
    assert (shelf.name, shelf.size) == ("ledge", (30.0, 3.0, 1.0))
    scene = read(PLAIN, "obstacle=[{corner=[0, 40, 0], size=[1, 1, 1]}]", "lock={}")
    assert len(scene.obstacles) == 1 and scene.lock is not None
    assert "hinge.slab.setback" in assumed(read(PLAIN, "hinge.slab.setback[1]=5/16"))
    found = faults(PLAIN + "rabet = 1\n", "slab.setback=1", "slab.width=wide")
    assert {each.key for each in found} == {
        "opening.rabet",
        "--set slab.setback",
        "--set slab.width",
    }
    scene, same = read_scene(PLAIN, name="a.toml"), read_scene(PLAIN + "\n", name="a.toml")
    assert scene.source != same.source
    assert (scene, hash(scene), repr(scene)) == (same, hash(same), repr(same))
    made = replace(read_scene(PLAIN), unit="mm")
    with pytest.raises(SceneError, match="Untitled: made by hand, not read"):
        made.with_({"slab.width": "29"})


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
    (found,) = faults(FULL, setting)
    assert found.key == key
    assert expected in found.expected
    assert hint in found.hint


def test_a_read_scene_is_read_anew_with_further_settings(tmp_path: Path) -> None:
    file = tmp_path / "hall.toml"
    file.write_text(PLAIN, encoding="utf-8")
    scene = read_scene(file, settings=[("slab.thickness", "1 3/4")])
    there = pickle.loads(pickle.dumps(scene))
    changed_there = there.with_({"hinge.slab.setback": "1/8", "slab.width": "29"})
    assert scene.with_({}) == scene == there
    assert changed_there == read(
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
