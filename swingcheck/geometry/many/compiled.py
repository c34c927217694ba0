"""The search of :mod:`.search`, compiled: one variant after the other, leaving at its contact.

Only for whoever has the ``fast`` extra. It is the same search in another
order, so it gives the same answers; the tests hold the two together.
"""

from __future__ import annotations

from math import atan2, cos, pi, sqrt

import numpy as np
from numba import njit

from swingcheck.geometry.many.reach import CORNER_MOVES, EDGES
from swingcheck.geometry.many.tiers import DOUBT_RAD, TIE_RAD
from swingcheck.geometry.pairs import GRAZE_IN, SAME_TURN_RAD
from swingcheck.geometry.solid import Bools, Floats, Ints

KEPT = 16  # touches kept of one variant: those within a hair of its first

_fast = njit(cache=True, nogil=True, error_model="numpy")


@_fast
def met_by(
    corners: Floats,
    triangles: Ints,
    edges: Ints,
    owner: Ints,
    pairs: Ints,
    earliest: Floats,
    span: float,
    room: float,
) -> tuple[Floats, Ints, Bools]:
    """Return turns (n,), what is met (n,) and what is in doubt (n,): see :func:`.first_met`.

    ``pairs`` (k, 3) are the kind, what moves and what stands.
    """
    count = corners.shape[2]
    turns, hits = np.full(count, np.inf), np.full(count, -1, dtype=np.int64)
    doubts = np.zeros(count, dtype=np.bool_)
    points = np.empty((corners.shape[0], 3))
    planes, lines = np.empty((len(triangles), 4)), np.empty((len(edges), 10))
    known = np.full(len(triangles), -1, dtype=np.int64)
    drawn = np.full(len(edges), -1, dtype=np.int64)
    when, whose = np.empty(KEPT), np.empty(KEPT, dtype=np.int64)
    found = np.empty(2)
    for n in range(count):
        points[:] = corners[:, :, n]
        best, held, latest = span, 0, _latest(span)
        for k in range(len(pairs)):
            if earliest[k] - DOUBT_RAD > best:
                break
            kind, one, other = pairs[k]
            if kind == EDGES:
                _draw(points, edges, one, lines, drawn, n)
                _draw(points, edges, other, lines, drawn, n)
                hit = owner[edges[other, 0]]
                _cross(lines[one], lines[other], latest, room, found)
            else:
                way = 1.0 if kind == CORNER_MOVES else -1.0
                corner, face = (one, other) if way > 0 else (other, one)
                hit = owner[triangles[face, 0] if way > 0 else corner]
                _lay(points, triangles, face, planes, known, n)
                _enter(points, corner, triangles[face], planes[face], way, latest, room, found)
            for turn in found:
                if turn < best:
                    best, latest = turn, _latest(turn)
                held = _kept(when, whose, held, best, turn, hit)
        if held:
            turns[n] = best
            hits[n], unsure = _first(when, whose, held, best)
            doubts[n] = unsure or best <= DOUBT_RAD or best >= span - DOUBT_RAD
    return turns, hits, doubts


@_fast
def _lay(points: Floats, triangles: Ints, face: int, planes: Floats, known: Ints, n: int) -> None:
    """Fill in a face's plane, once a variant."""
    if known[face] != n:
        known[face] = n
        _plane(points, triangles[face], planes[face])


@_fast
def _draw(points: Floats, edges: Ints, edge: int, lines: Floats, drawn: Ints, n: int) -> None:
    """Fill in an edge's line, once a variant."""
    if drawn[edge] != n:
        drawn[edge] = n
        _line(points, edges[edge], lines[edge])


@_fast
def _latest(turn: float) -> float:
    """Return the cosine past which a root comes too late to be within a hair of a turn."""
    return cos(min(turn + DOUBT_RAD, pi)) - DOUBT_RAD


