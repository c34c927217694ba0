"""What cannot be built: measurements that rule each other out.

What can be built but will not swing is no fault of a scene: that is what a
check is for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, radians, sqrt, tan

from swingcheck.model import (
    Edge,
    LeafLayout,
    Scene,
    Stations,
    inactive_scene,
    lower_scene,
    station_value,
)
from swingcheck.scenefile.bores import broken_bores
from swingcheck.scenefile.broken import SLACK, Broken
from swingcheck.scenefile.complete import clear_width
from swingcheck.scenefile.fitted_limits import broken_fitted, broken_surroundings
from swingcheck.scenefile.hung_limits import broken_hanging
from swingcheck.units import angle_text, length_text


def broken_limits(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that a whole scene breaks."""
    yield from _opening(scene)
    yield from _slab(scene)
    yield from broken_bores(scene)
    yield from broken_fitted(scene)
    yield from broken_surroundings(scene)
    yield from _swing_and_shop(scene)
    if scene.inactive is not None:
        yield from _told_of("inactive", _slab(inactive_scene(scene)[0]))
    if scene.lower is not None:
        yield from _told_of("lower", _slab(lower_scene(scene)))


def _slab(scene: Scene) -> Iterator[Broken]:
    """Yield every limit that a slab breaks, and what it hangs on."""
    yield from _slab_in_opening(scene)
    yield from _slab_edges(scene)
    if scene.pivot is None:
        yield from _hinge_sizes(scene)
        yield from _leaves(scene, "slab", scene.hinge.slab)
        yield from _leaves(scene, "jamb", scene.hinge.jamb)
    yield from broken_hanging(scene)


def _told_of(table: str, broken: Iterator[Broken]) -> Iterator[Broken]:
    """Yield another slab's broken limits under the keys of its own table."""

    def key(own: str) -> str:
        is_own = own.startswith(("slab.", "hinge.", "pivot."))
        return f"{table}.{own}" if is_own else own

    for each in broken:
        yield replace(
            each,
            key=key(each.key),
            others=tuple(key(other) for other in each.others),
            follows=key(each.follows) if each.follows else "",
        )


def _opening(scene: Scene) -> Iterator[Broken]:
    opening, unit = scene.opening, scene.unit
    if len(opening.width) > 1 and any(opening.strike_leg.plumb):
        yield Broken(
            key="opening.strike_leg.plumb",
            value="out of plumb",
            expected="0, or left out: the list of widths already says where the strike leg stands",
            others=("opening.width",),
        )
    deepest = {
        "hinge": max(opening.rabbet.hinge),
        "strike": max(opening.rabbet.strike),
        "head": max(opening.rabbet.head),
    }
    for side, rabbet in deepest.items():
        if rabbet >= opening.depth - SLACK:
            yield Broken(
                key=f"opening.rabbet.{side}",
                value=length_text(rabbet, unit),
                expected=f"under the depth of the jamb, {length_text(opening.depth, unit)}",
                others=("opening.depth",),
            )
    narrowest = min(clear_width(opening, fraction) for fraction in _fractions(scene))
    if narrowest <= 0:
        yield Broken(
            key="opening.hinge_leg.plumb",
            value="out of plumb",
            expected="less: the legs meet",
            others=("opening.width",),
        )
    elif scene.stop is not None and scene.stop.projection >= narrowest / 2 - SLACK:
        yield Broken(
            key="stop.projection",
            value=length_text(scene.stop.projection, unit),
            expected=f"under half the opening's width, {length_text(narrowest / 2, unit)}",
            others=("opening.width",),
        )
    casing = None if opening.steel else scene.casing
    if casing is not None and casing.reveal >= opening.thickness - SLACK:
        yield Broken(
            key="casing.reveal",
            value=length_text(casing.reveal, unit),
            expected=f"under the thickness of the jamb, {length_text(opening.thickness, unit)}",
            others=("opening.thickness",),
        )


def _fractions(scene: Scene) -> list[float]:
    """Return where, from the head (0) to the floor (1), a width was measured."""
    opening = scene.opening
    measured = (
        opening.width,
        opening.hinge_leg.plumb,
        opening.strike_leg.plumb,
        scene.slab.width,
    )
    found = {k / (len(each) - 1) for each in measured if len(each) > 1 for k in range(len(each))}
    return sorted(found | {0.0, 1.0})


