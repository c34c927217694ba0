"""Why a lip, a fitted part or what is laid on the floor keeps a slab from swinging."""

from __future__ import annotations

from swingcheck.assembly import FITTED, PartKind
from swingcheck.model import Scene
from swingcheck.report.lengths import Lengths
from swingcheck.report.words import STATIONS, least_place
from swingcheck.swing.found import Found, Touch
from swingcheck.swing.slab_part import LIP


def fitted_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return what stands proud and by how much, for a lip or a fitted part; nothing for others."""
    if touch.feature.startswith(LIP):
        return _lip_cause(result, touch, lengths)
    if touch.by_kind not in FITTED:
        return ""
    words = f"The {touch.by} {_stand_out(result.scene, touch, lengths)}"
    gap = _gap_to(result, touch.against_kind)
    if gap is not None:
        stop = _STOPS[touch.against_kind]
        return f"{words}; the closed slab's own face is {lengths.full(gap)} from the {stop}."
    opened = result.opened
    if touch is not result.opening or opened is None:
        return f"{words}."
    if opened.slab is None:
        return f"{words}; the slab itself would clear it."
    return f"{words}; the slab itself would meet the {opened.slab.against} later."


def laid_reasons(scene: Scene, touch: Touch, lengths: Lengths) -> list[str]:
    """Return how far what is laid on the floor stands up, where that is what is met."""
    if touch.against_kind is PartKind.CARPET and scene.carpet is not None:
        carpet = scene.carpet
        where = f" from {lengths.full(carpet.edge)} out" if carpet.edge > 0 else ""
        return [f"the carpet is {lengths.full(carpet.thickness)} thick{where}"]
    if touch.against_kind is PartKind.THRESHOLD and scene.threshold is not None:
        return [f"the threshold stands {lengths.full(scene.threshold.height)} over the floor"]
    return []


def _stand_out(scene: Scene, touch: Touch, lengths: Lengths) -> str:
    slab, lock = scene.slab, scene.lock
    if touch.by_kind is PartKind.HANDLE and lock is not None and lock.handle is not None:
        return f"stands {lengths.full(lock.handle.projection)} out of the slab's face"
    if touch.by_kind is PartKind.ASTRAGAL and slab.astragal is not None:
        strip = slab.astragal
        return (
            f"is {lengths.full(strip.thickness)} thick and stands {lengths.full(strip.overlap)}"
            " beyond the strike edge"
        )
    proud = _proud(scene, touch.by)
    return f"stands {lengths.full(proud)} proud of the slab's face" if proud else "stands proud"


def _proud(scene: Scene, name: str) -> float:
    """Return how far an applied part stands proud, by its name."""
    slab = scene.slab
    if name.endswith("glass bead") and slab.glass is not None and slab.glass.bead is not None:
        return slab.glass.bead.proud
    own = {applied.name: applied.size[2] for applied in slab.applied}
    return own.get(name, own.get(name.removeprefix("push-side "), 0.0))


_STOPS = {
    PartKind.HINGE_STOP: "hinge stop",
    PartKind.STRIKE_STOP: "strike stop",
    PartKind.HEAD_STOP: "stops",
}


def _gap_to(result: Found, kind: PartKind) -> float | None:
    margins = result.margins
    gaps = {
        PartKind.HINGE_STOP: margins.hinge_stop,
        PartKind.STRIKE_STOP: margins.strike_stop,
        PartKind.HEAD_STOP: margins.hinge_stop,
    }
    gap = gaps.get(kind)
    return None if gap is None else min(gap)


def _lip_cause(result: Found, touch: Touch, lengths: Lengths) -> str:
    """Return where the lip's back would close, against the frame that it laps."""
    at_strike = touch.against_kind is not PartKind.HINGE_LEG
    found = result.margins.lip_strike if at_strike else result.margins.flush
    lip = result.scene.slab.lip
    if found is None or lip is None:
        return ""
    gap, place = least_place(found, STATIONS)
    leg = "strike leg" if at_strike else "hinge leg"
    way = "off" if gap >= 0 else "into"
    return (
        f"Closed, the back of the lip would stand {lengths.full(abs(gap))} {way} the {leg}{place};"
        f" the slab's rebate is {lengths.full(lip.depth)} deep."
    )
