"""Further slabs of one opening: ``[inactive]``, of a pair, and ``[lower]``, of a Dutch door."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from swingcheck.model import (
    HingeSet,
    Inactive,
    Lower,
    MeetingRebate,
    Opening,
    PivotSet,
    Scene,
    Shelf,
    Slab,
    Stop,
    inactive_scene,
    lower_scene,
    seen_from_strike,
)
from swingcheck.scenefile.broken import Broken, Rule, beyond, left_out
from swingcheck.scenefile.filling import Filling, Taken
from swingcheck.scenefile.spec import NONE, Table, from_0, over_0
from swingcheck.scenefile.tables import edge, hinge, pivot, slab
from swingcheck.scenefile.tables.fitted import LIP_WIDTH_IN
from swingcheck.scenefile.tables.floor import under_slab
from swingcheck.units import length_text

_SHELF_SHORT_IN = 1 / 4  # of the stops, at both ends
_REBATE_ROOM_IN = 1 / 16  # behind the active slab's lip
_ALIKE = "as the other slab's"
_SIZES = ("width", "height")
_PLAIN = ("thickness", "hinge_edge", "strike_edge", "material", "construction")


def _slab_table(*names: str) -> Table:
    return Table(keys={name: slab.TABLE.keys[name] for name in names})


INACTIVE = Table(
    keys={
        "slab": _slab_table(*_SIZES, "head_margin", *_PLAIN),
        "hinge": hinge.TABLE,
        "pivot": pivot.TABLE,
        "rebate": Table(keys={"width": over_0(6.0), "depth": over_0(12.0)}, words=NONE),
    },
    words=NONE,
)
LOWER = Table(
    keys={
        "slab": _slab_table(*_SIZES, *_PLAIN),
        "hinge": hinge.TABLE,
        "pivot": pivot.TABLE,
        "gap": from_0(12.0, usual=slab.HEAD_MARGIN_IN, why="usual margin"),
        "shelf": Table(
            keys={
                "thickness": over_0(6.0, usual=3 / 4),
                "pull": from_0(24.0, usual=1.0),
                "push": from_0(24.0, usual=1.0),
                "ends": from_0(24.0),
            },
            words=NONE,
            why="usual shelf, between the stops",  # no source
        ),
    },
    words=NONE,
)


def read_inactive(
    filling: Filling, opening: Opening, stop: Stop | None, active: Slab, like: HingeSet
) -> Inactive | None:
    """Return the inactive slab of a pair, or None; what is left out is as the active slab's."""
    path = "inactive"
    if not filling.has_table(path):
        return None
    seen, _ = seen_from_strike(opening)
    width = min(seen.width) - 2 * slab.HINGE_MARGIN_IN - slab.MEETING_GAP_IN - max(active.width)
    why = (
        f"what the active slab leaves, less {filling.length(slab.HINGE_MARGIN_IN)} at the hinges"
        f" and {filling.length(slab.MEETING_GAP_IN)} between the slabs"
    )
    own = replace(
        _own_slab(filling, f"{path}.slab", active),
        width=filling.numbers(f"{path}.slab.width", (width,), why),
        height=filling.ends(f"{path}.slab.height", active.height[::-1], _ALIKE),
        head_margin=filling.number(f"{path}.slab.head_margin", active.head_margin, _ALIKE),
    )
    hinges, pins = _hung(filling, seen, stop, own, like, path)
    return Inactive(slab=own, hinge=hinges, pivot=pins, rebate=_rebate(filling, active))


def read_lower(
    filling: Filling, opening: Opening, stop: Stop | None, upper: Slab, like: HingeSet
) -> Lower | None:
    """Return the lower slab of a Dutch door, or None; what is left out is as the upper slab's."""
    path = "lower"
    if not filling.has_table(path):
        return None
    under, gap = under_slab(filling, opening), filling.number(f"{path}.gap")
    ends = _SHELF_SHORT_IN + (stop.projection if stop else 0.0)
    shelf = filling.made(f"{path}.shelf", Shelf, {"ends": (ends, "")})
    above = upper.head_margin + upper.height[0] + gap + (shelf.thickness if shelf else 0.0)
    why = f"what the upper slab leaves, {filling.length(under)} above the finished floor"
    height = opening.height[0] - above - under
    own = replace(
        _own_slab(filling, f"{path}.slab", upper),
        width=filling.numbers(f"{path}.slab.width", (upper.width[-1],), "as the upper slab's"),
        height=filling.ends(f"{path}.slab.height", (height,), why),
        head_margin=above,
    )
    hinges, pins = _hung(filling, opening, stop, own, like, path)
    return Lower(slab=own, hinge=hinges, gap=gap, pivot=pins, shelf=shelf)