@_fast
def _kept(when: Floats, whose: Ints, held: int, best: float, turn: float, hit: int) -> int:
    """Keep a touch with those within a hair of the best, and return how many those are."""
    if turn > best + DOUBT_RAD:
        return held
    still = 0
    for k in range(held):
        if when[k] <= best + DOUBT_RAD and not (whose[k] == hit and when[k] >= turn):
            when[still], whose[still] = when[k], whose[k]
            still += 1
    for k in range(still):
        if whose[k] == hit:
            return still
    if still < KEPT:
        when[still], whose[still] = turn, hit
        still += 1
    return still


@_fast
def _first(when: Floats, whose: Ints, held: int, best: float) -> tuple[int, bool]:
    """Return whose touch is the first, and whether another's may be as well."""
    hit, unsure = -1, held == KEPT
    for k in range(held):
        if when[k] <= best + TIE_RAD:
            if hit < 0 or whose[k] < hit:
                hit = whose[k]
        else:
            unsure = True
    return hit, unsure


@_fast
def _plane(points: Floats, face: Ints, plane: Floats) -> None:
    """Fill in a face's outward normal and its offset, nothing where it has no area."""
    a, b, c = points[face[0]], points[face[1]], points[face[2]]
    ux, uy, uz = b[0] - a[0], b[1] - a[1], b[2] - a[2]
    vx, vy, vz = c[0] - a[0], c[1] - a[1], c[2] - a[2]
    x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
    length = sqrt(x * x + y * y + z * z)
    if length > 0:
        x, y, z = x / length, y / length, z / length
    plane[0], plane[1], plane[2] = x, y, z
    plane[3] = x * a[0] + y * a[1] + z * a[2]


@_fast
def _line(points: Floats, edge: Ints, line: Floats) -> None:
    """Fill in an edge's start, direction, moment and length."""
    p, end = points[edge[0]], points[edge[1]]
    x, y, z = end[0] - p[0], end[1] - p[1], end[2] - p[2]
    length = sqrt(x * x + y * y + z * z)
    if length > 0:
        x, y, z = x / length, y / length, z / length
    line[0], line[1], line[2] = p[0], p[1], p[2]
    line[3], line[4], line[5] = x, y, z
    line[6] = p[1] * z - p[2] * y
    line[7] = p[2] * x - p[0] * z
    line[8] = p[0] * y - p[1] * x
    line[9] = length


@_fast
def _enter(
    points: Floats,
    corner: int,
    face: Ints,
    plane: Floats,
    sense: float,
    latest: float,
    room: float,
    found: Floats,
) -> None:
    """Fill in the turn at which a corner enters a face."""
    found[:] = np.inf
    p = points[corner]
    nx, ny, nz = plane[0], plane[1], plane[2]
    a = nx * p[0] + ny * p[1]
    b = sense * (ny * p[0] - nx * p[1])
    c = nz * p[2] - plane[3]
    square = a * a + b * b
    if c * c > square + room * (room + 2 * abs(c)):
        return
    r = sqrt(square)
    if r <= room and abs(c) <= room:
        _slide(points, p, face, plane, sense, latest, room, found)
        return
    if r - c <= GRAZE_IN:
        return
    s = sqrt(max((r - c) * (r + c), 0.0))
    sine, cosine = -b * c + a * s, -a * c - b * s
    if sine < -SAME_TURN_RAD * square or cosine < latest * square:
        return
    sine, cosine = sine / square, cosine / square
    if _inside(points, p, face, plane, cosine, sense * sine, room):
        found[0] = max(atan2(sine, cosine), 0.0)


@_fast
def _inside(
    points: Floats, p: Floats, face: Ints, plane: Floats, cosine: float, sine: float, room: float
) -> bool:
    """Tell whether a point, turned, is within a face's border."""
    x = cosine * p[0] - sine * p[1]
    y = cosine * p[1] + sine * p[0]
    z = p[2]
    nx, ny, nz = plane[0], plane[1], plane[2]
    for k in range(3):
        q, t = points[face[k]], points[face[(k + 1) % 3]]
        ex, ey, ez = t[0] - q[0], t[1] - q[1], t[2] - q[2]
        dx, dy, dz = x - q[0], y - q[1], z - q[2]
        depth = (ny * ez - nz * ey) * dx + (nz * ex - nx * ez) * dy + (nx * ey - ny * ex) * dz
        if depth < 0 and depth < -room * sqrt(ex * ex + ey * ey + ez * ez):
            return False
    return True


