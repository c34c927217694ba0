"""``swingcheck mesh``, read back with trimesh and by the formats' own definitions."""

from __future__ import annotations

import json
import struct
from math import hypot, radians
from pathlib import Path

import numpy as np
import pytest
import trimesh
from click.testing import CliRunner, Result

from swingcheck.assembly import assemble
from swingcheck.cli import main
from swingcheck.geometry.export import write_mesh
from swingcheck.geometry.solids import box
from swingcheck.library.files import posed_solids
from tests.factory import plain_scene

CLOSET = """
title = "Linen closet"
hinges_on = "{hand}"
[opening]
width = "30 1/8"
height = "80 1/2"
rabbet = "1 7/16"
depth = "4 9/16"
[stop]
projection = "7/16"
width = "1 1/4"
[slab]
width = "29 7/8"
height = "79 3/4"
thickness = "1 3/8"
hinge_edge = "square"
strike_edge = "square"
head_margin = "1/8"
[hinge]
leaf_length = "3 1/2"
open_width = "3 1/2"
leaf_thickness = 0.097
closed_gap = "1/16"
jamb = {{ tops = ["7", "37 3/4", "68 1/2"], setback = "5/16", depth = 0.097 }}
slab = {{ tops = ["6 7/8", "37 5/8", "68 3/8"], setback = "1/4", depth = 0.097 }}
[[obstacle]]
name = "chair"
corner = ["40", "20", "0"]
size = ["18", "20", "32"]
"""

JAMB = {"hinge leg", "strike leg", "head", "hinge stop", "strike stop", "head stop"}


@pytest.fixture
def closet(tmp_path: Path) -> Path:
    path = tmp_path / "closet.toml"
    path.write_text(CLOSET.format(hand="left"))
    return path


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["mesh", *map(str, words)])


def written(path: Path) -> dict[str, trimesh.Trimesh]:
    loaded = trimesh.load_scene(path, **({"split_objects": True} if path.suffix == ".obj" else {}))
    return {node: placed(loaded, node) for node in loaded.graph.nodes_geometry}


def placed(scene: trimesh.Scene, node: str) -> trimesh.Trimesh:
    matrix, geometry = scene.graph[node]
    mesh = scene.geometry[geometry].copy()
    mesh.apply_transform(matrix)
    mesh.merge_vertices()
    return mesh


@pytest.mark.parametrize("suffix", [".glb", ".stl", ".obj", ".GLB"])
def test_every_part_comes_back_closed_and_by_name(closet, tmp_path, suffix):
    out = tmp_path / f"closet{suffix}"
    result = run(closet, "-o", out, "--angle", 30)
    assert result.exit_code == 0, result.output
    parts = written(out)
    assert JAMB | {"slab", "floor", "wall", "strike wall", "chair"} <= set(parts)
    assert sum("leaf" in name for name in parts) == 6
    assert sum("barrel" in name for name in parts) == 3
    assert f"{len(parts)} parts" in result.output
    for mesh in parts.values():
        assert mesh.is_watertight
        assert mesh.volume > 0


def test_a_glb_is_in_metres_with_y_up_and_the_pull_side_to_the_viewer(closet, tmp_path):
    """From memory, glTF 2.0 section 3.4: +y is up, +z is forward, metres."""
    out = tmp_path / "closet.glb"
    assert run(closet, "-o", out, "--angle", 90).exit_code == 0
    parts = written(out)
    slab = parts["slab"].bounds
    assert slab[:, 1] == pytest.approx(np.array([0.625, 80.375]) * 0.0254, abs=1e-6)
    assert slab[1, 2] == pytest.approx((29.875 + 0.03125 + 0.625) * 0.0254, rel=1e-5)
    assert parts["wall"].bounds[:, 2] == pytest.approx([-4.5625 * 0.0254, 0], abs=1e-6)


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("suffix", [".glb", ".obj"])
def test_the_hinges_are_on_their_side_seen_from_the_pull_side(tmp_path, hand, suffix):
    scene, out = tmp_path / "closet.toml", tmp_path / f"closet{suffix}"
    scene.write_text(CLOSET.format(hand=hand))
    assert run(scene, "-o", out).exit_code == 0
    parts = written(out)
    ahead, up = ([0, 0, -1], [0, 1, 0]) if suffix == ".glb" else ([0, -1, 0], [0, 0, 1])
    right = np.cross(ahead, up)
    hinge, strike = (parts[name].centroid @ right for name in ("hinge leg", "strike leg"))
    assert (hinge < strike) == (hand == "left")


def test_a_glb_names_its_nodes(closet, tmp_path):
    """Read as the container is defined: a 12-byte header, then the JSON chunk."""
    out = tmp_path / "closet.glb"
    run(closet, "-o", out)
    data = out.read_bytes()
    magic, version, length = struct.unpack_from("<4sII", data)
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert (magic, version, length, kind) == (b"glTF", 2, len(data), b"JSON")
    nodes = json.loads(data[20 : 20 + size])["nodes"]
    assert {"slab", *JAMB} <= {node.get("name") for node in nodes if "mesh" in node}