def _hung(
    filling: Filling, opening: Opening, stop: Stop | None, own: Slab, like: HingeSet, path: str
) -> tuple[HingeSet, PivotSet | None]:
    pins = pivot.read(filling, opening, stop, own, path=f"{path}.pivot")
    if pins is None:
        words = "the other slab's, at the usual heights"
        filling = filling.quietly(f"{path}.hinge", words)
    alike = like if like.count else None
    return hinge.read(filling, opening, own, path=f"{path}.hinge", like=alike), pins


def _own_slab(filling: Filling, path: str, like: Slab) -> Slab:
    """Return a plain slab that is like another where nothing is said of it."""
    filling = filling.quietly(path, "the other slab's thickness, edges and material")
    thickness = filling.number(f"{path}.thickness", like.thickness, _ALIKE)
    return Slab(
        width=like.width,
        height=like.height,
        thickness=thickness,
        hinge_edge=edge.read(filling, f"{path}.hinge_edge", thickness, like.hinge_edge),
        strike_edge=edge.read(filling, f"{path}.strike_edge", thickness, like.strike_edge),
        head_margin=like.head_margin,
        material=filling.words(f"{path}.material", like.material, _ALIKE),
        construction=filling.words(f"{path}.construction", like.construction, _ALIKE),
        grain=like.grain,
    )


def _rebate(filling: Filling, active: Slab) -> MeetingRebate | None:
    """Return the rebate along the inactive slab's strike edge, or None."""
    lip, why = active.lip, "half the thickness"
    width, depth = LIP_WIDTH_IN, active.thickness / 2
    if lip is not None:
        why = "the active slab's lip, and room about it"
        width = lip.strike + slab.MEETING_GAP_IN
        depth = active.thickness - lip.depth + _REBATE_ROOM_IN
    usual: Taken = {"width": (width, why), "depth": (depth, why)}
    return filling.made("inactive.rebate", MeetingRebate, usual)


def limits_of_inactive(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of a pair, and of its inactive slab."""
    own, opening, unit = scene.inactive, scene.opening, scene.unit
    if own is None:
        return
    room, widest = max(opening.width) - max(scene.slab.width), max(own.slab.width)
    words = "no wider than the active slab leaves, {}"
    held: Rule = ("<=", room, words, "opening.width", "slab.width")
    yield from beyond(scene, "inactive.slab.width", *held, value=widest)
    if scene.lower is not None:
        why = "a Dutch door is no pair (it has a [lower] slab)"
        yield left_out("inactive", why, value="a table")
    if opening.arch:
        yield Broken(
            key="opening.arch",
            value=length_text(opening.arch, unit),
            expected="0: a pair under an arched head cannot be built",
        )
    uneven = len(set(opening.height)) > 1 and len(opening.hinge_leg.plumb) > 1
    if uneven and len(opening.width) > 1:
        yield Broken(
            key="opening.hinge_leg.plumb",
            value="a list",
            expected="one value: on a pair under an uneven head, the widths say the rest",
            others=("opening.width", "opening.height"),
        )
    held = ("<", own.slab.thickness, "under the inactive slab's thickness, {}", "slab.thickness")
    yield from beyond(scene, "inactive.rebate.depth", *held)
    yield from _of_its_own("inactive", inactive_scene(scene)[0])


def limits_of_lower(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of a Dutch door, and of its lower slab."""
    own = scene.lower
    if own is None:
        return
    room, highest = scene.opening.height[0] - own.slab.head_margin, max(own.slab.height)
    words = "no more than the upper slab leaves, {}"
    held: Rule = ("<=", max(room, 0.0), words, "slab.height", "opening.height")
    yield from beyond(scene, "lower.slab.height", *held, value=highest)
    held = ("<", min(own.slab.width) / 2, "under half the slab's width, {}", "slab.width")
    yield from beyond(scene, "lower.shelf.ends", *held)
    yield from _of_its_own("lower", lower_scene(scene))


def _of_its_own(table: str, scene: Scene) -> Iterator[Broken]:
    """Yield another slab's broken limits under the keys of its own table."""

    def key(own: str) -> str:
        is_own = own.startswith(("slab.", "hinge.", "pivot."))
        return f"{table}.{own}" if is_own else own

    for limits in (slab.limits_in_opening, hinge.limits, pivot.limits):
        for each in limits(scene):
            yield replace(
                each,
                key=key(each.key),
                others=tuple(key(other) for other in each.others),
                follows=key(each.follows),
            )
