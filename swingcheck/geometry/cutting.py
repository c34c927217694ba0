"""What a boolean cut was made of, and the same cut for n variants of its operands.

Every corner of a cut solid is a corner of an operand, the place where an edge
of one goes through a flat face of another, or the place where flat faces of
three meet. So a cut that was made once is told by its operands' corners, and
holds for other sizes of them while every such place stays on its edge and
within its faces.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, count, pairwise
from typing import Any

import numpy as np

from swingcheck.errors import GeometryError
from swingcheck.geometry.features import edges_between
from swingcheck.geometry.solid import Floats, Ints, Solid, crossed, face_normals

#: How far a corner may stand off a face or an edge that it lies on, inches.
_ON = 1e-9

#: Sine of the angle up to which two triangles beside each other are one flat face.
_FLAT_SINE = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Flat:
    """A flat, convex face of an operand: its rim's corners, counter-clockwise from outside.

    ``plane`` are three of them that span it well.
    """

    owner: int
    rim: Ints
    plane: Ints

    def level(self, corners: Floats) -> tuple[Floats, Floats]:
        """Return a point of its plane and the unit normal, (3, n) each, from corners (v, 3, n)."""
        origin, second, third = corners[self.plane]
        normal = crossed((second - origin).T, (third - origin).T).T
        return origin, normal / np.sqrt((normal**2).sum(axis=0))

    def spare(self, places: Floats, corners: Floats) -> Floats:
        """Return how flat it is, and how far places (k, 3, n) are within its rim, (m, n).

        Inches: it holds them where nothing is below 0.
        """
        origin, normal = self.level(corners)
        rim = corners[self.rim]
        flat = _ON - np.abs(_along(rim, normal) - _along(origin, normal))
        sides = np.moveaxis(np.roll(rim, -1, axis=0) - rim, 1, -1)
        inward = np.moveaxis(crossed(normal.T, sides), -1, 1)
        inward /= np.sqrt((inward**2).sum(axis=1, keepdims=True))
        start = (rim * inward).sum(axis=1)[:, None]
        beyond = np.einsum("kjn,mjn->mkn", places, inward) - start + _ON
        return np.concatenate([flat, beyond.reshape(-1, flat.shape[1])])


@dataclass(frozen=True, slots=True, eq=False)
class Record:
    """A cut: where its ``count`` corners come from, among the operands' corners (v,).

    ``copied`` (c, 2) are corners of the cut and those that they are;
    ``pierced`` has for each flat the corners (p, 3) that edges make with it:
    the corner, and the edge's two ends; ``met`` are corners at which three
    flats meet. ``apart`` are tools, by their corners, that do not meet.
    Of these, one after the other, ``sure`` are so in every variant.
    """

    count: int
    copied: Ints
    pierced: tuple[tuple[Flat, Ints], ...]
    met: tuple[tuple[int, tuple[Flat, ...]], ...]
    apart: tuple[tuple[slice, slice], ...]
    sure: frozenset[int] = frozenset()

    def thinned(self, picked: Ints, sure: frozenset[int]) -> Record:
        """Return what makes some of the corners, with what is sure looked at no more."""
        pierced = tuple(
            (flat, rows[np.isin(rows[:, 0], picked)] if k in sure else rows)
            for k, (flat, rows) in enumerate(self.pierced)
        )
        met = tuple(
            (index, () if k in sure and index not in picked else flats)
            for k, (index, flats) in enumerate(self.met, len(pierced))
        )
        copied = self.copied[np.isin(self.copied[:, 0], picked)]
        return replace(self, copied=copied, pierced=pierced, met=met, sure=sure)


def replayed(record: Record, corners: Floats) -> tuple[Floats, list[Floats]]:
    """Return a recorded cut's corners (k, 3, n), and what is to spare of what holds it (m, n).

    ``corners`` (v, 3, n) are those of the operands, one after the other. For
    all that is not sure there is one array: the cut is another in variants in
    which anything of them is below 0.
    """
    made = np.empty((record.count, *corners.shape[1:]))
    made[record.copied[:, 0]] = corners[record.copied[:, 1]]
    spare, place = [], count()
    with np.errstate(divide="ignore", invalid="ignore"):
        for flat, rows in record.pierced:
            is_sure = next(place) in record.sure
            if is_sure and not len(rows):
                continue
            index, start, end = rows.T
            origin, normal = flat.level(corners)
            low, high = corners[start], corners[end]
            level = _along(origin, normal)
            under, over = _along(low, normal) - level, _along(high, normal) - level
            share = under / (under - over)
            made[index] = low + share[:, None] * (high - low)
            if not is_sure:
                held = flat.spare(made[index], corners)
                spare.append(np.concatenate([share, 1 - share, held]))
        for index, flats in record.met:
            if flats:
                made[index] = _meeting(corners, flats)
            if next(place) not in record.sure:
                own = made[index : index + 1]
                spare.append(np.concatenate([flat.spare(own, corners) for flat in flats]))
    for first, second in record.apart:
        if next(place) not in record.sure:
            spare.append(_between(corners[first], corners[second]))
    return made, spare


def holds(spare: Iterable[Iterable[Floats]]) -> Any:
    """Tell in which variants (n,), or all, nothing that parts have to spare (m, n) is below 0."""
    found: Any = True
    for own in (own for part in spare for own in part):
        found = found & (own >= 0).all(axis=0)
    return found


def _along(places: Floats, way: Floats) -> Floats:
    """Return how far along a way (3, n) places (..., 3, n) are, (..., n)."""
    along: Floats = np.einsum("...jn,jn->...n", places, way)
    return along


def _meeting(corners: Floats, flats: Sequence[Flat]) -> Floats:
    """Return where three planes meet, (3, n)."""
    levels = [flat.level(corners) for flat in flats]
    start = levels[0][0]
    found, whole = np.zeros_like(start), np.zeros(start.shape[1])
    for k in range(3):
        origin, normal = levels[k]
        across = crossed(levels[(k + 1) % 3][1].T, levels[(k + 2) % 3][1].T).T
        found += ((origin - start) * normal).sum(axis=0) * across
        whole = (normal * across).sum(axis=0)
    return start + found / whole


def _between(first: Floats, second: Floats) -> Floats:
    """Return how far the boxes about two tools' corners are from meeting, (1, n)."""
    gap = np.maximum(first.min(axis=0) - second.max(axis=0), second.min(axis=0) - first.max(axis=0))
    found: Floats = gap.max(axis=0, keepdims=True)
    return found


