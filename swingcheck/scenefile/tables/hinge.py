"""``[hinge]``: sizes by the slab, where each leaf is let in, cranked and rising knuckles."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos
from typing import Any

from swingcheck.model import (
    NO_HINGES,
    Closer,
    HingeSet,
    LeafLayout,
    Offset,
    Opening,
    Scene,
    Slab,
    Stations,
    station_value,
    top_drop,
)
from swingcheck.model.hinge import (
    hinge_count,
    usual_gauge,
    usual_leaf_length,
    usual_setbacks,
)
from swingcheck.scenefile.broken import Broken, Rule, beyond
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import MOST_HINGES, Key, Kind, Table, either_way, from_0, over_0
from swingcheck.units import length_text

_BARREL_IN, _PIN_IN = 0.44, 0.25
_TOP_OF_FIRST_LEAF_IN, _BOTTOM_OF_LAST_LEAF_IN = 7.0, 11.0
_TALL_ENOUGH_IN = 48.0  # of slab, under which the 7 and the 11 shrink with it
_WITH_CLOSER_IN = 200 / 25.4
"""First leaf's top to the second's where a closer pulls on the top: UK hinge suppliers' charts."""
_ALIKE = "as the other slab's"
_PER_HINGE: dict[str, Any] = {"most": MOST_HINGES, "each": "one a hinge, top hinge first"}


def _leaves(heading: str, tops: str, setback: str) -> Table:
    return Table(
        keys={
            "tops": Key(few=2, **_PER_HINGE, ask=tops),
            "setback": from_0(12.0, **_PER_HINGE, ask=setback),
            "depth": from_0(3.0, **_PER_HINGE, ask="how deep each leaf is let in"),
        },
        ask=heading,
    )


TABLE = Table(
    ask="The hinges, all alike.",
    keys={
        "count": Key(kind=Kind.COUNT, low=2, high=MOST_HINGES, ask=""),
        "leaf_length": over_0(48.0, ask="along the barrel"),
        "open_width": over_0(48.0, ask="across both leaves, laid flat"),
        "leaf_thickness": over_0(1.0, ask="of one leaf"),
        "closed_gap": from_0(
            1.0,
            usual=1 / 16,  # swaged leaves
            why="usual between leaves",
            ask="between the leaves, closed and parallel",
        ),
        "barrel": over_0(6.0, ask="its diameter"),
        "corner_radius": from_0(12.0, ask="of a leaf's corners; 0 is square"),
        "screw_proud": from_0(
            0.5, usual=0.0, why="screw heads driven flush", ask="screw heads above the leaf"
        ),
        "leaf_width": Table(keys={"jamb": over_0(24.0), "slab": over_0(24.0)}, plain=over_0(24.0)),
        "offset": Table(
            keys=dict.fromkeys(("across", "out"), either_way(12.0, usual=0.0)),
            why="not cranked that way",
        ),
        "rise": either_way(6.0),
        "jamb": _leaves(
            "Where the leaves are let into the jamb. One value for all, or one a hinge.",
            "head to the top of each leaf, top hinge first",
            "face of the stop to the leaf's buried edge",
        ),
        "slab": _leaves(
            "Where the leaves are let into the slab.",
            "slab's top to the top of each leaf",
            "stop-side face to the leaf's buried edge",
        ),
    },
)


def read(
    filling: Filling,
    opening: Opening,
    slab: Slab,
    *,
    path: str = "hinge",
    like: HingeSet | None = None,
) -> HingeSet:
    """Return the hinges, noting what is usual; those of a slab on pivots have no place.

    ``like`` are another slab's hinges, whose sizes these take where nothing is said.
    """
    if filling.has_table(path.removesuffix("hinge") + "pivot"):
        return NO_HINGES
    count = _count(filling, slab.height[0], path)
    sizes = _sizes(filling, slab, path, like)
    tops = _tops(filling, slab, top_drop(opening, slab), sizes["leaf_length"], count, path)
    jamb, slab_side = (
        LeafLayout(
            tops=own,
            setbacks=_each(filling, f"{path}.{side}.setback", count, (setback,), "usual setback"),
            depths=_each(
                filling,
                f"{path}.{side}.depth",
                count,
                (sizes["leaf_thickness"],),
                "leaf flush with the wood",
            ),
            width=_leaf_width(filling, path, side),
        )
        for side, own, setback in zip(
            ("jamb", "slab"), tops, usual_setbacks(slab.thickness), strict=True
        )
    )
    return HingeSet(
        **sizes,
        screw_proud=filling.number(f"{path}.screw_proud"),
        jamb=jamb,
        slab=slab_side,
        offset=_offset(filling, path, slab),
        rise=filling.said(f"{path}.rise") or 0.0,
    )


