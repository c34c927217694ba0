"""``swingcheck mesh``, read back with trimesh and by the formats' own definitions."""

from __future__ import annotations

import json
import struct
from math import hypot, radians
from pathlib import Path

import numpy as np
import pytest
import trimesh
from click.testing import Result

from swingcheck.assembly import assemble
from swingcheck.geometry.export import write_mesh
from swingcheck.geometry.solids import box
from swingcheck.library.files import posed_solids
from tests import commands
from tests.commands import CLOSET, refused
from tests.factory import plain_scene

SQUARE_CLOSET = (
    CLOSET.replace("{ bevel = 2 }", '"square"')
    + """
[[obstacle]]
name = "chair"
corner = ["40", "20", "0"]
size = ["18", "20", "32"]
"""
)
JAMB = {"hinge leg", "strike leg", "head", "hinge stop", "strike stop", "head stop"}


@pytest.fixture
def closet(tmp_path: Path) -> Path:
    path = tmp_path / "closet.toml"
    path.write_text(SQUARE_CLOSET)
    return path


def run(*words: object, text: str | None = None) -> Result:
    return commands.run("mesh", *words, text=text)


def written(path: Path) -> dict[str, trimesh.Trimesh]:
    loaded = trimesh.load_scene(path, **({"split_objects": True} if path.suffix == ".obj" else {}))
    return {node: placed(loaded, node) for node in loaded.graph.nodes_geometry}


def placed(scene: trimesh.Scene, node: str) -> trimesh.Trimesh:
    matrix, geometry = scene.graph[node]
    mesh = scene.geometry[geometry].copy()
    mesh.apply_transform(matrix)
    mesh.merge_vertices()
    return mesh


@pytest.mark.parametrize("suffix", [".stl", ".obj", ".GLB"])
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


def test_a_glb_names_its_nodes_in_metres_with_y_up_and_the_pull_side_to_the_viewer(
    closet, tmp_path
):
    """From memory, glTF 2.0 section 3.4: +y is up, +z is forward, metres."""
    out = tmp_path / "closet.glb"
    assert run(closet, "-o", out, "--angle", 90).exit_code == 0
    parts = written(out)
    slab = parts["slab"].bounds
    assert slab[:, 1] == pytest.approx(np.array([0.625, 80.375]) * 0.0254, abs=1e-6)
    assert slab[1, 2] == pytest.approx((29.875 + 0.03125 + 0.625) * 0.0254, rel=1e-5)
    assert parts["wall"].bounds[:, 2] == pytest.approx([-4.5625 * 0.0254, 0], abs=1e-6)
    # Read as the container is defined: a 12-byte header, then the JSON chunk.
    run(closet, "-o", out)
    data = out.read_bytes()
    magic, version, length = struct.unpack_from("<4sII", data)
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert (magic, version, length, kind) == (b"glTF", 2, len(data), b"JSON")
    nodes = json.loads(data[20 : 20 + size])["nodes"]
    assert {"slab", *JAMB} <= {node.get("name") for node in nodes if "mesh" in node}


@pytest.mark.parametrize(("hand", "suffix"), [("left", ".glb"), ("right", ".obj")])
def test_the_hinges_are_on_their_side_seen_from_the_pull_side(tmp_path, hand, suffix):
    out = tmp_path / f"closet{suffix}"
    assert run("-", "-o", out, text=f'hinges_on = "{hand}"\n{SQUARE_CLOSET}').exit_code == 0
    parts = written(out)
    ahead, up = ([0, 0, -1], [0, 1, 0]) if suffix == ".glb" else ([0, -1, 0], [0, 0, 1])
    right = np.cross(ahead, up)
    hinge, strike = (parts[name].centroid @ right for name in ("hinge leg", "strike leg"))
    assert (hinge < strike) == (hand == "left")
    if hand == "right":
        assert parts["strike leg"].bounds[0, 0] == pytest.approx(30.125)


def test_obj_keeps_every_digit_in_its_unit_and_the_slab_turns_about_the_pin(closet, tmp_path):
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
    closed, opened = tmp_path / "closed.obj", tmp_path / "open.obj"
    run(closet, "-o", closed, "--set", "slab.thickness=1 1/4")
    run(closet, "-o", opened, "--set", "slab.thickness=1 1/4", "--angle", 60)
    before, after = written(closed), written(opened)
    assert np.ptp(before["slab"].bounds[:, 1]) == pytest.approx(1.25, abs=1e-12)
    for name in JAMB:
        assert np.array_equal(before[name].bounds, after[name].bounds)
    pin = np.array([-0.03125, 0.625])
    middle, moved = (parts["slab"].centroid[:2] - pin for parts in (before, after))
    assert hypot(*middle) == pytest.approx(hypot(*moved), rel=1e-12)
    cosine = middle @ moved / (hypot(*middle) * hypot(*moved))
    assert cosine == pytest.approx(0.5, abs=1e-12)
    assert moved[1] > middle[1]


def test_names_that_come_twice_are_numbered_and_a_scene_that_is_not_there_refused(tmp_path):
    out = tmp_path / "boxes.obj"
    solid = box("box", (0, 0, 0), (1, 1, 1))
    write_mesh(out, [("chair", solid), ("chair", solid), ("two\nlines", solid), ("", solid)])
    names = [line[2:] for line in out.read_text().splitlines() if line.startswith("o ")]
    assert names == ["chair", "chair 2", "two lines", "part"]
    refused(run(tmp_path / "none.toml", "-o", tmp_path / "none.stl"), "none.toml")
    assert not (tmp_path / "none.stl").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "-o"),
        (("-o", "folder.obj"), "directory"),
        (("-o", "x.stl", "--angle", "200"), "--angle"),
        (("-o", "x.glb", "--unit", "mm"), "always in metres"),
        (("-o", "x.stl", "--unit", "ft"), "--unit"),
    ],
)
def test_what_cannot_be_is_refused(closet, monkeypatch, words, said):
    monkeypatch.chdir(closet.parent)
    folder = closet.parent / "folder.obj"
    folder.mkdir()
    refused(run(closet, *words), said)
    assert sorted(closet.parent.iterdir()) == [closet, folder]
