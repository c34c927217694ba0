"""Mesh files: GLB, STL and OBJ, every solid under its own name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import numpy as np

from swingcheck.geometry.solid import Floats, Solid, face_normals

NamedSolids = Sequence[tuple[str, Solid]]

#: Inches to the unit of a file, exactly as the inch is defined.
UNIT_SCALE = {"in": 1.0, "mm": 25.4, "m": 0.0254}

#: Turns +z up into glTF's +y up; the pull side (+y) comes to face the viewer (+z).
_Y_UP = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])


def write_mesh(path: Path, solids: NamedSolids, *, unit: str = "in") -> None:
    """Write named solids to one file, in the format that its suffix names.

    ``path`` ends in ``.glb``, ``.stl`` or ``.obj``. Names are kept; one that comes twice is
    numbered. ``unit``, ``"in"`` or ``"mm"``, is of an STL or OBJ file, which have none of
    their own; a GLB file is in metres with +y up, as glTF 2.0 has it. Raises ValueError
    where the suffix is none of :data:`SUFFIXES`; and OSError where the file cannot be
    written.
    """
    suffix = path.suffix.lower()
    if suffix not in _WRITERS:
        raise ValueError(f"a mesh file ends in {', '.join(SUFFIXES)}, not {suffix!r}")
    path.write_bytes(_WRITERS[suffix](_distinct(solids), unit))


def glb_bytes(solids: NamedSolids, unit: str = "m") -> bytes:
    """Return a binary glTF 2.0 file: metres, +y up, a node a solid."""
    import trimesh

    scene = trimesh.Scene()
    for name, solid in solids:
        vertices = solid.vertices @ _Y_UP.T * UNIT_SCALE["m"]
        mesh = trimesh.Trimesh(vertices, solid.faces, process=False)
        scene.add_geometry(mesh, node_name=name, geom_name=name)
    data: bytes = scene.export(file_type="glb")
    return data


def stl_bytes(solids: NamedSolids, unit: str) -> bytes:
    """Return an ASCII STL file, a named ``solid`` each; binary STL has room for one only."""
    lines: list[str] = []
    for name, solid in solids:
        corners = solid.vertices[solid.faces] * UNIT_SCALE[unit]
        lines.append(f"solid {name}")
        for normal, triangle in zip(_normals(corners), corners, strict=True):
            lines += [f"facet normal {_row(normal)}", "outer loop"]
            lines += [f"vertex {_row(corner)}" for corner in triangle]
            lines += ["endloop", "endfacet"]
        lines.append(f"endsolid {name}")
    return _text(lines)


def obj_bytes(solids: NamedSolids, unit: str) -> bytes:
    """Return an OBJ file, a named object each."""
    lines = [f"# unit: {unit}; z up, the pull side toward +y"]
    first = 1
    for name, solid in solids:
        lines.append(f"o {name}")
        lines += [f"v {_row(corner)}" for corner in solid.vertices * UNIT_SCALE[unit]]
        lines += ["f {} {} {}".format(*face) for face in (solid.faces + first).tolist()]
        first += len(solid.vertices)
    return _text(lines)


_WRITERS: dict[str, Callable[[NamedSolids, str], bytes]] = {
    ".glb": lambda solids, unit: glb_bytes(solids),
    ".stl": stl_bytes,
    ".obj": obj_bytes,
}

SUFFIXES = tuple(_WRITERS)
"""What the name of a mesh file may end in."""


def _distinct(solids: NamedSolids) -> NamedSolids:
    """Return the solids under one-line names, no two alike."""
    taken: set[str] = set()
    distinct = []
    for name, solid in solids:
        plain = " ".join(name.split()) or "part"
        given, count = plain, 1
        while given in taken:
            count += 1
            given = f"{plain} {count}"
        taken.add(given)
        distinct.append((given, solid))
    return distinct


def _normals(corners: Floats) -> Floats:
    """Return unit normals (m, 3) of triangles (m, 3, 3); zero where one has no area."""
    normals = face_normals(corners)
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    return np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)


def _row(values: Iterable[float]) -> str:
    return " ".join(repr(float(value) + 0.0) for value in values)


def _text(lines: list[str]) -> bytes:
    return ("\n".join(lines) + "\n").encode()
