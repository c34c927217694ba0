"""What a live page saves reads as what it shows, for every key of a scene file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from swingcheck.errors import SceneError
from swingcheck.model import Scene
from swingcheck.scenefile import NAMES, Key, Kind, Table, read_scene, saved_text

SCENES = Path(__file__).parents[2] / "scenes"

VALUES = {
    Kind.LENGTH: ("1/8 in", "29 3/4 in"),
    Kind.ANGLE: ("2.5",),
    Kind.SLOPE: ("0.1",),
    Kind.TEMPERATURE: ("66 F",),
    Kind.PERCENT: ("42",),
    Kind.COUNT: ("3",),
    Kind.TEXT: ("maple",),
    Kind.FLAG: ("true", "false"),
}


def settings() -> Iterator[tuple[str, str]]:
    """Yield every key with a value or two, whole and with one place set apart, and its words."""
    for key, node in NAMES.keys.items():
        spec = node if isinstance(node, Key) else node.plain
        if isinstance(node, Table):
            yield from ((key, word) for word in node.words)
        for value in () if spec is None else spec.words or VALUES[spec.kind]:
            yield key, value
            if spec is not None and spec.most > 1:
                yield f"{key}[1]", value
                yield key, "[" + ", ".join([f'"{value}"'] * min(spec.most, 3)) + "]"


def told(scene: Scene) -> str:
    """Return all that a scene says, its numbers to nine digits."""
    text = repr(replace(scene, assumed=()))
    return re.sub(r"\d+\.\d+(e-?\d+)?", lambda number: f"{float(number[0]):.9f}", text)


@pytest.mark.parametrize("name", ["linen_closet", "servery", "dining_room", "study"])
def test_every_key_is_saved_as_it_is_shown_or_refused_by_name(name: str) -> None:
    path = SCENES / f"{name}.toml"
    saved, refused = 0, []
    for setting in settings():
        try:
            shown = read_scene(path, settings=[setting])
        except SceneError:
            continue
        try:
            text = saved_text(shown)
        except SceneError as error:
            assert setting[0] in str(error) and "cannot be written" in str(error)
            refused.append(setting)
            continue
        saved += 1
        again = read_scene(text, name=str(path))
        assert told(again) == told(shown), setting
        comments = re.findall(r"^#.*", path.read_text(), re.M)
        assert all(comment in text for comment in comments)
    assert saved > 150
    # Only places set apart in lists that follow from others, which a whole list would not.
    assert len(refused) < saved / 20 and all("[1]" in key for key, _ in refused)


@pytest.mark.parametrize(
    ("own", "setting", "written"),
    [
        ('rabbet = "1 7/16"', ("opening.rabbet.strike", "1 1/2"), 'strike = "1 1/2"'),
        ("", ("hinge.slab.setback[1]", "9/32"), '"9/32"'),
        ("[slab]\nstrike_edge = { bevel = 2 }", ("slab.strike_edge.radius", "4"), "radius = 4"),
    ],
)
def test_a_part_a_place_and_one_of_two_are_written_as_a_file_has_them(
    own: str, setting: tuple[str, str], written: str
) -> None:
    shown = read_scene(f'[opening]\nwidth = "30"\nheight = "80"\n{own}\n', settings=[setting])
    text = saved_text(shown)
    assert written in text and "[1]" not in text
    assert told(read_scene(text)) == told(shown)
