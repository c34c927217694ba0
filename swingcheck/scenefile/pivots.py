"""The pivots that a slab hangs on in place of hinges."""

from __future__ import annotations

from swingcheck.model import Opening, PivotKind, PivotSet, Slab, Stop
from swingcheck.scenefile import usual
from swingcheck.scenefile.filling import Filling

Ends = tuple[float, float]


def completed_pivots(
    filling: Filling, opening: Opening, stop: Stop | None, slab: Slab, *, path: str = "pivot"
) -> PivotSet | None:
    """Return the pivots, or None where the slab hangs on hinges.

    What is left out is filled up and noted in ``filling``: without a stop the
    slab hangs in the middle of the jamb, with one as far from it as is usual.
    """
    if not filling.has_table(path):
        return None
    hinges = path.removesuffix("pivot") + "hinge"
    if filling.has_table(hinges):
        filling.measured.fault(hinges, "", "must be left out: the slab hangs on pivots")
    centred = stop is None
    kind_why = "no stop: it swings both ways" if centred else "a stop: it swings one way"
    kind = PivotKind(filling.words(f"{path}.kind", "centre" if centred else "offset", kind_why))
    edge, face, why = usual.PIVOT_OFFSET, -usual.PIVOT_OFFSET, "usual offset pivot"
    if kind is PivotKind.CENTRE:
        edge, face, why = usual.PIVOT_EDGE, slab.thickness / 2, "usual centre pivot"
    edges = _ends(filling, f"{path}.slab.edge", (edge,), why)
    faces = _ends(filling, f"{path}.slab.face", (face,), why)
    margin = usual.PIVOT_MARGIN
    legs = _ends(
        filling,
        f"{path}.jamb.leg",
        tuple(dict.fromkeys(each + margin for each in edges)),
        f"{filling.length(margin)} to the hinge leg",
    )
    wide, wide_why = _wide_face(filling, opening, stop, slab)
    outs = tuple(dict.fromkeys(wide - each for each in faces))
    return PivotSet(
        kind=kind,
        edge=edges,
        face=faces,
        leg=legs,
        out=_ends(filling, f"{path}.jamb.out", outs, wide_why),
        pin=filling.number(f"{path}.pin", usual.PIVOT_PIN, "usual pin"),
    )


def _wide_face(
    filling: Filling, opening: Opening, stop: Stop | None, slab: Slab
) -> tuple[float, str]:
    """Return how far the closed wide face usually stands beyond the jamb's edge, and why."""
    if stop is None:
        return (slab.thickness - opening.depth) / 2, "the slab in the middle of the jamb"
    clear = usual.STOP_CLEARANCE
    return slab.thickness + clear - opening.rabbet.hinge[0], f"{filling.length(clear)} to the stop"


def _ends(filling: Filling, key: str, usual_values: tuple[float, ...], why: str) -> Ends:
    values = filling.numbers(key, usual_values, why)
    return values[0], values[-1]