def _sizes(filling: Filling, slab: Slab, path: str, like: HingeSet | None) -> dict[str, float]:
    """Return the hinges' own sizes."""

    def number(name: str, value: float, why: str) -> float:
        if like is not None:
            value, why = getattr(like, name), _ALIKE
        return filling.number(f"{path}.{name}", value, why)

    length = number(
        "leaf_length",
        usual_leaf_length(slab.thickness, max(slab.width))[0],
        f"usual on a slab {filling.length(slab.thickness)} thick"
        f" and {filling.length(max(slab.width))} wide",
    )
    by_length = f"usual for a leaf {filling.length(length)} long"
    gauge, is_heavy = usual_gauge(slab.thickness, length)
    heavy = f"heavy gauge, as on a slab {filling.length(slab.thickness)} thick"
    thickness = number("leaf_thickness", gauge, heavy if is_heavy else by_length)
    widths = [_leaf_width(filling, path, side) for side in ("jamb", "slab")]
    given = [width for width in widths if width is not None]
    if len(given) == 2:
        open_width = filling.number(f"{path}.open_width", sum(given), "both leaves laid flat")
    else:
        open_width = number("open_width", length, "as wide open as the leaf is long")
    barrel = _BARREL_IN if thickness <= 0.1 else _PIN_IN + 2 * thickness
    barrel = number("barrel", barrel, "two leaves round the usual pin")
    # 5/8 in on residential sizes; a leaf too small for that is as round as it can be.
    across = [each - barrel / 2 for each in (open_width / 2, *given)]
    radius = max(min(5 / 8 if length <= 4 else 1 / 4, length / 2, *across), 0.0)
    gap, why = filling.usual_of(f"{path}.closed_gap")
    return {
        "leaf_length": length,
        "leaf_thickness": thickness,
        "open_width": open_width,
        "closed_gap": number("closed_gap", gap, why),
        "barrel": barrel,
        "corner_radius": number("corner_radius", radius, by_length),
    }


def _leaf_width(filling: Filling, path: str, side: str) -> float | None:
    """Return one side's own leaf width, or None where it is half the open width."""
    own = filling.said(f"{path}.leaf_width.{side}")
    return filling.said(f"{path}.leaf_width") if own is None else own


def _offset(filling: Filling, path: str, slab: Slab) -> Offset:
    """Return how far the knuckles are cranked: beside a lip on the hinge leg where none is said."""
    if slab.lip is not None and slab.lip.hinge > 0:
        beside = filling.number(f"{path}.offset.across", slab.lip.hinge, "beside the slab's lip")
        return Offset(across=beside, out=filling.said(f"{path}.offset.out") or 0.0)
    return filling.made(f"{path}.offset", Offset) or Offset()


def _count(filling: Filling, height: float, path: str) -> int:
    """Return how many hinges there are, and note every list that has another number."""
    lists = {
        key: len(values)
        for name in ("tops", "setback", "depth")
        for key in (f"{path}.jamb.{name}", f"{path}.slab.{name}")
        if (values := filling.values.get(key)) is not None
        and (len(values) > 1 or key.endswith("tops"))
    }
    given = filling.values.get(f"{path}.count")
    if given:
        count, by = int(given[0]), f"{path}.count = {given[0]:g}"
    elif lists:
        key, count = next(iter(lists.items()))
        by = f"as {key} has"
    else:
        why = "two up to 60 in of height and one more for each 30 in or part of it"
        return int(filling.number(f"{path}.count", min(hinge_count(height), MOST_HINGES), why))
    for key, length in lists.items():
        if length != count:
            expected = f"{count} values, one a hinge ({by}), not {length}"
            filling.must_be(key, filling.typed.get(key, ""), expected)
            del filling.values[key]
    return count


def _tops(
    filling: Filling, slab: Slab, margin: float, length: float, count: int, path: str
) -> tuple[Stations, Stations]:
    """Return the leaves' tops on jamb and slab; its top hangs ``margin`` under the head."""
    jamb_given = filling.values.get(f"{path}.jamb.tops")
    if jamb_given is not None:
        usual = tuple(top - margin for top in jamb_given)
        why = f"the tops on the jamb less the head margin of {filling.length(margin)}"
    else:
        has_closer = filling.values.get("site.closer", "none") != Closer.NONE.value
        usual = usual_tops(slab.height[0], length, count, has_closer=has_closer)
        why = "7 in down to the first, 11 in up to the last, the rest evenly between"
        if has_closer and count > 2:
            why = "7 in down to the first, 200 mm more to the second for the closer, 11 in up"
            why += " to the last" + ", the rest evenly between" * (count > 3)
    slab_tops = filling.numbers(f"{path}.slab.tops", usual, why, spread=count)
    from_slab = tuple(top + margin for top in slab_tops)
    why = f"the tops on the slab and the head margin of {filling.length(margin)}"
    return filling.numbers(f"{path}.jamb.tops", from_slab, why, spread=count), slab_tops


