"""Every unusual scene through the commands: each answers, or refuses with its reason."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from swingcheck.cli import main

SCENES = Path(__file__).parents[2] / "scenes"

# A scene, a part that only it has, and why the bench refuses it (nothing: it does not).
KINDS = [
    ("flat_bedroom", "slab", "its lip is machined"),
    ("servery", "top pivot", "hangs on pivots"),
    ("broom_closet", "astragal", ""),
    ("sun_porch", "push-side glass bead", ""),
    ("wash_house", "slab", ""),
    ("under_stair", "head", ""),
    ("spare_room", "head", ""),
    ("garden_room", "head casing", "its top is an arch"),
    ("boiler_room", "push-side handle", ""),
    ("back_porch", "threshold", ""),
    ("attic_stair", "carpet", ""),
    ("coat_closet", "wall return", ""),
    ("old_parlor", "slab", ""),
    ("den", "slab", ""),
]


def run(*args: str) -> tuple[int, str]:
    shown = CliRunner().invoke(main, args)
    assert shown.exception is None or isinstance(shown.exception, SystemExit), shown.exception
    return shown.exit_code, shown.output


@pytest.mark.parametrize(("name", "part", "refused"), KINDS, ids=[kind[0] for kind in KINDS])
def test_commands_answer_or_say_why_not(name: str, part: str, refused: str, tmp_path: Path) -> None:
    path = str(SCENES / f"{name}.toml")
    code, text = run("check", path, "--json")
    assert code in (0, 1)
    verdict = json.loads(text)["verdict"]
    assert (code == 0) is (verdict == "swings")
    mesh = tmp_path / "scene.obj"
    code, text = run("mesh", path, "-o", str(mesh))
    assert code == 0, text
    assert part.replace(" ", "_") in mesh.read_text().replace(" ", "_")
    code, text = run("bench", path)
    assert code == (2 if refused else code), text
    assert refused in text
    code, text = run("leeway", path)
    assert code in (0, 1, 2)
    assert "Traceback" not in text


def test_a_double_acting_scene_tells_both_sides_as_data() -> None:
    data = json.loads(run("check", str(SCENES / "servery.toml"), "--json")[1])
    assert data["push_side"] == {"blocked_by": [], "closing": None, "opening": None}
    assert [edge["edge"] for edge in data["edges"]] == ["hinge edge", "strike edge"]
    assert data["edges"][0]["greatest_radius_in"] == pytest.approx(33.623, abs=1e-3)
    assert data["edges"][1]["greatest_radius_in"] is None  # a square edge clears too


def test_a_handle_that_stops_the_slab_is_named_with_where_the_slab_would_stop() -> None:
    path = str(SCENES / "coat_closet.toml")
    data = json.loads(run("check", path, "--json")[1])
    assert data["opening"]["slab_feature"] == "handle"
    assert data["opened"]["slab"]["against"] == "wall return"
    assert data["opened"]["slab"]["angle_deg"] > data["opening"]["angle_deg"]
    words = " ".join(run("check", path)[1].split())
    assert "where the handle meets the wall return (the slab itself to" in words


def test_a_thick_slab_is_told_its_set_in_one_line() -> None:
    words = " ".join(run("check", str(SCENES / "old_parlor.toml"))[1].split())
    for said in ("All together", "leave the jamb's mortises", "use hinges", "bevel the strike"):
        assert said in words


def test_trim_that_needs_wider_hinges_is_told() -> None:
    words = " ".join(run("check", str(SCENES / "den.toml"))[1].split())
    assert "180 deg past this trim takes hinges 4 3/4 in (4.753) wide, 5 in as they" in words
