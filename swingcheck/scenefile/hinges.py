"""The hinge set of a slab: sizes by the slab, and where each leaf is let in."""

from __future__ import annotations

from swingcheck.model import HingeSet, LeafLayout, Offset, Opening, Slab, Stations, top_drop
from swingcheck.model.hinge_sizes import hinge_count, usual_leaf_length
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.keys import MOST_HINGES

_LISTS = tuple(
    f"{side}.{name}" for name in ("tops", "setback", "depth") for side in ("jamb", "slab")
)
_ALIKE = "as the other slab's"


def completed_hinges(
    filling: Filling,
    opening: Opening,
    slab: Slab,
    *,
    path: str = "hinge",
    like: HingeSet | None = None,
) -> HingeSet:
    """Return the hinges, with what was left out filled up and noted in ``filling``.

    Parameters
    ----------
    filling : Filling
        What the scene says.
    opening, slab : Opening, Slab
        What they hang, and where.
    path : str
        The table that says it.
    like : HingeSet, optional
        Another slab's hinges, whose sizes these take where nothing is said.
    """
    count = _count(filling, slab.height[0], path)
    sizes = _sizes(filling, slab, path, like)
    margin = top_drop(opening, slab)
    tops = _tops(filling, slab, margin, sizes["leaf_length"], count, path)
    thickness = sizes["leaf_thickness"]
    usual_sides = {"jamb": usual.JAMB_SETBACK, "slab": usual.SLAB_SETBACK}
    widths = [_leaf_width(filling, path, side) for side in usual_sides]
    jamb, slab_side = (
        _layout(filling, f"{path}.{side}", own, setback, thickness, width)
        for (side, setback), own, width in zip(usual_sides.items(), tops, widths, strict=True)
    )
    return HingeSet(
        **sizes,
        screw_proud=filling.number(f"{path}.screw_proud", 0.0, "screw heads driven flush"),
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
        usual_leaf_length(slab.thickness, max(slab.width)),
        f"usual on a slab {filling.length(slab.thickness)} thick"
        f" and {filling.length(max(slab.width))} wide",
    )
    by_length = f"usual for a leaf {filling.length(length)} long"
    thickness = number("leaf_thickness", usual.leaf_thickness(length), by_length)
    widths = [_leaf_width(filling, path, side) for side in ("jamb", "slab")]
    given = [width for width in widths if width is not None]
    if len(given) == 2:
        open_width = filling.number(f"{path}.open_width", sum(given), "both leaves laid flat")
    else:
        open_width = number("open_width", length, "as wide open as the leaf is long")
    narrowest = min([open_width / 2, *given])
    return {
        "leaf_length": length,
        "leaf_thickness": thickness,
        "open_width": open_width,
        "closed_gap": number("closed_gap", usual.CLOSED_GAP, "usual between leaves"),
        "barrel": number("barrel", usual.barrel(thickness), "two leaves round the usual pin"),
        "corner_radius": number("corner_radius", usual.corner_radius(length, narrowest), by_length),
    }


def _leaf_width(filling: Filling, path: str, side: str) -> float | None:
    """Return one side's own leaf width, or None where it is half the open width."""
    own = filling.said(f"{path}.leaf_width.{side}")
    return filling.said(f"{path}.leaf_width") if own is None else own


def _offset(filling: Filling, path: str, slab: Slab) -> Offset:
    """Return how far the knuckles are cranked off flat leaves.

    Nothing where nothing is said; beside the lip of a slab that laps the hinge leg.
    """
    if slab.lip is not None and slab.lip.hinge > 0:
        beside = filling.number(f"{path}.offset.across", slab.lip.hinge, "beside the slab's lip")
        return Offset(across=beside, out=filling.said(f"{path}.offset.out") or 0.0)
    if not filling.has_table(f"{path}.offset"):
        return Offset()
    flat = {"across": 0.0, "out": 0.0}
    return Offset(**filling.each_of(f"{path}.offset", flat, "not cranked that way"))


def _count(filling: Filling, height: float, path: str) -> int:
    """Return how many hinges there are, and note every list that has another number."""
    measured = filling.measured
    lists = {
        key: len(values)
        for key in (f"{path}.{name}" for name in _LISTS)
        if (values := measured.numbers.get(key)) is not None
        and (len(values) > 1 or key.endswith("tops"))
    }
    given = measured.numbers.get(f"{path}.count")
    if given:
        count, by = int(given[0]), f"{path}.count = {given[0]:g}"
    elif lists:
        key, count = next(iter(lists.items()))
        by = f"as {key} has"
    else:
        most = min(hinge_count(height), MOST_HINGES)
        why = "two up to 60 in of height and one more for each 30 in or part of it"
        return int(filling.number(f"{path}.count", most, why))
    for key, length in lists.items():
        if length != count:
            expected = f"{count} values, one a hinge ({by}), not {length}"
            measured.must_be(key, measured.typed.get(key, ""), expected)
            del measured.numbers[key]
    return count


def _tops(
    filling: Filling, slab: Slab, margin: float, length: float, count: int, path: str
) -> tuple[Stations, Stations]:
    """Return the leaves' tops on the jamb and on the slab.

    ``margin`` is how far the slab's top hangs below the head at the hinge side.
    """
    jamb_given = filling.measured.numbers.get(f"{path}.jamb.tops")
    if jamb_given is not None:
        usual_tops = tuple(top - margin for top in jamb_given)
        why = f"the tops on the jamb less the head margin of {filling.length(margin)}"
    else:
        usual_tops = usual.hinge_tops(slab.height[0], length, count)
        why = "7 in down to the first, 11 in up to the last, the rest evenly between"
    slab_tops = filling.numbers(f"{path}.slab.tops", usual_tops, why, spread=count)
    from_slab = tuple(top + margin for top in slab_tops)
    why = f"the tops on the slab and the head margin of {filling.length(margin)}"
    return filling.numbers(f"{path}.jamb.tops", from_slab, why, spread=count), slab_tops


def _layout(
    filling: Filling,
    path: str,
    tops: Stations,
    setback: float,
    leaf_thickness: float,
    width: float | None,
) -> LeafLayout:
    count = len(tops)

    def each(name: str, value: float, why: str) -> Stations:
        values = filling.numbers(f"{path}.{name}", (value,), why, spread=count)
        return values if len(values) == count else values[:1] * count

    return LeafLayout(
        tops=tops,
        setbacks=each("setback", setback, "usual setback"),
        depths=each("depth", leaf_thickness, "leaf flush with the wood"),
        width=width,
    )
