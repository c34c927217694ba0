"""The hinge set of a scene: sizes by the slab, and where each leaf is let in."""

from __future__ import annotations

from swingcheck.model import HingeSet, LeafLayout, Opening, Slab, Stations, top_drop
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.keys import MOST_HINGES

_LISTS = tuple(
    f"hinge.{side}.{name}" for name in ("tops", "setback", "depth") for side in ("jamb", "slab")
)


def completed_hinges(filling: Filling, opening: Opening, slab: Slab) -> HingeSet:
    """Return the hinges, with what was left out filled up and noted in ``filling``."""
    count = _count(filling, slab.height[0])
    length = filling.number(
        "hinge.leaf_length",
        usual.leaf_length(slab.thickness, max(slab.width)),
        f"usual on a slab {filling.length(slab.thickness)} thick"
        f" and {filling.length(max(slab.width))} wide",
    )
    by_length = f"usual for a leaf {filling.length(length)} long"
    thickness = filling.number("hinge.leaf_thickness", usual.leaf_thickness(length), by_length)
    open_width = filling.number("hinge.open_width", length, "as wide open as the leaf is long")
    margin = top_drop(opening, slab)
    jamb_tops, slab_tops = _tops(filling, slab, margin, length, count)
    return HingeSet(
        leaf_length=length,
        open_width=open_width,
        leaf_thickness=thickness,
        closed_gap=filling.number("hinge.closed_gap", usual.CLOSED_GAP, "usual between leaves"),
        barrel=filling.number(
            "hinge.barrel", usual.barrel(thickness), "two leaves round the usual pin"
        ),
        corner_radius=filling.number(
            "hinge.corner_radius", usual.corner_radius(length, open_width / 2), by_length
        ),
        screw_proud=filling.number("hinge.screw_proud", 0.0, "screw heads driven flush"),
        jamb=_layout(filling, "hinge.jamb", jamb_tops, usual.JAMB_SETBACK, thickness),
        slab=_layout(filling, "hinge.slab", slab_tops, usual.SLAB_SETBACK, thickness),
    )


def _count(filling: Filling, height: float) -> int:
    """Return how many hinges there are, and note every list that has another number."""
    measured = filling.measured
    lists = {
        key: len(values)
        for key in _LISTS
        if (values := measured.numbers.get(key)) is not None
        and (len(values) > 1 or key.endswith("tops"))
    }
    given = measured.numbers.get("hinge.count")
    if given:
        count, by = int(given[0]), f"hinge.count = {given[0]:g}"
    elif lists:
        key, count = next(iter(lists.items()))
        by = f"as {key} has"
    else:
        most = min(usual.hinge_count(height), MOST_HINGES)
        why = "two up to 60 in of height and one more for each 30 in or part of it"
        return int(filling.number("hinge.count", most, why))
    for key, length in lists.items():
        if length != count:
            expected = f"{count} values, one a hinge ({by}), not {length}"
            measured.must_be(key, measured.typed.get(key, ""), expected)
            del measured.numbers[key]
    return count


def _tops(
    filling: Filling, slab: Slab, margin: float, length: float, count: int
) -> tuple[Stations, Stations]:
    """Return the leaves' tops on the jamb and on the slab.

    ``margin`` is how far the slab's top hangs below the head at the hinge side.
    """
    jamb_given = filling.measured.numbers.get("hinge.jamb.tops")
    if jamb_given is not None:
        usual_tops = tuple(top - margin for top in jamb_given)
        why = f"the tops on the jamb less the head margin of {filling.length(margin)}"
    else:
        usual_tops = usual.hinge_tops(slab.height[0], length, count)
        why = "7 in down to the first, 11 in up to the last, the rest evenly between"
    slab_tops = filling.numbers("hinge.slab.tops", usual_tops, why, spread=count)
    from_slab = tuple(top + margin for top in slab_tops)
    why = f"the tops on the slab and the head margin of {filling.length(margin)}"
    return filling.numbers("hinge.jamb.tops", from_slab, why, spread=count), slab_tops


def _layout(
    filling: Filling, path: str, tops: Stations, setback: float, leaf_thickness: float
) -> LeafLayout:
    count = len(tops)

    def each(name: str, value: float, why: str) -> Stations:
        values = filling.numbers(f"{path}.{name}", (value,), why, spread=count)
        return values if len(values) == count else values[:1] * count

    return LeafLayout(
        tops=tops,
        setbacks=each("setback", setback, "usual setback"),
        depths=each("depth", leaf_thickness, "leaf flush with the wood"),
    )