def test_obj_keeps_every_digit_and_stl_and_obj_take_a_unit(closet, tmp_path):
    inches, millimetres = tmp_path / "in.obj", tmp_path / "mm.stl"
    assert run(closet, "-o", inches).exit_code == 0
    assert run(closet, "-o", millimetres, "--unit", "mm").exit_code == 0
    leg = written(inches)["strike leg"].bounds
    assert leg.tolist() == [[-30.875, -4.5625, 0.0], [-30.125, 0.0, 81.25]]
    stop = written(millimetres)["strike stop"].bounds
    assert stop[1, 2] == pytest.approx(80.5 * 25.4, rel=1e-6)
    scene = plain_scene()
    solids = posed_solids(assemble(scene), radians(37.0))
    write_mesh(inches, solids)
    lines = [line.split()[1:] for line in inches.read_text().splitlines() if line.startswith("v ")]
    exact = np.concatenate([solid.vertices for _, solid in solids])
    assert np.array_equal(np.array(lines, dtype=np.float64), exact)


def test_the_slab_turns_about_the_pin_and_the_frame_stays(closet, tmp_path):
    closed, opened = tmp_path / "closed.obj", tmp_path / "open.obj"
    run(closet, "-o", closed)
    run(closet, "-o", opened, "--angle", 60)
    before, after = written(closed), written(opened)
    for name in JAMB:
        assert np.array_equal(before[name].bounds, after[name].bounds)
    pin = np.array([-0.03125, 0.625])
    middle, moved = (parts["slab"].centroid[:2] - pin for parts in (before, after))
    assert hypot(*middle) == pytest.approx(hypot(*moved), rel=1e-12)
    cosine = middle @ moved / (hypot(*middle) * hypot(*moved))
    assert cosine == pytest.approx(0.5, abs=1e-12)
    assert moved[1] > middle[1]


def test_settings_change_the_mesh(closet, tmp_path):
    out = tmp_path / "closet.obj"
    assert run(closet, "-o", out, "--set", "slab.thickness=1 3/4").exit_code == 0
    assert np.ptp(written(out)["slab"].bounds[:, 1]) == pytest.approx(1.75, abs=1e-12)


def test_names_that_come_twice_are_numbered_and_kept_to_one_line(tmp_path):
    out = tmp_path / "boxes.obj"
    solid = box("box", (0, 0, 0), (1, 1, 1))
    write_mesh(out, [("chair", solid), ("chair", solid), ("two\nlines", solid), ("", solid)])
    names = [line[2:] for line in out.read_text().splitlines() if line.startswith("o ")]
    assert names == ["chair", "chair 2", "two lines", "part"]


@pytest.mark.parametrize("name", ["closet.ply", "closet", "closet.toml"])
def test_a_suffix_that_is_no_mesh_is_refused(closet, tmp_path, name):
    result = run(closet, "-o", tmp_path / "new" / name)
    assert result.exit_code == 2
    assert "must end in .glb, .stl or .obj" in result.output


def test_a_place_that_cannot_be_written_is_named(closet, tmp_path):
    out = tmp_path / "nowhere" / "closet.glb"
    result = run(closet, "-o", out)
    assert result.exit_code == 2
    assert f"there is no folder '{out.parent}'" in " ".join(result.output.split())
    (tmp_path / "folder.obj").mkdir()
    result = run(closet, "-o", tmp_path / "folder.obj")
    assert result.exit_code == 2
    assert "directory" in result.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "-o"),
        (("-o", "x.stl", "--angle", "200"), "--angle"),
        (("-o", "x.glb", "--unit", "mm"), "always in metres"),
        (("-o", "x.stl", "--unit", "ft"), "--unit"),
        (("-o", "x.stl", "--set", "slab.wdth=30"), "slab.wdth"),
        (("-o", "x.stl", "--set", "slab.width"), "KEY=VALUE"),
    ],
)
def test_bad_words_exit_with_2_and_say_which(closet, monkeypatch, words, said):
    monkeypatch.chdir(closet.parent)
    result = run(closet, *words)
    assert result.exit_code == 2
    assert said in result.output
    assert "Traceback" not in result.output
    assert list(closet.parent.iterdir()) == [closet]


def test_a_scene_that_is_not_there_exits_with_2(tmp_path):
    result = run(tmp_path / "none.toml", "-o", tmp_path / "none.stl")
    assert result.exit_code == 2
    assert "none.toml" in result.output
    assert not (tmp_path / "none.stl").exists()


def test_a_scene_from_standard_input(tmp_path):
    out = tmp_path / "closet.stl"
    result = CliRunner().invoke(
        main, ["mesh", "-", "-o", str(out)], input=CLOSET.format(hand="right")
    )
    assert result.exit_code == 0, result.output
    assert written(out)["strike leg"].bounds[0, 0] == pytest.approx(30.125)
