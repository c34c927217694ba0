"""How sure a door is to swing as it will be: cut by hand, painted, in its wettest month."""

from __future__ import annotations

from functools import lru_cache

from swingcheck.assembly import PartKind
from swingcheck.bench.painted import in_its_wettest_month
from swingcheck.chance.risk import Share, share_swinging
from swingcheck.errors import GeometryError, WorkError
from swingcheck.model import Scene
from swingcheck.swing.fit import SURE
from swingcheck.swing.found import Verdict

WORTH_NAMING = 0.5
"""With what fewer doors than this share swing is not named where something does better."""


@lru_cache(maxsize=64)
def share_of(scene: Scene) -> Share | None:
    """Return the share of doors that swing as they will be; ``None`` where none can be built."""
    try:
        return share_swinging(in_its_wettest_month(scene))
    except (GeometryError, WorkError):
        return None


def is_sure(share: Share | None) -> bool:
    """Tell whether a door swings often enough to be advised."""
    return share is not None and share.swinging >= SURE


def met_most(share: Share) -> tuple[PartKind, ...]:
    """Return the kind of part that most of the doors that do not swing meet; none where none."""
    if share.against is None:
        return ()
    return (PartKind.HINGE_STOP,) if share.verdict is Verdict.PINCHES else (share.against,)