def _slab_in_opening(scene: Scene) -> Iterator[Broken]:
    opening, slab, unit = scene.opening, scene.slab, scene.unit
    worst, place = 0.0, 0.0
    for fraction in _fractions(scene):
        down = slab.head_margin + fraction * slab.height[0]
        there = min(down / opening.height[0], 1.0)
        over = station_value(slab.width, fraction) - clear_width(opening, there)
        if over > worst:
            worst, place = over, fraction
    if worst > SLACK:
        station = round(place * (len(slab.width) - 1))
        width = station_value(slab.width, place)
        room = length_text(width - worst, unit)
        yield Broken(
            key=f"slab.width[{station}]",
            value=length_text(width, unit),
            expected=f"no wider than the opening there, {room}",
            others=("opening.width",),
        )
    ends = [] if opening.arch else zip(slab.height, opening.height, strict=True)
    for side, (height, room_up) in enumerate(ends):
        if height > room_up + SLACK:
            yield Broken(
                key=f"slab.height[{side}]",
                value=length_text(height, unit),
                expected=f"no higher than the opening, {length_text(room_up, unit)}",
                others=("opening.height",),
            )
    if slab.head_margin < -SLACK:
        yield Broken(
            key="hinge.jamb.tops",
            value="",
            expected="lower than hinge.slab.tops: the head margin between them comes to"
            f" {length_text(slab.head_margin, unit)}",
            others=("hinge.slab.tops",),
        )


def _slab_edges(scene: Scene) -> Iterator[Broken]:
    slab, unit = scene.slab, scene.unit
    half = slab.thickness / 2
    edges = {"slab.hinge_edge": slab.hinge_edge, "slab.strike_edge": slab.strike_edge}
    is_round = False
    for path, edge in edges.items():
        if edge.is_round and edge.radius < half - SLACK:
            is_round = True
            yield Broken(
                key=f"{path}.radius",
                value=length_text(edge.radius, unit),
                expected=f"at least half the slab's thickness, {length_text(half, unit)}",
                others=("slab.thickness",),
                hint='half the thickness is "bullnose"',
            )
    if is_round:
        return
    off = sum(_taken_off(edge, slab.thickness) for edge in edges.values())
    if off >= min(slab.width) - SLACK:
        yield Broken(
            key="slab.width",
            value=length_text(min(slab.width), unit),
            expected=f"above what its edges take off the narrow face, {length_text(off, unit)}",
            others=("slab.thickness", "slab.hinge_edge", "slab.strike_edge"),
        )


def _taken_off(edge: Edge, thickness: float) -> float:
    """Return how much narrower an edge makes the narrowest face than the slab's width."""
    if edge.is_round:
        return edge.radius - sqrt(max(edge.radius**2 - (thickness / 2) ** 2, 0.0))
    return max(thickness * tan(edge.bevel), 0.0)


def _hinge_sizes(scene: Scene) -> Iterator[Broken]:
    hinge, unit = scene.hinge, scene.unit
    open_width = length_text(hinge.open_width, unit)
    if hinge.open_width <= hinge.barrel + SLACK:
        yield Broken(
            key="hinge.open_width",
            value=open_width,
            expected="above the barrel's diameter, " + length_text(hinge.barrel, unit),
            others=("hinge.barrel",),
        )
    if hinge.barrel < 2 * hinge.leaf_thickness - SLACK:
        yield Broken(
            key="hinge.barrel",
            value=length_text(hinge.barrel, unit),
            expected="at least two leaves thick, " + length_text(2 * hinge.leaf_thickness, unit),
            others=("hinge.leaf_thickness",),
        )
    least = min(hinge.leaf_length / 2, hinge.jamb_reach, hinge.slab_reach)
    if hinge.corner_radius > least + SLACK:
        yield Broken(
            key="hinge.corner_radius",
            value=length_text(hinge.corner_radius, unit),
            expected="at most half the leaf's length and the width of one leaf, "
            + length_text(least, unit),
            others=("hinge.leaf_length", "hinge.open_width"),
        )


