"""What comes after the fitting: ``[season]``, the air across the year, and ``[finish]``, coats."""

from __future__ import annotations

from typing import Any

from swingcheck.model import Finish
from swingcheck.scenefile.spec import Key, Kind, Table, from_0, over_0

_MONTHLY: dict[str, Any] = {"few": 12, "most": 12, "each": "January to December"}
_COATS = Key(kind=Kind.COUNT, low=0, high=20, usual=Finish().slab, why="a first coat and a second")

SEASON = Table(
    keys={
        "temperatures": Key(kind=Kind.TEMPERATURE, low=-40.0, high=120.0, **_MONTHLY),
        "humidities": Key(kind=Kind.PERCENT, low=1.0, high=99.0, **_MONTHLY),
        "moisture": Key(kind=Kind.PERCENT, low=1.0, high=30.0),
        "month": Key(kind=Kind.COUNT, low=1, high=12),
        "least": from_0(1.0),
    }
)
FINISH = Table(
    keys={
        "slab": _COATS,
        "jamb": _COATS,
        "film": over_0(0.1, usual=Finish().film, why="a coat of waterborne paint, dry"),
    },
    ask="Coats of paint or varnish still to come, on each of the two faces of a margin.",
    sample={"slab": "2", "jamb": "2"},
)