def usual_tops(height: float, length: float, count: int, *, has_closer: bool = False) -> Stations:
    """Return the tops of the leaves, from the slab's top down.

    7 in down to the top of the first, 11 in up to the bottom of the last, the
    rest evenly between; on a slab under 48 in both shrink with its height. With
    a closer the second stands near the first, which carries the more.

    Examples
    --------
    >>> usual_tops(79.75, 3.5, 3)
    (7.0, 36.125, 65.25)
    """
    scale = min(1.0, height / _TALL_ENOUGH_IN)
    first = _TOP_OF_FIRST_LEAF_IN * scale
    last = height - _BOTTOM_OF_LAST_LEAF_IN * scale - length
    above: Stations = ()
    near = first + max(_WITH_CLOSER_IN * scale, length)
    if has_closer and count > 2 and near + length * (count - 2) <= last:
        first, above, count = near, (first,), count - 1
    return (*above, *(first + (last - first) * k / (count - 1) for k in range(count)))


def _each(
    filling: Filling, key: str, count: int, usual: Stations | None = None, why: str = ""
) -> Stations:
    values = filling.numbers(key, usual, why, spread=count)
    return values if len(values) == count else values[:1] * count


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the hinges, of any slab that hangs on some."""
    if scene.pivot is not None:
        return
    yield from _limits_of_sizes(scene)
    for side in ("slab", "jamb"):
        yield from _leaves_limits(scene, side, getattr(scene.hinge, side))
    yield from _leaf_widths(scene)


def _limits_of_sizes(scene: Scene) -> Iterator[Broken]:
    hinge = scene.hinge
    words = "above the barrel's diameter, {}"
    yield from beyond(scene, "hinge.open_width", ">", "hinge.barrel", words)
    thick, words = 2 * hinge.leaf_thickness, "at least two leaves thick, {}"
    yield from beyond(scene, "hinge.barrel", ">=", thick, words, "hinge.leaf_thickness")
    across = min(hinge.jamb_reach, hinge.slab_reach) - hinge.barrel / 2
    least = max(min(hinge.leaf_length / 2, across), 0.0)
    words = "at most half the leaf's length and what of it is beside the barrel, {}"
    held = ("<=", least, words, "hinge.leaf_length", "hinge.open_width")
    yield from beyond(scene, "hinge.corner_radius", *held)


def _leaves_limits(scene: Scene, side: str, layout: LeafLayout) -> Iterator[Broken]:
    """Yield the tops, setbacks and depths of one side's leaves that cannot be."""
    length, path, last = scene.hinge.leaf_length, f"hinge.{side}", len(layout.tops) - 1
    opening, slab = scene.opening, scene.slab
    room, name, where, other = opening.height[0], "opening", "floor", "hinge.slab.tops"
    through = ("<", opening.thickness, "under the jamb's thickness, {}", "opening.thickness")
    if side == "slab":
        room, name, where, other = slab.height[0], "slab", "bottom of the slab", "hinge.jamb.tops"
        through = ("<", min(slab.width) / 2, "under half the slab's width, {}", "slab.width")
    held: Rule
    for place, above in enumerate(layout.tops[:-1], start=1):
        words = "at least {}: top hinge first, and clear of the leaf above"
        held = (">=", above + length, words, "hinge.leaf_length")
        yield from beyond(scene, f"{path}.tops[{place}]", *held, follows=other)
    words = "0 or more, so that the leaf begins below the slab's top"
    yield from beyond(scene, f"{path}.tops[0]", ">=", 0.0, words, "slab.head_margin")
    words = f"at most {{}}, so that the leaf ends above the {where}"
    held = ("<=", room - length, words, f"{name}.height", "hinge.leaf_length")
    yield from beyond(scene, f"{path}.tops[{last}]", *held, follows=other)
    for place, top in enumerate(layout.tops):
        held = _wood_beside(scene, side, top + length / 2)
        hint = "setback runs from the stop side"
        yield from beyond(scene, f"{path}.setback[{place}]", *held, hint=hint)
    for place in range(last + 1):
        yield from beyond(scene, f"{path}.depth[{place}]", *through)


def _wood_beside(scene: Scene, side: str, down: float) -> tuple[str, float, str, str]:
    """Return what a setback must be under, so far down, for wood beside the leaf's buried edge."""
    opening, slab = scene.opening, scene.slab
    if side == "slab":
        room = slab.thickness / cos(slab.hinge_edge.lean)
        return "<", room, "under the thickness of the slab, {}", "slab.thickness"
    room = station_value(opening.rabbet.hinge, down / opening.height[0])
    return "<", room, "under the rabbet, {}", "opening.rabbet"


def _leaf_widths(scene: Scene) -> Iterator[Broken]:
    hinge = scene.hinge
    for side, reach in (("jamb", hinge.jamb_reach), ("slab", hinge.slab_reach)):
        own, key = getattr(hinge, side).width, f"hinge.leaf_width.{side}"
        if own is None:
            own, key = hinge.offset.out, "hinge.offset.out"
        least = own + hinge.barrel / 2 - reach
        if key.startswith("hinge.leaf_width") or own:
            half = length_text(hinge.barrel / 2, scene.unit)
            words = (
                f"enough to reach past the barrel, {half} from the leaf's buried edge to the pin"
            )
            yield from beyond(scene, key, ">", least, words, "hinge.barrel", value=own)
