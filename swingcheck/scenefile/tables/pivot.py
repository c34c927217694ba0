"""``[pivot]``: the pins at the slab's top and bottom that it hangs on in place of hinges."""

from __future__ import annotations

from collections.abc import Iterator

from swingcheck.model import Opening, PivotKind, PivotSet, Scene, Slab, Stop
from swingcheck.scenefile.broken import SLACK_IN, Broken, beyond
from swingcheck.scenefile.filling import Filling
from swingcheck.scenefile.spec import LONGEST, Key, Table, one_of, over_0
from swingcheck.scenefile.tables.opening import STOP_CLEARANCE_IN
from swingcheck.units import length_text

# Centre: the pin 2 3/4 in from the jamb, not from the slab, as a floor spring sets it; from
# memory. Offset: 3/4 in from the slab's edge and 3/4 in proud of its wide face; a locksmiths'
# magazine, read. The margin between: common practice, no source.
_CENTRE_LEG_IN, _OFFSET_IN, _MARGIN_IN = 2.75, 0.75, 1 / 8


def _ends(low: float, high: float) -> Key:
    return Key(low=low, high=high, most=2, each="top, bottom", spread=2)


TABLE = Table(
    keys={
        "kind": one_of(PivotKind),
        "slab": Table(keys={"edge": _ends(-12.0, LONGEST), "face": _ends(-12.0, 12.0)}),
        "jamb": Table(keys={"leg": _ends(-12.0, LONGEST), "out": _ends(-48.0, 12.0)}),
        "pin": over_0(3.0, usual=1 / 2, why="usual pin"),
    }
)


def read(
    filling: Filling, opening: Opening, stop: Stop | None, slab: Slab, *, path: str = "pivot"
) -> PivotSet | None:
    """Return the pivots, noting what is usual, or None where the slab hangs on hinges.

    Without a stop the slab usually hangs in the middle of the jamb, with one
    as far from it as is usual.
    """
    if not filling.has_table(path):
        return None
    hinges = path.removesuffix("pivot") + "hinge"
    if filling.has_table(hinges):
        filling.fault(hinges, "", "must be left out: the slab hangs on pivots")
    kind, why = PivotKind.OFFSET, "a stop: it swings one way"
    wide = slab.thickness + STOP_CLEARANCE_IN - opening.rabbet.hinge[0]
    wide_why = f"{filling.length(STOP_CLEARANCE_IN)} to the stop"
    if stop is None:
        kind, why = PivotKind.CENTRE, "no stop: it swings both ways"
        wide, wide_why = (slab.thickness - opening.depth) / 2, "the slab in the middle of the jamb"
    kind = PivotKind(filling.words(f"{path}.kind", kind.value, why))
    edge, face, why = _OFFSET_IN, -_OFFSET_IN, "usual offset pivot, from the slab's edge"
    if kind is PivotKind.CENTRE:
        leg = min(filling.values.get(f"{path}.jamb.leg", (_CENTRE_LEG_IN,)))
        edge, face = leg - _MARGIN_IN, slab.thickness / 2
        why = f"centre pivot {filling.length(leg)} from the jamb, less the hinge margin"
    own = filling.all_of(f"{path}.slab", {"edge": (edge, why), "face": (face, why)})
    legs = tuple(dict.fromkeys(each + _MARGIN_IN for each in own["edge"]))
    outs = tuple(dict.fromkeys(wide - each for each in own["face"]))
    to_leg = f"{filling.length(_MARGIN_IN)} to the hinge leg"
    jamb = filling.all_of(f"{path}.jamb", {"leg": (legs, to_leg), "out": (outs, wide_why)})
    return PivotSet(kind=kind, pin=filling.number(f"{path}.pin"), **own, **jamb)


def limits(scene: Scene) -> Iterator[Broken]:
    """Yield what cannot be built of the pivots, of any slab that hangs on some."""
    pivot, slab, unit = scene.pivot, scene.slab, scene.unit
    if pivot is None:
        return
    for end, (edge, face) in enumerate(zip(pivot.edge, pivot.face, strict=True)):
        held = ("<", min(slab.width), "under the slab's width, {}", "slab.width")
        yield from beyond(scene, f"pivot.slab.edge[{end}]", *held, value=edge)
        inside = SLACK_IN < face < slab.thickness - SLACK_IN
        if inside is (pivot.kind is PivotKind.CENTRE):
            continue
        expected = f"within the slab's thickness, {length_text(slab.thickness, unit)}"
        hint = 'a pin beyond a face is kind = "offset"'
        if inside:
            expected = "below 0, proud of the wide face"
            hint = 'a pin within the slab is kind = "centre"'
        yield Broken(
            key=f"pivot.slab.face[{end}]",
            value=length_text(face, unit),
            expected=expected,
            others=() if inside else ("slab.thickness",),
            hint=hint,
        )