@_fast
def _slide(
    points: Floats,
    p: Floats,
    face: Ints,
    plane: Floats,
    sense: float,
    latest: float,
    room: float,
    found: Floats,
) -> None:
    """Fill in the turn at which a corner that moves within a face's plane crosses its border."""
    if _inside(points, p, face, plane, 1.0, 0.0, room):
        found[0] = 0.0
        return
    nx, ny, nz = plane[0], plane[1], plane[2]
    for k in range(3):
        q, t = points[face[k]], points[face[(k + 1) % 3]]
        ex, ey, ez = t[0] - q[0], t[1] - q[1], t[2] - q[2]
        ix, iy, iz = ny * ez - nz * ey, nz * ex - nx * ez, nx * ey - ny * ex
        a = ix * p[0] + iy * p[1]
        b = sense * (iy * p[0] - ix * p[1])
        c = iz * p[2] - (ix * q[0] + iy * q[1] + iz * q[2])
        square = a * a + b * b
        if c * c > square or square <= 0:
            continue
        s = sqrt(square - c * c)
        sine, cosine = -b * c - a * s, -a * c + b * s
        if sine < -SAME_TURN_RAD * square or cosine < latest * square:
            continue
        sine, cosine = sine / square, cosine / square
        if _inside(points, p, face, plane, cosine, sense * sine, room):
            found[0] = min(found[0], max(atan2(sine, cosine), 0.0))


@_fast
def _cross(u: Floats, v: Floats, latest: float, room: float, found: Floats) -> None:
    """Fill in the turns at which a moving edge meets a fixed one."""
    found[:] = np.inf
    a = v[3] * u[6] + v[4] * u[7] + v[6] * u[3] + v[7] * u[4]
    b = v[4] * u[6] - v[3] * u[7] + v[7] * u[3] - v[6] * u[4]
    c = v[5] * u[8] + v[8] * u[5]
    square = a * a + b * b
    if c * c >= square or square <= room * room:
        return
    r = sqrt(square)
    s = sqrt((r - c) * (r + c))
    for each in range(2):
        sine, cosine = -b * c + a * s, -a * c - b * s
        s = -s
        if sine < -SAME_TURN_RAD * square or cosine < latest * square:
            continue
        sine, cosine = sine / square, cosine / square
        if _within(u, v, cosine, sine, r - abs(c), room):
            found[each] = max(atan2(sine, cosine), 0.0)


@_fast
def _within(u: Floats, v: Floats, cos: float, sin: float, depth: float, room: float) -> bool:
    """Tell whether the lines of two edges meet within both, one of them turned."""
    px, py, pz = cos * u[0] - sin * u[1], sin * u[0] + cos * u[1], u[2]
    ux, uy, uz = cos * u[3] - sin * u[4], sin * u[3] + cos * u[4], u[5]
    vx, vy, vz = v[3], v[4], v[5]
    wx, wy, wz = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
    square = wx * wx + wy * wy + wz * wz
    if not square > 0 or depth / sqrt(square) <= GRAZE_IN:
        return False
    gx, gy, gz = v[0] - px, v[1] - py, v[2] - pz
    on_u = (gy * vz - gz * vy) * wx + (gz * vx - gx * vz) * wy + (gx * vy - gy * vx) * wz
    on_u /= square
    if on_u < -room or on_u > u[9] + room:
        return False
    on_v = (gy * uz - gz * uy) * wx + (gz * ux - gx * uz) * wy + (gx * uy - gy * ux) * wz
    on_v /= square
    if on_v < -room or on_v > v[9] + room:
        return False
    dx = px + on_u * ux - v[0] - on_v * vx
    dy = py + on_u * uy - v[1] - on_v * vy
    dz = pz + on_u * uz - v[2] - on_v * vz
    return bool(dx * dx + dy * dy + dz * dz <= (100 * room) ** 2)
