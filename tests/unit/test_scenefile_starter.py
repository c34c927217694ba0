"""A starter scene reads back as the scene it was made of, line by line as it is filled in."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swingcheck.errors import SceneError
from swingcheck.scenefile import NAMES, read_scene
from swingcheck.scenefile.starter import starter_scene

LEAST = {"opening.width": "30 1/8", "opening.height": "80 1/2"}
METRIC = {"opening.width": "765", "opening.height": "2040 mm", "unit": "mm"}
LEFT_OUT = re.compile(r"^#(?=\[|[a-z_]+ *=)", re.MULTILINE)


@pytest.mark.parametrize("values", [LEAST, METRIC], ids=["in", "mm"])
def test_it_reads_back_as_the_same_scene_with_every_line_filled_in_too(
    values: dict[str, str],
) -> None:
    settings = list(values.items())
    wanted = replace(read_scene("", settings=settings), title="Untitled")
    assert replace(read_scene(starter_scene(values)), title="Untitled") == wanted
    text = starter_scene(values)
    filled, count = LEFT_OUT.subn("", text)
    assert count > 70
    scene = read_scene(filled)
    assumed = {each.key for each in scene.assumed}
    assert not any(
        key.startswith(("slab.width", "hinge.", "stop.", "opening.r")) for key in assumed
    )
    plain = read_scene(text)
    tape = 1 / 128 if values is LEAST else 0.051 / 25.4
    assert scene.slab.width == pytest.approx(plain.slab.width, abs=tape)
    assert scene.slab.height == pytest.approx(plain.slab.height, abs=tape)
    assert scene.hinge.jamb.tops == pytest.approx(plain.hinge.jamb.tops, abs=tape)
    assert scene.hinge.slab.setbacks == pytest.approx(plain.hinge.slab.setbacks, abs=tape)
    assert scene.lock is not None
    assert len(scene.obstacles) == 1


def test_what_was_typed_stands_in_it_as_typed() -> None:
    values = {
        **LEAST,
        "title": 'The "linen" closet\\shelf',
        "hinges_on": "right",
        "opening.width": '30 1/8"',
        "opening.rabbet": "1 7/16 in",
        "slab.thickness": "1.375",
        "slab.width": "[29 7/8, 29 3/4]",
        "hinge.count": "2",
        "hinge.slab.setback": "1/4",
        "slab.strike_edge": "{ bevel = 2 }",
    }
    scene = read_scene(starter_scene(values))
    assert scene.title == values["title"]
    assert scene.hinges_on == "right"
    assert scene.slab.width == (29.875, 29.75)
    assert scene.hinge.count == 2
    assumed = {each.key for each in scene.assumed}
    assert not assumed & values.keys()
    assert {"opening.depth", "slab.height", "hinge.jamb.setback"} <= assumed


def test_each_line_is_a_key_that_can_be_filled_in_alone_and_fits_a_page() -> None:
    lines = starter_scene(LEAST).splitlines()
    end = next(k for k, line in enumerate(lines) if "What follows is left out" in line)
    places = [k for k in range(end) if re.match(r"#[a-z_]+ +=", lines[k])]
    assert len(places) > 25
    for place in places:
        one = [*lines]
        one[place] = one[place][1:]
        read_scene("\n".join(one))
    text = starter_scene(LEAST)
    bare = [line for line in text.splitlines() if re.match(r"#?[a-z_]+ +=", line)]
    without = [line for line in bare if "#" not in line[1:] and not line.startswith("#count")]
    rest = text[text.index("What follows is left out") :].splitlines()
    assert [line for line in without if line not in rest] == []
    table = ""
    for line in LEFT_OUT.sub("", starter_scene(LEAST)).splitlines():
        if head := re.match(r"\[+([a-z._]+)\]+$", line):
            table = head[1] + "."
        elif name := re.match(r"([a-z_]+) *=", line):
            assert table + name[1] in NAMES.keys
    for values in (LEAST, METRIC):
        assert max(map(len, starter_scene(values).splitlines())) <= 100


BAD = [
    ({"opening.height": "80"}, "opening.width"),
    ({**LEAST, "slab.width": "wide"}, "slab.width"),
    ({**LEAST, "floor.across": "0"}, "floor.across"),
    ({**LEAST, "slab.widht": "29"}, "slab.widht"),
]


@pytest.mark.parametrize(("values", "key"), BAD)
def test_it_is_checked_before_it_is_written(values: dict[str, str], key: str) -> None:
    with pytest.raises(SceneError) as caught:
        starter_scene(values)
    assert [each.key for each in caught.value.problems] == [key]


@given(
    st.integers(min_value=12 * 64, max_value=60 * 64),
    st.integers(min_value=30 * 64, max_value=120 * 64),
    st.sampled_from(["3/4", "1 3/8", "1 3/4", "2 1/4"]),
    st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=40),
)
def test_any_opening_gives_a_starter_that_reads_back(
    width: int, height: int, thickness: str, title: str
) -> None:
    values = {
        "opening.width": f"{width}/64",
        "opening.height": f"{height}/64",
        "slab.thickness": thickness,
        "title": title,
    }
    scene = read_scene(starter_scene(values))
    assert scene.opening.width == (width / 64,)
    assert scene.title == title