def recorded(name: str, operands: Sequence[Solid], cut: Solid) -> Record:
    """Return what a cut was made of.

    ``operands`` are the body and the tools that were cut out of it, ``cut`` what was left.
    Raises GeometryError where a corner is none of the three kinds.
    """
    corners = np.concatenate([each.vertices for each in operands])
    starts = np.cumsum([0, *(len(each.vertices) for each in operands)])
    known = {corner.tobytes(): k for k, corner in enumerate(corners + 0.0)}
    origin = [known.get(corner.tobytes(), -1) for corner in cut.vertices + 0.0]
    fresh = np.flatnonzero(np.array(origin) < 0)
    on: dict[int, list[Flat]] = {int(index): [] for index in fresh}
    for flat in _all_flats(operands, starts):
        for place in _on(cut.vertices[fresh], corners, flat):
            on[int(fresh[place])].append(flat)
    sides, whose = _sides(operands, starts)
    pierced: dict[int, tuple[Flat, list[tuple[int, int, int]]]] = {}
    met = []
    for index, edges in zip(on, _through(cut.vertices[fresh], corners, sides), strict=True):
        pairs = [(k, flat) for k in edges for flat in on[index] if flat.owner != whose[k]]
        if pairs:
            side, flat = pairs[0]
            pierced.setdefault(id(flat), (flat, []))[1].append((index, *sides[side]))
        else:
            met.append((index, _three(name, on[index])))
    record = Record(
        count=len(cut.vertices),
        copied=np.array([(k, own) for k, own in enumerate(origin) if own >= 0]).reshape(-1, 2),
        pierced=tuple((flat, np.array(rows)) for flat, rows in pierced.values()),
        met=tuple(met),
        apart=_apart(on.values(), starts),
    )
    again, spare = replayed(record, corners[..., None])
    if not np.all(holds([spare])) or np.abs(again[..., 0] - cut.vertices).max() > _ON:
        raise GeometryError(name, "its cuts cannot be told by its corners and its tools'")
    return record