def _leaves(scene: Scene, side: str, layout: LeafLayout) -> Iterator[Broken]:
    unit, length = scene.unit, scene.hinge.leaf_length
    tops_key = f"hinge.{side}.tops"
    is_slab = side == "slab"
    room = scene.slab.height[0] if is_slab else scene.opening.height[0]
    room_key = "slab.height" if is_slab else "opening.height"
    other_tops = f"hinge.{'jamb' if is_slab else 'slab'}.tops"
    yield from _order(scene, tops_key, layout.tops, other_tops)
    if layout.tops[0] < -SLACK:
        yield Broken(
            key=f"{tops_key}[0]",
            value=length_text(layout.tops[0], unit),
            expected="0 or more, so that the leaf begins below the slab's top",
            others=("slab.head_margin",),
        )
    if layout.tops[-1] + length > room + SLACK:
        yield Broken(
            key=f"{tops_key}[{len(layout.tops) - 1}]",
            value=length_text(layout.tops[-1], unit),
            expected=f"at most {length_text(room - length, unit)}, so that the leaf ends"
            f" above the {'bottom of the slab' if is_slab else 'floor'}",
            others=(room_key, "hinge.leaf_length"),
            follows=other_tops,
        )
    yield from _setbacks(scene, side, layout)
    yield from _depths(scene, side, layout)


def _order(scene: Scene, key: str, tops: Stations, follows: str) -> Iterator[Broken]:
    """Yield the leaves that reach into the one above them, or stand above it."""
    length, unit = scene.hinge.leaf_length, scene.unit
    for place, (above, below) in enumerate(pairwise(tops), start=1):
        if below < above + length - SLACK:
            yield Broken(
                key=f"{key}[{place}]",
                value=length_text(below, unit),
                expected=f"at least {length_text(above + length, unit)}: top hinge first,"
                " and clear of the leaf above",
                others=("hinge.leaf_length",),
                follows=follows,
            )


def _setbacks(scene: Scene, side: str, layout: LeafLayout) -> Iterator[Broken]:
    """Yield the setbacks that leave no wood beside the leaf's buried edge to let it into."""
    for place, setback in enumerate(layout.setbacks):
        if side == "slab":
            room = scene.slab.thickness / cos(scene.slab.hinge_edge.bevel)
            where, key = "the thickness of the slab", "slab.thickness"
        else:
            middle = layout.tops[place] + scene.hinge.leaf_length / 2
            room = station_value(scene.opening.rabbet.hinge, middle / scene.opening.height[0])
            where, key = "the rabbet", "opening.rabbet"
        if setback >= room - SLACK:
            yield Broken(
                key=f"hinge.{side}.setback[{place}]",
                value=length_text(setback, scene.unit),
                expected=f"under {where}, {length_text(room, scene.unit)}",
                others=(key,),
                hint="setback runs from the stop side",
            )


def _depths(scene: Scene, side: str, layout: LeafLayout) -> Iterator[Broken]:
    """Yield the mortises that go through the wood."""
    if side == "slab":
        room, where, key = min(scene.slab.width) / 2, "half the slab's width", "slab.width"
    else:
        room, where, key = scene.opening.thickness, "the jamb's thickness", "opening.thickness"
    for place, depth in enumerate(layout.depths):
        if depth >= room - SLACK:
            yield Broken(
                key=f"hinge.{side}.depth[{place}]",
                value=length_text(depth, scene.unit),
                expected=f"under {where}, {length_text(room, scene.unit)}",
                others=(key,),
            )


def _swing_and_shop(scene: Scene) -> Iterator[Broken]:
    swing, shop, unit = scene.swing, scene.shop, scene.unit
    for name, angle in (("start", swing.start), ("wanted", swing.wanted)):
        if angle > swing.limit + radians(1e-9):
            yield Broken(
                key=f"swing.{name}",
                value=angle_text(angle),
                expected=f"at most the limit, {angle_text(swing.limit)}",
                others=("swing.limit",),
            )
    reach = hypot(max(scene.slab.width), scene.slab.thickness)
    if swing.seat >= reach:
        yield Broken(
            key="swing.seat",
            value=length_text(swing.seat, unit),
            expected=f"under the slab's width, {length_text(reach, unit)}",
            others=("slab.width",),
        )
    if shop.bit is not None and shop.bushing is not None and shop.bushing <= shop.bit + SLACK:
        yield Broken(
            key="shop.bushing",
            value=length_text(shop.bushing, unit),
            expected=f"wider than the bit, {length_text(shop.bit, unit)}",
            others=("shop.bit",),
        )