def _apart(on: Iterable[list[Flat]], starts: Ints) -> tuple[tuple[slice, slice], ...]:
    """Return the pairs of tools that no corner lies on both of."""
    meet = {frozenset(pair) for own in on for pair in combinations({flat.owner for flat in own}, 2)}
    spans = [slice(int(low), int(high)) for low, high in pairwise(starts)]
    pairs = combinations(range(1, len(spans)), 2)
    return tuple((spans[i], spans[j]) for i, j in pairs if frozenset((i, j)) not in meet)


def _all_flats(operands: Sequence[Solid], starts: Ints) -> Iterator[Flat]:
    """Yield every operand's flat faces."""
    for owner, (each, start) in enumerate(zip(operands, starts[:-1], strict=True)):
        yield from _flats(owner, each, int(start))


def _flats(owner: int, solid: Solid, start: int) -> list[Flat]:
    """Return an operand's flat faces, their corners numbered from ``start``."""
    normals = face_normals(solid.vertices[solid.faces])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    _, first, second = edges_between(solid.faces, len(solid.vertices))
    sine = np.linalg.norm(crossed(normals[first], normals[second]), axis=1)
    same = (sine < _FLAT_SINE) & ((normals[first] * normals[second]).sum(axis=1) > 0)
    group = np.arange(len(solid.faces))
    for a, b in zip(first[same], second[same], strict=True):
        group[group == group[b]] = group[a]
    found = []
    for each in np.unique(group):
        rim = _rim(solid.faces[group == each])
        places = solid.vertices[rim]
        far = int(np.argmax(np.linalg.norm(places - places[0], axis=1)))
        off = np.linalg.norm(crossed(places - places[0], places[far] - places[0]), axis=1)
        plane = rim[sorted({0, far, int(np.argmax(off))})]
        found.append(Flat(owner, rim + start, plane + start))
    return found


def _rim(faces: Ints) -> Ints:
    """Return the corners about some triangles that are one face, in order."""
    sides = {(int(a), int(b)) for face in faces for a, b in pairwise([*face, face[0]])}
    following = {a: b for a, b in sides if (b, a) not in sides}
    rim = [next(iter(following))]
    while following[rim[-1]] != rim[0]:
        rim.append(following[rim[-1]])
    return np.array(rim)


def _on(places: Floats, corners: Floats, flat: Flat) -> Ints:
    """Return which places (k, 3) are on a flat face."""
    origin, normal = flat.level(corners[..., None])
    level = np.abs((places - origin[:, 0]) @ normal[:, 0]) < _ON
    near = np.flatnonzero(level)
    if not len(near):
        return near
    spare = flat.spare(places[near][..., None], corners[..., None])[len(flat.rim) :]
    return near[(spare.reshape(len(flat.rim), -1) >= 0).all(axis=0)]


def _sides(operands: Sequence[Solid], starts: Ints) -> tuple[Ints, Ints]:
    """Return the ends (e, 2) of the operands' edges, flat ones too, and whose each is (e,)."""
    each = [edges_between(own.faces, len(own.vertices))[0] for own in operands]
    owner = np.repeat(np.arange(len(each)), [len(ends) for ends in each])
    return np.concatenate(each) + starts[owner, None], owner


def _through(places: Floats, corners: Floats, sides: Ints) -> list[Ints]:
    """Return for each place (k, 3) the edges that it stands on, without their ends."""
    start, end = (corners[ends].T[:, None] for ends in sides.T)
    along = end - start
    length = np.sqrt((along**2).sum(axis=0))
    along /= length
    off = places.T[:, :, None] - start
    far = (off * along).sum(axis=0)
    aside = ((off - far * along) ** 2).sum(axis=0)
    on = (aside < _ON**2) & (far > _ON) & (far < length - _ON)
    return [np.flatnonzero(row) for row in on]


def _three(name: str, on: Sequence[Flat]) -> tuple[Flat, ...]:
    """Return one flat of each of three operands."""
    owners = {flat.owner: flat for flat in on}
    if len(owners) != 3:
        raise GeometryError(name, "its cuts cannot be told by its corners and its tools'")
    return tuple(owners.values())
